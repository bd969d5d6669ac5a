//! The demo sheets hold, and say what their worked examples say.

use shop::sheet;

use crate::{demo_files, listed};

#[test]
fn every_demo_sheet_reads_without_a_mistake() {
    let files = demo_files();
    assert!(files.len() > 30, "the demo folder was found");
    let mut all = String::new();
    for (file, text) in files {
        if let Err(mistakes) = sheet::read(&file, &text) {
            all += &listed(&mistakes);
        }
    }
    assert!(all.is_empty(), "{all}");
}
