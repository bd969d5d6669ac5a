//! A crew with a phone in one hand: from the first page to the turns. That it needs no JavaScript is
//! shown over HTTP.

use crate::harness::{DESKTOP, PHONE, Program, View};
use crate::technician::Technician;

async fn set_one(view: View) {
    let program = Program::demo();
    let mut crew = Technician::at(&program, view).await;
    crew.open("/setup").await;
    crew.browser.shot("work-place-1-choose").await;
    crew.send("choose", &[("model", "tulvane-tb-32")]).await;
    // One fastener has one nose set; the code is asked for.
    crew.send("choose", &[("fastener", "marlstead-m8")]).await;
    crew.send("choose", &[("code", "08")]).await;
    // A letter for a figure: said at the box, and what was typed stays.
    crew.send("measure", &[("reading#0", "26.o"), ("reading#1", "26.1")])
        .await;
    assert!(
        crew.errors().await.contains("26.o"),
        "{}",
        crew.errors().await
    );
    crew.send("measure", &[("reading#0", "26.0"), ("reading#2", "25.9")])
        .await;
    assert!(crew.errors().await.contains("Clamp the sheets tight"));
    crew.send("measure", &[("clamped=yes", "✓")]).await;
    assert_eq!(crew.errors().await, "");
    // The dossier's table for this tool: 26.0 mm is 6 3/4 turns.
    assert_eq!(crew.text(".answer .big").await, "6¾ turns");
    crew.browser.shot("work-place-2-setting").await;
    let unfold = "document.querySelectorAll('main details').forEach(d => d.open = true)";
    crew.browser.js(unfold).await;
    crew.browser.assert_fits().await;
    crew.browser.assert_accessible().await;
    crew.browser.shot("work-place-3-unfolded").await;
    // Another day, the same phone.
    crew.open("/setup").await;
    assert_eq!(crew.text("h1").await, "Marlstead M8, code 08");
    crew.send(
        "measure",
        &[
            ("reading#0", "29.2"),
            ("reading#1", "29.1"),
            ("reading#2", "29.2"),
            ("clamped=yes", "✓"),
        ],
    )
    .await;
    assert_eq!(crew.text(".answer .big").await, "Do not set");
    assert_eq!(
        crew.text(".bars .what").await,
        "Code 2 steps too long for the stack"
    );
    crew.browser.shot("work-place-4-refusal").await;
    crew.browser.js(unfold).await;
    crew.browser.assert_fits().await;
    crew.browser.assert_accessible().await;
}

#[tokio::test]
async fn phone() {
    set_one(PHONE).await;
}

#[tokio::test]
async fn phone_dark() {
    set_one(PHONE.dark()).await;
}

#[tokio::test]
async fn desktop() {
    set_one(DESKTOP).await;
}
