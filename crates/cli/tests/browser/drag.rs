//! A photo is dragged from the desk onto a stage.

use serde_json::Value;

use crate::harness::{DESKTOP, Program, workspace};
use crate::technician::Technician;

const FILE: &str = "document.querySelector('#file-fault [name=file]').files[0]?.name ?? ''";

#[tokio::test]
async fn a_photo_dragged_onto_a_stage_waits_for_its_caption_and_the_button() {
    let program = Program::demo();
    let mut t = Technician::at(&program, DESKTOP).await;
    t.open("/jobs/1016").await;
    t.pick_name().await;
    let page = t.place().await;
    let photo = workspace().join("docs/screens/bench-360.png");

    // Beside the stages nothing is taken, and the page stays.
    t.browser.drag(&photo, "header").await;
    assert_eq!(t.place().await, page);
    assert_eq!(t.browser.js(FILE).await, "");

    t.browser.drag(&photo, "#fault").await;
    assert_eq!(t.place().await, page, "the browser did not open the file");
    assert_eq!(t.browser.js(FILE).await, "bench-360.png");
    let lit = t
        .browser
        .js("document.querySelectorAll('.drop-here').length");
    assert_eq!(lit.await, 0);
    let focus = t.browser.js("document.activeElement.id").await;
    assert_eq!(focus, "file-fault-note");
    let shown = t
        .browser
        .js("document.querySelectorAll('#fault figure').length");
    assert_eq!(shown.await, 0, "nothing is sent before the button");

    t.send("file-fault", &[("note", "nose as it came in")])
        .await;
    assert_eq!(t.errors().await, "");
    let caption = t.text("#fault figure figcaption b").await;
    assert_eq!(caption, "nose as it came in");
    // Loading waits until it is looked at.
    let picture = t.browser.find("#fault figure img").await;
    picture.scroll_into_view().await.expect("scrolls");
    let loaded = "document.querySelector('#fault figure img').naturalWidth > 0";
    for _ in 0..100 {
        if t.browser.js(loaded).await == Value::Bool(true) {
            return;
        }
        tokio::time::sleep(std::time::Duration::from_millis(20)).await;
    }
    panic!("the thumbnail does not load");
}
