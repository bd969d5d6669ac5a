//! An air-hydraulic tool from receipt to its proof: the fault is found by doing what is proposed next, the
//! quote is answered option by option, and a joint that was tightened wrong stands only by a name.

use serde_json::Value;

use crate::harness::{DESKTOP, PHONE, Program, View};
use crate::technician::Technician;

/// The ticks that an air tool asks for.
const SAFE: [(&str, &str); 2] = [("made_safe=air-off", "✓"), ("made_safe=air-bled", "✓")];

/// What is wrong with the tool: its follower spring is tired. These looks show it, the others do not.
const SHOWS: [&str; 1] = ["check-follower-spring-length"];

/// Its cause, by id.
const CAUSE: &str = "jaw-follower-weak";

/// As the page names it.
const CAUSE_TEXT: &str = "Jaw follower or its spring tired, broken or missing";

async fn receive(t: &mut Technician, serial: &str) {
    t.open("/receive?model=orrinbeck-ah-21").await;
    let receipt = [
        ("serial", serial),
        ("new_tool=yes", "✓"),
        ("customer", "Corvane Trailer Bodies"),
        ("counter", "64 200"),
        ("complaint", "Slips, and every tenth tail sticks"),
        ("symptoms=jaws-slip", "✓"),
        ("symptoms=good-bad-mixed", "✓"),
        ("kit-1", "1"),
        ("kit-2", "1"),
        ("kit-3", "1"),
        ("kit-5", "1"),
    ];
    t.send("receive", &[&SAFE[..], &receipt].concat()).await;
    t.stage_is("Fault").await;
}

async fn js(t: &Technician, script: &str) -> String {
    let found = t.browser.js(script).await;
    found.as_str().unwrap_or_default().to_owned()
}

async fn with_readings(t: &mut Technician, test: &str, readings: &[&str], gauge: &str) {
    let names: Vec<String> = (0..readings.len())
        .map(|i| format!("reading#{i}"))
        .collect();
    let typed = names.iter().map(String::as_str);
    let mut fields: Vec<(&str, &str)> = typed.zip(readings.iter().copied()).collect();
    fields.push(("gauge", gauge));
    // The set-up is left out, so nobody wrote down where the adjuster stands.
    if test.starts_with("as-left-stroke") {
        fields.push(("note", "Stood at 2 turns; set back there and locked"));
    }
    t.send(&format!("bench-test-{test}"), &fields).await;
    assert_eq!(t.errors().await, "", "at {test}");
}

/// Does what is proposed next, again and again, until the look that shows the fault.
async fn find_fault(t: &mut Technician) {
    let pulls = ["20.4", "20.5", "20.4", "20.3", "20.4"];
    with_readings(t, "as-found-pull-force", &pulls, "lc-50").await;
    let mut followed = Vec::new();
    loop {
        let check = js(t, "document.querySelector('#fault .answer form')?.id ?? ''").await;
        assert!(!check.is_empty(), "no further look after {followed:?}");
        assert!(!followed.contains(&check), "{check} is proposed twice");
        let shows = SHOWS.contains(&check.as_str());
        let asks = format!("!!document.querySelector(\"#{check} [name='made_safe']\")");
        let mut fields = match t.browser.js(&asks).await {
            Value::Bool(true) => SAFE.to_vec(),
            _ => Vec::new(),
        };
        fields.push((if shows { "answer=yes" } else { "answer=no" }, "✓"));
        if shows {
            fields.push(("note", "38.0 mm, and it has no push"));
        }
        t.send(&check, &fields).await;
        assert_eq!(t.errors().await, "", "at {check}");
        followed.push(check);
        if shows {
            break;
        }
        assert!(followed.len() < 12, "{followed:?}");
    }
    assert!(followed.len() >= 3, "found too soon: {followed:?}");
    let first = js(
        t,
        "document.querySelector('#fault .bars .what').textContent",
    )
    .await;
    assert_eq!(first, CAUSE_TEXT, "after {followed:?}");
    t.browser.shot("air-tool-1-fault").await;
    t.send("cause", &[("causes", CAUSE)]).await;
    t.stage_is("Agreed").await;
}

