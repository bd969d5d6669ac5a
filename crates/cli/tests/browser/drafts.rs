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

    let safe = ["air-off", "air-bled"].map(|tick| (format!("made_safe={tick}"), "✓"));
    let mut fields: Vec<(&str, &str)> = safe.iter().map(|(f, v)| (f.as_str(), *v)).collect();
    fields.push(("answer=no", "✓"));
    t.send("check-teeth-on-paper", &fields).await;
    assert_eq!(t.errors().await, "");
    assert_eq!(t.browser.js(TYPED).await, kept);

    // Sent, or left by another page, nothing comes back.
    t.open("/jobs/1015").await;
    t.open("/jobs/1016").await;
    assert_eq!(t.browser.js(TYPED).await, json!(["", "", 0, false]));
}
