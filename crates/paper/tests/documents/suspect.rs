//! The notice of joints in doubt.

use calc::units::Unit;
use paper::model::{BadFinding, Inspect, JointReading, SetUpFor, SuspectNotice};
use paper::suspect_notice;
use words::Words;

use crate::{pdf, sample};

fn text(s: &str) -> String {
    s.to_owned()
}

/// The demo shop's battery tool: a joint as found torn and fat, a test failed.
fn notice() -> SuspectNotice {
    let read = |what: &str, unit, value, w, limits| JointReading {
        what: text(what),
        reading: sample::reading(sample::bar(what, unit, value, w, limits), "M-1"),
    };
    let report = sample::report();
    SuspectNotice {
        shop: sample::shop(),
        job: report.job,
        customer: report.customer,
        tool: sample::tool(),
        findings: vec![
            BadFinding {
                when: text("23 Nov 2026"),
                what: text("Joint as found: Marlstead M8"),
                seen: text("Pull grooves torn or polished: the collet slips"),
                readings: vec![read(
                    "Collar diameter after swaging",
                    Unit::Millimetre,
                    13.36,
                    0.01,
                    (Some(12.90), Some(13.12)),
                )],
                note: text("The collet let go half-way."),
            },
            BadFinding {
                when: text("23 Nov 2026"),
                what: text("Bench test: Pull force at stall"),
                seen: String::new(),
                readings: vec![read(
                    "Pull force at stall",
                    Unit::Kilonewton,
                    28.9,
                    0.35,
                    (Some(30.4), Some(35.2)),
                )],
                note: String::new(),
            },
        ],
        since: text("bench proof of job 1012, 2 Nov 2026, at 58 900 pulls"),
        pulls: text("2580 by the counter; every pull may have been one"),
        set_for: vec![SetUpFor {
            fastener: text("Marlstead M8"),
            code: text("06"),
            when: text("2 Nov 2026"),
            whence: text("job 1012"),
        }],
        inspect: vec![Inspect {
            fastener: text("Marlstead M8"),
            criteria: vec![
                (
                    text("Collar diameter after swaging"),
                    text("12.90 – 13.12 mm"),
                ),
                (text("Gap under the head"), text("at most 0.10 mm")),
            ],
        }],
        issued_on: text("24 Nov 2026"),
        record: sample::record(),
        issued: report.issued,
    }
}

fn set(name: &str, notice: &SuspectNotice) -> pdf::Read {
    let bytes = suspect_notice(notice, Words::english()).expect("the notice sets");
    pdf::read(name, &bytes)
}

#[test]
fn it_says_what_was_found_since_when_and_what_to_look_at() {
    let read = set("suspect", &notice());
    assert_eq!(read.pages.len(), 1, "one sheet");
    read.says(&[
        "Notice: joints in doubt",
        "Tarnwick Tool Bench",
        "Fennholt Glasshouse Frames",
        "Tulvane TB-32",
        "serial 7K-0412",
        "61 480 pulls",
        "Joint as found: Marlstead M8",
        "the collet slips",
        "The collet let go half-way.",
        "13.36 mm ± 0.01",
        "12.90 – 13.12 mm · M-1",
        "Bench test: Pull force at stall",
        "28.90 kN ± 0.35",
        "Decision rule.",
        "Last good check bench proof of job 1012, 2 Nov 2026, at 58 900 pulls",
        "Joints since 2580 by the counter",
        "06 2 Nov 2026 job 1012",
        "Gap under the head at most 0.10 mm",
        "for the engineer of record, the drawing and the local code",
        "does not say that any structure is safe",
        "does not say which joints are bad",
        "Received: name and day",
        "Signature",
        "Issued 24 Nov 2026 for job 1047",
        "9f2c41d7a0be63f5",
        "Page 1 of 1",
    ]);
}

/// The words of a paper that somebody might rest a life on: no joint is called good, no structure safe.
#[test]
fn it_never_says_that_anything_is_safe() {
    let read = set("suspect-safe", &notice());
    let text = read.text.to_lowercase();
    let safe: Vec<_> = text.match_indices("safe").collect();
    let denied = text
        .matches("does not say that any structure is safe")
        .count();
    assert_eq!(safe.len(), denied, "{text}");
    assert!(denied > 0);
}

#[test]
fn without_a_past_it_says_so() {
    let notice = SuspectNotice {
        since: text("none on this record"),
        pulls: text("not known"),
        set_for: Vec::new(),
        inspect: Vec::new(),
        ..notice()
    };
    let read = set("suspect-unknown", &notice);
    read.says(&[
        "Last good check none on this record",
        "Joints since not known",
        "The record does not say.",
    ]);
    assert!(!read.text.contains("What to look at"), "{}", read.text);
}

#[test]
fn twenty_findings_go_on_on_further_pages() {
    let mut notice = notice();
    let one = notice.findings[0].clone();
    notice.findings = (1..=20)
        .map(|n| BadFinding {
            what: format!("Joint as found {n}: Marlstead M8"),
            ..one.clone()
        })
        .collect();
    let read = set("suspect-long", &notice);
    assert!(read.pages.len() > 1);
    for n in 1..=20 {
        assert!(read.text.contains(&format!("Joint as found {n}:")), "{n}");
    }
    read.says(&["Received: name and day"]);
}

#[test]
fn same_input_same_bytes() {
    let set = || suspect_notice(&notice(), Words::english()).expect("the notice sets");
    assert!(set() == set());
}
