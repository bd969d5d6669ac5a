//! One tool crosses the bench, from receipt to the two papers, as a technician does it in the
//! browser. After each step the page is looked at by axe, in whatever state it is in.

use serde_json::Value;

use crate::harness::{DESKTOP, PHONE, Program, View};
use crate::technician::Technician;

/// The ticks that a battery tool asks for.
const SAFE: [(&str, &str); 2] = [
    ("made_safe=pack-out", "✓"),
    ("made_safe=trigger-pressed", "✓"),
];

async fn receive(t: &mut Technician, serial: &str) {
    t.open("/receive?model=tulvane-tb-32").await;
    // Nothing typed: every field that matters says so, and the summary leads there.
    t.send("receive", &[("serial", "")]).await;
    assert!(t.errors().await.contains("serial"), "{}", t.errors().await);
    t.send(
        "receive",
        &[
            ("made_safe=pack-out", "✓"),
            ("made_safe=trigger-pressed", "✓"),
            ("serial", serial),
            ("new_tool=yes", "✓"),
            ("customer", "Fennholt Glasshouse Frames"),
            ("counter", "26 400"),
            ("complaint", "Slips on the tail since yesterday"),
            ("symptoms=jaws-slip", "✓"),
            ("kit-1", "1"),
            ("kit-2", "1"),
            ("kit-4", "1"),
            ("pack=sound", "✓"),
        ],
    )
    .await;
    t.stage_is("Fault").await;
    t.browser.shot("whole-job-1-fault").await;
}

async fn find_fault(t: &mut Technician) {
    // A letter in a number: the mistake stands there, and so does what was typed.
    let test = "bench-test-as-found-pull-force";
    let pulls = ["31.2", "31,0", "+0031.4 kN", "31.3", "3l.1"];
    let typed: Vec<(String, &str)> = (0..5).map(|i| (format!("reading#{i}"), pulls[i])).collect();
    let typed: Vec<(&str, &str)> = typed.iter().map(|(n, v)| (n.as_str(), *v)).collect();
    t.send(test, &[typed.as_slice(), &[("gauge", "lc-50")]].concat())
        .await;
    assert!(t.errors().await.contains("3l.1"), "{}", t.errors().await);
    t.send(test, &[("reading#4", "31.1")]).await;
    assert_eq!(t.errors().await, "");
    // A joint as the tool came: nothing picked, no gauge named; then both.
    let joint = "found-joint-marlstead-m8";
    t.send(joint, &[("value-collar-diameter", "13.36")]).await;
    for mistake in ["what the joint looks like", "gauge"] {
        assert!(t.errors().await.contains(mistake), "{}", t.errors().await);
    }
    let seen = [("seen=pull-grooves", "✓"), ("gauge-collar-diameter", "m-1")];
    t.send(joint, &seen).await;
    assert_eq!(t.errors().await, "");
    let results = t
        .browser
        .js("[...document.querySelectorAll('#fault .result')].at(-1).innerText");
    let results = results.await.to_string();
    for part in ["Marlstead M8", "13.360 mm", "reject", "Pull grooves torn"] {
        assert!(results.contains(part), "{part} in {results}");
    }
    // Nobody has to say again what joint and test say: each answers the check that asks the same.
    let fault = t.browser.js("document.querySelector('#fault').textContent");
    let fault = fault.await.to_string();
    for part in [
        "larger than the upper limit? YesRead as found.",
        "below the limit of the model sheet? NoRead as found.",
    ] {
        assert!(fault.contains(part), "{part}");
    }
    let check = t
        .browser
        .js("document.querySelector('#fault .answer form').id")
        .await;
    let check = check.as_str().expect("a check is proposed").to_owned();
    let found = [("answer=yes", "✓"), ("note", "crests flat")];
    // The teeth are looked at with a lens: hands come near, so the ticks come first.
    t.send(&check, &found).await;
    assert!(
        t.errors().await.contains("make the tool safe"),
        "{}",
        t.errors().await
    );
    t.send(&check, &SAFE).await;
    assert_eq!(t.errors().await, "");
    t.send("cause", &[("causes", "collet-teeth-worn")]).await;
    t.stage_is("Agreed").await;
}

async fn agree(t: &mut Technician) {
    t.send("warranty", &[]).await;
    t.send("estimate", &[]).await;
    t.send("answer", &[("yes=yes", "✓"), ("name", "Fenna")])
        .await;
    t.stage_is("Rebuilt").await;
}

