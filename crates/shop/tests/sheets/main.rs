//! The reader of sheets, against the demo sheets and against broken ones.

mod broken;
mod demo;
#[path = "../demo_sheets/mod.rs"]
mod demo_sheets;
mod docs;
mod noise;
mod texts;
mod together;

use shop::sheet::{self, Mistake, Sheet};

use demo_sheets::demo_files;

/// The text of one demo sheet.
fn demo(file: &str) -> String {
    let found = demo_files().into_iter().find(|(name, _)| name == file);
    found.expect("a demo sheet").1
}

/// Every demo sheet, read.
fn demo_sheets() -> Vec<(String, Sheet)> {
    demo_files()
        .into_iter()
        .map(|(file, text)| {
            let sheet = sheet::read(&file, &text);
            (file, sheet.expect("a demo sheet without mistakes"))
        })
        .collect()
}

/// Mistakes as lines of text, for messages of failed tests.
fn listed(mistakes: &[Mistake]) -> String {
    mistakes
        .iter()
        .map(|m| {
            format!(
                "{}:{}: {} = {}: {:?}\n",
                m.file, m.line, m.key, m.value, m.problem
            )
        })
        .collect()
}
