//! Browser, server, accessibility check.

mod axe;
mod browser;
mod chromedriver;
mod program;

pub use browser::{Browser, DESKTOP, PHONE, TABLET, View};
#[allow(unused_imports, reason = "for the tests of the whole program")]
pub use program::Program;

use std::path::PathBuf;

/// The folder of the workspace.
pub fn workspace() -> PathBuf {
    let crates = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../..");
    crates.canonicalize().expect("the workspace is there")
}