async fn rebuild(t: &mut Technician) {
    t.send("route", &[("down_to", "collet")]).await;
    t.browser.shot("whole-job-2-rebuild").await;
    t.send("part", &[("part", "collet"), ("reason", "crests flat")])
        .await;
    for _ in 0..40 {
        let next = t
            .browser
            .js("document.querySelector('.steps .now form[id$=-form]')?.id ?? ''")
            .await;
        let id = next.as_str().unwrap_or_default().to_owned();
        if id.is_empty() {
            break;
        }
        let reading = |value, gauge| vec![("reading", value), ("gauge", gauge)];
        let fields = match id.as_str() {
            "step-gauge-anvil-throat-form" => reading("12.93", "m-1"),
            "step-gauge-nose-housing-bore-form" => reading("22.02", "c-3"),
            "step-gauge-collet-crest-flat-form" => reading("0.62", "c-3"),
            "step-gauge-collet-length-form" => reading("42.00", "c-3"),
            "step-tighten-nose-form" => reading("40.5", "tw-100"),
            // The other steps ask for a look or a tick.
            _ => Vec::new(),
        };
        let look = t
            .browser
            .js(&format!(
                "!!document.querySelector(\"#{id} [name='passed']\")"
            ))
            .await;
        let look = if look == Value::Bool(true) {
            vec![("passed=yes", "✓")]
        } else {
            Vec::new()
        };
        t.send(&id, &[fields, look].concat()).await;
        assert_eq!(t.errors().await, "", "at {id}");
    }
    t.stage_is("Set up").await;
}

async fn set_up(t: &mut Technician) {
    let fit = [
        ("made_safe=pack-out", "✓"),
        ("made_safe=trigger-pressed", "✓"),
        ("fastener", "marlstead-m8"),
        ("code", "08"),
        ("nose_set", "n8"),
    ];
    // What opens the adjuster comes before it is set and locked.
    for (test, readings) in [
        ("stroke-dry", ["24.0", "24.1", "24.0"]),
        ("stroke-loaded", ["23.4", "23.5", "23.4"]),
    ] {
        let fields = [
            ("reading#0", readings[0]),
            ("reading#1", readings[1]),
            ("reading#2", readings[2]),
            ("gauge", "d-1"),
        ];
        t.send(&format!("bench-test-as-left-{test}"), &fields).await;
        assert_eq!(t.errors().await, "", "at {test}");
    }
    // The look-alike is caught by its length.
    t.send(
        "fit",
        &[&fit[..], &[("collet", "38.8"), ("gauge", "c-3")]].concat(),
    )
    .await;
    assert!(t.errors().await.contains("CR8-S"), "{}", t.errors().await);
    t.send("fit", &[("collet", "42.0")]).await;
    // The caliper types: Enter goes to the next box and does not send.
    for (i, raw) in ["29.2", "29.1", "29.3"].into_iter().enumerate() {
        if i == 0 {
            t.browser.click("#stick-out [name='reading']").await;
        }
        for key in raw.chars().chain(['\r']) {
            t.browser.press(key).await;
        }
    }
    t.send("stick-out", &[("gauge", "c-3"), ("clamped=yes", "✓")])
        .await;
    assert!(t.text(".answer.no").await.contains("Do not set"));
    assert!(
        t.text(".answer.no").await.contains("06"),
        "the code that fits is named"
    );
    t.browser.shot("whole-job-3-refused").await;
    t.send(
        "fit",
        &[
            &fit[..2],
            &[
                ("fastener", "marlstead-m8"),
                ("code", "06"),
                ("nose_set", "n8"),
            ],
        ]
        .concat(),
    )
    .await;
    t.send(
        "stick-out",
        &[
            ("reading#0", "26.2"),
            ("reading#1", "26,1"),
            ("reading#2", "26.2"),
            ("clamped=yes", "✓"),
            ("gauge", "c-3"),
        ],
    )
    .await;
    let answer = t.text("#set-up .answer").await;
    for part in ["6½", "clockwise", "shortens", "fully open", "adjuster end"] {
        assert!(answer.contains(part), "{part} in {answer}");
    }
    let joint = |reach: &'static str| {
        [
            ("seen=good", "✓"),
            ("value-collar-diameter", "13.01"),
            ("gauge-collar-diameter", "m-1"),
            ("value-reach", reach),
            ("gauge-reach", "d-1"),
            ("value-gap", "0.03"),
            ("gauge-gap", "f-1"),
        ]
    };
    // A joint that leans is no matter of the stroke: what it may come from stands there.
    let leans = [("seen=off-axis", "✓"), ("note", "leans to the left")];
    t.send("joint", &[&fit[..2], &leans].concat()).await;
    let answer = t.text("#set-up").await;
    for part in [
        "Leave the adjuster alone",
        "What this joint may come from",
        "Look at this next",
    ] {
        assert!(answer.contains(part), "{part} in {answer}");
    }
    t.browser.shot("whole-job-4-leans").await;
    // A key goes into the nose: without the ticks there is no joint.
    let why = ("note", "nose nut loose, tightened");
    let turned = [&joint("1.90")[..], &[("turns", "6¼"), why]].concat();
    t.send("joint", &turned).await;
    assert!(
        t.errors().await.contains("make the tool safe"),
        "{}",
        t.errors().await
    );
    t.send("joint", &fit[..2]).await;
    assert!(
        t.text("#set-up").await.contains("counter-clockwise"),
        "less turns: more stroke"
    );
    t.send("joint", &[&fit[..2], &joint("1.10")].concat()).await;
    for _ in 0..2 {
        t.send("joint", &joint("1.10")).await;
    }
    t.browser.shot("whole-job-4-set-up").await;
    t.send("set-up-done", &[("locked=yes", "✓")]).await;
    assert!(
        t.errors().await.contains("make the tool safe"),
        "{}",
        t.errors().await
    );
    t.send("set-up-done", &SAFE).await;
    t.stage_is("Proved").await;
}