async fn agree(t: &mut Technician) {
    t.send("warranty", &[]).await;
    // An ended job of the demo timed the anvil and the nose housing, which lie on the way.
    let section = js(t, "document.querySelector('#agreed').textContent").await;
    for part in [
        "Anvil, 6.4 mm: 3 min by the sheet, 4.0 min on average in one job here; taken as 3.2 min.",
        "Nose housing: 4 min by the sheet, 12.0 min on average in one job here; taken as 5.6 min.",
    ] {
        assert!(section.contains(part), "{part} in {section}");
    }
    let offer = [
        ("offer-2=yes", "✓"),
        ("option_name-2", "Anvil and jaws too"),
    ];
    let worth = ("discount", "10");
    t.send("estimate", &[&offer[..], &[worth]].concat()).await;
    // A discount has a reason. What was typed stays.
    assert!(t.errors().await.contains("why"), "{}", t.errors().await);
    let stays = js(
        t,
        "document.querySelector(\"#estimate [name='option_name-2']\").value",
    )
    .await;
    assert_eq!(stays, "Anvil and jaws too");
    let reason = [("discount_reason", "forty-six tools in care here")];
    t.send("estimate", &reason).await;
    assert_eq!(t.errors().await, "");
    t.browser.shot("air-tool-2-quote").await;
    let answer = [
        ("yes=yes", "✓"),
        ("yes-2=no", "✓"),
        ("name", "Corvane, maintenance desk"),
        ("way=telephone", "✓"),
        ("at", "00:00"),
    ];
    t.send("answer", &answer).await;
    assert_eq!(t.errors().await, "");
    let said = js(
        t,
        "[...document.querySelectorAll('#agreed .answer')].at(-1).textContent",
    )
    .await;
    for part in ["Anvil and jaws too", "00:00", "to Ansa"] {
        assert!(said.contains(part), "{part} in {said}");
    }
    t.stage_is("Rebuilt").await;
}

/// The form of the step in hand; empty where none is left.
async fn step_in_hand(t: &Technician) -> String {
    js(
        t,
        "document.querySelector('.steps .now form[id$=-form]')?.id ?? ''",
    )
    .await
}

async fn rebuild(t: &mut Technician) {
    // The head case was looked at as well: its thread is left-handed.
    let route = [("down_to", "follower-spring"), ("also=head-case", "✓")];
    t.send("route", &route).await;
    for (part, why) in [
        ("follower-spring", "38.0 mm, limit 38.5"),
        ("follower", "worn with it"),
    ] {
        t.send("part", &[("part", part), ("reason", why)]).await;
        assert_eq!(t.errors().await, "", "at {part}");
    }
    let mut overridden = false;
    for _ in 0..60 {
        let id = step_in_hand(t).await;
        if id.is_empty() {
            break;
        }
        let reading = |value, gauge| vec![("reading", value), ("gauge", gauge)];
        let mut fields = match id.as_str() {
            "step-gauge-anvil-throat-form" => reading("9.50", "p-1"),
            "step-gauge-jaws-crest-flat-form" => reading("0.18", "c-3"),
            "step-gauge-follower-spring-free-length-form" => reading("38.0", "c-3"),
            "step-gauge-follower-spring-force-form" => reading("16.2", "st-1"),
            "step-tighten-head-case-form" => {
                assert!(t.text(".steps .now").await.contains("counter-clockwise"));
                reading("22.4", "tw-100")
            }
            "step-tighten-housing-form" => {
                wrong_torque(t, &id).await;
                overridden = true;
                continue;
            }
            // The other steps ask for a look or a tick.
            _ => Vec::new(),
        };
        let look = format!("!!document.querySelector(\"#{id} [name='passed']\")");
        if t.browser.js(&look).await == Value::Bool(true) {
            fields.push(("passed=yes", "✓"));
        }
        t.send(&id, &fields).await;
        assert_eq!(t.errors().await, "", "at {id}");
    }
    assert!(overridden, "the housing was never tightened");
    t.stage_is("Set up").await;
}

