//! Programs that were built beside the tests.

use std::path::PathBuf;

/// The file that an example of this crate was built to.
pub fn example(name: &str) -> PathBuf {
    let test = std::env::current_exe().expect("this test's own file");
    let built = test.parent().and_then(|deps| deps.parent());
    let path = built.expect("a build folder").join("examples").join(name);
    assert!(
        path.exists(),
        "{path:?} is built by `cargo build --examples`"
    );
    path
}
