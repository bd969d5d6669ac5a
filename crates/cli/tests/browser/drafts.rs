//! What is typed in one form stays when another one of the page is sent.

use serde_json::{Value, json};

use crate::harness::{PHONE, Program};
use crate::technician::Technician;

/// What stands in two forms that were not sent: a text, an answer, whether anything is ticked, whether the fold is open.
const TYPED: &str = "(() => { const reason = document.querySelector('#not-safe [name=reason]'); \
    const check = document.getElementById('check-lens-on-teeth'); \
    return [reason.value, check.querySelector('[name=answer]:checked')?.value ?? '', \
    check.querySelectorAll('[name=made_safe]:checked').length, reason.closest('details').open]; })()";

#[tokio::test]
async fn what_is_typed_elsewhere_stays_when_a_form_is_sent_and_ticks_are_set_anew() {
    let program = Program::demo();
    let mut t = Technician::at(&program, PHONE).await;
    t.open("/jobs/1016").await;
    t.pick_name().await;
    let typed = "(() => { document.querySelector('#not-safe [name=reason]').value = 'Not finished yet'; \
        const check = document.getElementById('check-lens-on-teeth'); \
        check.querySelector('[name=answer][value=no]').checked = true; \
        for (const tick of check.querySelectorAll('[name=made_safe]')) tick.checked = true; return true; })()";
    assert_eq!(t.browser.js(typed).await, Value::Bool(true));

    // Refused, the page is one of the form that was sent.
    t.send("check-teeth-on-paper", &[("note", "Half the teeth.")])
        .await;
    assert!(t.errors().await.contains("Pick yes, no or not sure"));
    let kept = json!(["Not finished yet", "no", 0, true]);
    assert_eq!(t.browser.js(TYPED).await, kept);
    let note = "document.querySelector('#check-teeth-on-paper [name=note]').value";
    assert_eq!(t.browser.js(note).await, "Half the teeth.");

    // What was refused stays, too, when another form goes first.
    t.send("symptoms", &[("rest=rest", "✓")]).await;
    assert_eq!(t.errors().await, "");
    assert_eq!(t.browser.js(TYPED).await, kept);
    assert_eq!(t.browser.js(note).await, "Half the teeth.");

    let safe = ["air-off", "air-bled"].map(|tick| (format!("made_safe={tick}"), "✓"));
    let mut fields: Vec<(&str, &str)> = safe.iter().map(|(f, v)| (f.as_str(), *v)).collect();
    fields.push(("answer=no", "✓"));
    t.send("check-teeth-on-paper", &fields).await;
    assert_eq!(t.errors().await, "");
    assert_eq!(t.browser.js(TYPED).await, kept);

    // Readings are of the work that stood when they were taken: with other work they are taken again.
    t.open("/jobs/1012").await;
    let typed = "(() => { const box = document.querySelector('#stick-out .readings input'); box.value = '26.2'; \
        return box.value; })()";
    let box_now = "document.querySelector('#stick-out .readings input').value";
    assert_eq!(t.browser.js(typed).await, "26.2");
    let amended = [
        ("complaint", "Sticks now and then."),
        ("reason", "The crew called."),
    ];
    t.send("amend-receipt", &amended).await;
    assert_eq!(t.errors().await, "");
    assert_eq!(t.browser.js(box_now).await, "");

    // Sent, or left by another page, nothing comes back.
    t.open("/jobs/1015").await;
    t.open("/jobs/1016").await;
    assert_eq!(t.browser.js(TYPED).await, json!(["", "", 0, false]));
}