/// 37.5 N·m where 29 to 35 are allowed: no way past it without a name and a reason.
async fn wrong_torque(t: &mut Technician, id: &str) {
    t.send(id, &[("reading", "37.5"), ("gauge", "tw-100")])
        .await;
    assert_eq!(step_in_hand(t).await, id, "a wrong torque is not passed");
    assert!(t.text(".steps .now").await.contains("reject"));
    t.browser.shot("air-tool-3-wrong-torque").await;
    let named = [("override", "Mirel")];
    t.send(id, &named).await;
    assert!(!t.errors().await.is_empty(), "a name without a reason");
    let stays = js(
        t,
        &format!("document.querySelector(\"#{id} [name='override']\").value"),
    )
    .await;
    assert_eq!(stays, "Mirel");
    let why = [("reason", "The flats are rounded; a new housing is ordered")];
    t.send(id, &why).await;
    assert_eq!(t.errors().await, "");
    assert_ne!(step_in_hand(t).await, id);
    let told = js(
        t,
        "document.querySelector('#step-tighten-housing').textContent",
    )
    .await;
    for part in ["Mirel", "The flats are rounded"] {
        assert!(told.contains(part), "{part} in {told}");
    }
}

async fn prove(t: &mut Technician) {
    t.send("skip-set-up", &[("reason", "Full stroke, as on the card")])
        .await;
    t.stage_is("Proved").await;
    prove_but(t, &[], &[]).await;
    let path = js(t, "location.pathname").await;
    assert!(t.pdf(&format!("{path}/quote.pdf")).await > 10_000);
}

/// Every test as left but those `done`, then the sign-off with `fields`.
pub async fn prove_but(t: &mut Technician, done: &[&str], fields: &[(&str, &str)]) {
    let tests: [(&str, &[&str], &str); 7] = [
        ("inlet-pressure", &["6.10"], "pg-16"),
        (
            "pull-force",
            &["20.4", "20.5", "20.4", "20.3", "20.4"],
            "lc-50",
        ),
        ("stroke-dry", &["26.0", "26.0", "26.1"], "d-1"),
        ("stroke-loaded", &["25.6", "25.6", "25.5"], "d-1"),
        ("hold", &["0.3"], "lc-50"),
        ("cycle-time", &["2.1"; 10], "t-1"),
        ("air-use", &["134", "133", "134"], "fm-1"),
    ];
    for (test, readings, gauge) in tests
        .into_iter()
        .filter(|(test, _, _)| !done.contains(test))
    {
        with_readings(t, &format!("as-left-{test}"), readings, gauge).await;
    }
    for test in ["air-leak", "oil-retention", "release"] {
        let id = format!("bench-test-as-left-{test}");
        t.send(&id, &[("passed=yes", "✓")]).await;
    }
    t.send("proof-done", fields).await;
    t.stage_is("Returned").await;
}

async fn fault_to_proof(view: View, serial: &str) {
    let program = Program::demo();
    let mut t = Technician::at(&program, view).await;
    t.open("/").await;
    t.pick_name().await;
    receive(&mut t, serial).await;
    find_fault(&mut t).await;
    agree(&mut t).await;
    rebuild(&mut t).await;
    prove(&mut t).await;
}

#[tokio::test]
async fn fault_quote_and_rebuild_at_the_desk() {
    fault_to_proof(DESKTOP, "AH-1501").await;
}

#[tokio::test]
async fn fault_quote_and_rebuild_on_the_phone() {
    fault_to_proof(PHONE, "AH-1502").await;
}
