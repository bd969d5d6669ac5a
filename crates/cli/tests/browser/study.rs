//! A study of people and parts, typed box by box on the phone.

use crate::harness::{PHONE, Program};
use crate::technician::Technician;

const PAGE: &str = "/gauges/c-3";

#[tokio::test]
async fn a_study_is_typed_box_by_box_on_the_phone() {
    let program = Program::demo();
    let mut t = Technician::at(&program, PHONE).await;
    // The largest one still fits.
    t.open(&format!("{PAGE}?parts=10&people=3&trials=3#study-gauge"))
        .await;
    t.pick_name().await;
    t.browser.assert_fits().await;
    t.browser.assert_accessible().await;
    t.browser.shot("study-grid").await;

    t.open(PAGE).await;
    let ask = "document.querySelector('#study-gauge').open = true";
    t.browser.js(ask).await;
    for (name, count) in [("parts", "2"), ("people", "2"), ("trials", "2")] {
        let field = t
            .browser
            .find(&format!("#study-size [name='{name}']"))
            .await;
        field.clear().await.expect("clears");
        field.send_keys(count).await.expect("types");
    }
    t.browser.click("#study-size button").await;
    let boxes = "document.querySelectorAll(\"#study-grid [name^='cell-']\").length";
    t.browser.find("#study-grid").await;
    assert_eq!(t.browser.js(boxes).await, 8);
    let typed = [
        ("date", "2025-01-08"),
        ("what", "collars"),
        ("person-1", "Ansa"),
        ("person-2", "Mirel"),
        ("cell-1-1#0", "10.00"),
        ("cell-1-1#1", "12.00"),
        ("cell-1-2#0", "10,01"),
        ("cell-1-2#1", "12.01"),
        ("cell-2-1#0", "10.02"),
        ("cell-2-1#1", "1Z.00"),
        ("cell-2-2#0", "10.01"),
        ("cell-2-2#1", "12.02"),
    ];
    t.send("study-grid", &typed).await;
    let errors = t.errors().await;
    assert!(errors.starts_with("Part 2, Mirel, trial 1"), "{errors}");
    t.send("study-grid", &[("cell-2-1#1", "12.00")]).await;
    assert_eq!(t.errors().await, "");
    let page = t.text("main").await;
    assert!(page.contains("of all spread: good"), "{page}");
}