async fn prove(t: &mut Technician) {
    let tests: [(&str, &[&str], &str); 3] = [
        (
            "pull-force",
            &["31.2", "31.0", "31.4", "31.3", "31.1"],
            "lc-50",
        ),
        ("cycle-time", &["2.8"; 10], "t-1"),
        ("no-load-current", &["7.0", "7.1", "7.0"], "a-1"),
    ];
    for (test, readings, gauge) in tests {
        let names: Vec<String> = (0..readings.len())
            .map(|i| format!("reading#{i}"))
            .collect();
        let mut fields: Vec<(&str, &str)> = names
            .iter()
            .map(String::as_str)
            .zip(readings.iter().copied())
            .collect();
        fields.push(("gauge", gauge));
        t.send(&format!("bench-test-as-left-{test}"), &fields).await;
        assert_eq!(t.errors().await, "", "at {test}");
    }
    for test in ["release", "electrical-safety", "run-in"] {
        t.send(
            &format!("bench-test-as-left-{test}"),
            &[("passed=yes", "✓")],
        )
        .await;
    }
    t.browser.shot("whole-job-5-proved").await;
    t.send("proof-done", &[("adjuster=yes", "✓")]).await;
    t.stage_is("Returned").await;
}

async fn hand_back(t: &mut Technician) {
    t.browser.shot("whole-job-6-check").await;
    t.send("return", &[("to", "Fenna"), ("checked=yes", "✓")])
        .await;
    let path = t.browser.js("location.pathname").await;
    let path = path.as_str().expect("a path").to_owned();
    assert!(t.pdf(&format!("{path}/report.pdf")).await > 20_000);
    assert!(t.pdf(&format!("{path}/set-up-card.pdf")).await > 10_000);
    t.browser.shot("whole-job-7-ended").await;
}

async fn whole_job(view: View, serial: &str) {
    let program = Program::demo();
    let mut t = Technician::at(&program, view).await;
    t.open("/").await;
    t.pick_name().await;
    receive(&mut t, serial).await;
    find_fault(&mut t).await;
    agree(&mut t).await;
    rebuild(&mut t).await;
    set_up(&mut t).await;
    prove(&mut t).await;
    hand_back(&mut t).await;
    assert!(t.steps > 30, "{} forms were sent", t.steps);
}

#[tokio::test]
async fn at_the_desk() {
    whole_job(DESKTOP, "7K-0991").await;
}

#[tokio::test]
async fn on_the_phone() {
    whole_job(PHONE, "7K-0992").await;
}
