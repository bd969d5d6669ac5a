//! The service report.

use calc::decision::{Rule, Verdict};
use paper::axis::PartState;
use paper::model::{Change, ServiceReport, TestResult, Unrepaired};
use paper::service_report;
use words::Words;

use crate::{pdf, sample, tool};

fn set(name: &str, report: &ServiceReport) -> pdf::Read {
    let bytes = service_report(report, Words::english()).expect("the report sets");
    pdf::read(name, &bytes)
}

#[test]
fn every_part_is_there() {
    let report = set("report", &sample::report());
    report.says(&[
        "Service report No. SR-1047",
        "Tarnwick Tool Bench",
        "Mill Row",
        "Fennholt Glasshouse Frames",
        "Tulvane TB-32",
        "61 480 pulls",
        "Received 23 Nov 2026",
        "Tested 24 Nov 2026",
        "Issued 24 Nov 2026",
        "“Collars come out fat since Monday, and two pins stripped.”",
        "Missing: charger",
        "Collet worn",
        "Are the pull grooves of the pin torn? yes polished",
        "28.90 kN ± 0.35 · L-1",
        "Anvil, 8 mm: Throat bore",
        "About 20 500 pulls left. Advice: replace now.",
        "31.62 kN ± 0.35 · L-1",
        "30.40 – 35.20 kN",
        "reject",
        "accept",
        "undecided",
        "ran on for about 2 s",
        "Decision rule. Accepted if the value and its uncertainty lie inside",
        "left-hand thread",
        "Collet CR8 TB-CR8 teeth rounded, slips 61 480",
        "Not covered",
        "Collets are wear parts",
        "collet life of 20 000",
        "Total GBP 163.80",
        "Customer's answer: yes. M. Orr, 23 Nov 2026: by telephone",
        "6½ turns",
        "clockwise",
        "seen from",
        "6⅝",
        "Load cell, 50 kN",
        "12 Jan 2027",
        "Scale away for calibration",
        "Digits swapped; read again.",
        "a₁ = L + w = 30.40 + 0.3500 = 30.7500 kN",
        "JCGM 106:2012",
        "These results concern this tool alone",
        "does not say that any structure is safe",
        "Authorised by",
        "I. Marsh",
        "Signature",
        "Record entry 412",
        "— End of report SR-1047 —",
    ]);
    let squeezed = report.text.replace(' ', "");
    assert!(squeezed.contains(&sample::record().hash), "the whole hash");
}

#[test]
fn each_page_has_its_number() {
    let report = set("report-pages", &sample::report());
    let pages = report.pages.len();
    for (at, page) in report.pages.iter().enumerate() {
        let number = format!("Page {} of {pages}", at + 1);
        assert!(page.contains(&number), "{number}\n{page}");
        assert!(page.contains("SR-1047"), "{page}");
    }
}

#[test]
fn readings_in_doubt_are_named_with_the_reason_and_marked_at_their_verdict() {
    let whole = sample::report();
    assert!(!set("report-sound", &whole).text.contains("in doubt"));
    let mut doubted = ServiceReport {
        doubts: vec!["L-1 was found outside its limits. In doubt: Pull force, as left.".to_owned()],
        doubts_since: vec!["Calibration 3 of M-1 was struck. In doubt: Trial joint.".to_owned()],
        doubt_reason: "The driver could not wait.".to_owned(),
        ..whole
    };
    for test in &mut doubted.tests {
        if let Some(TestResult::Read(reading)) = &mut test.as_left {
            reading.doubted = true;
        }
    }
    set("report-doubted", &doubted).says(&[
        "Readings in doubt",
        "In doubt: Pull force, as left.",
        "Handed back all the same by R. Hale: The driver could not wait.",
        "Not told when the tool went back:",
        "In doubt: Trial joint.",
        "IN DOUBT: see",
    ]);
}

#[test]
fn a_tool_returned_unrepaired_has_no_empty_sections() {
    let whole = sample::report();
    let report = ServiceReport {
        unrepaired: Some(Unrepaired {
            how: "Returned unrepaired".to_owned(),
            reason: "The customer said no to the price.".to_owned(),
        }),
        parts: Vec::new(),
        torques: Vec::new(),
        fastener: None,
        nose: None,
        stick_out: None,
        setting: None,
        joints: Vec::new(),
        tests: Vec::new(),
        found_joints: Vec::new(),
        pulls: Vec::new(),
        wear: Vec::new(),
        not_run_as_found: "Pack swollen; not fitted.".to_owned(),
        instruments: Vec::new(),
        deviations: Vec::new(),
        corrections: Vec::new(),
        workings: Vec::new(),
        warranty: None,
        ..whole
    };
    let report = set("report-unrepaired", &report);
    report.says(&[
        "Returned unrepaired The customer said no to the price.",
        "Not run as found: Pack swollen; not fitted.",
        "End of report",
    ]);
    for absent in [
        "Torques",
        "Parts renewed",
        "Warranty",
        "Set up for",
        "Trial joints",
        "Joints as found",
        "Wear, fit and closing, as measured",
        "Instruments",
        "Workings",
        "Corrections",
        "Decision rule",
    ] {
        assert!(!report.text.contains(absent), "{absent}\n{}", report.text);
    }
}

#[test]
fn forty_rows_and_long_texts_go_on_on_further_pages() {
    let mut report = sample::report();
    let short = set("report-short", &report).pages.len();
    for number in 4..=40 {
        let seen = format!(
            "joint {number} seen: {}",
            "a long remark about the collar ".repeat(3)
        );
        report.joints.push(sample::joint(number, 13.0, &seen));
    }
    report.deviations.extend((1..=40).map(|number| Change {
        what: format!(
            "Step {number}: {}",
            "take off, look, wipe, put back ".repeat(4)
        ),
        reason: "no time ".repeat(30) + &format!("reason {number}."),
        by: "R. Hale, 24 Nov 11:20".to_owned(),
    }));
    report.complaint = format!("{} Last word.", "It slips and slips. ".repeat(400));
    report.customer = "Fennholt Glasshouse Frames and Conservatory Components ".repeat(4);
    report.tool.serial = "7K0412".repeat(20);
    let report = set("report-long", &report);
    assert!(report.pages.len() > short + 4, "{}", report.pages.len());
    report.says(&["Last word.", "reason 40.", "End of report"]);
    for number in 1..=40 {
        assert!(report.text.contains(&format!("Step {number}:")), "{number}");
    }
    assert_eq!(
        report.text.matches("13.00 mm").count(),
        38,
        "each joint's reading"
    );
    assert!(report.text.replace(' ', "").contains(&"7K0412".repeat(20)));
}

#[test]
fn two_rules_are_both_stated_and_told_apart() {
    let mut report = sample::report();
    if let Some(TestResult::Read(reading)) = &mut report.tests[0].as_left {
        reading.bar.rule = Rule::Simple;
        reading.bar.verdict = Verdict::Accept;
    }
    set("report-rules", &report).says(&[
        "In between: undecided. Where “value alone decides” stands: The value alone is compared",
        "value alone decides",
    ]);
}

#[test]
fn a_gauge_out_of_date_is_named() {
    let mut report = sample::report();
    if let Some(TestResult::Read(reading)) = &mut report.tests[0].as_left {
        reading.in_date = false;
        reading.bar.verdict = Verdict::Undecided;
    }
    set("report-gauge", &report).says(&["Gauge out of date: not evidence"]);
}

#[test]
fn markup_in_data_stays_text() {
    let mut report = sample::report();
    report.complaint = "#panic() *bold* $x$ @ref <label> \\ // not a comment `raw`".to_owned();
    set("report-markup", &report)
        .says(&["#panic() *bold* $x$ @ref <label> \\ // not a comment `raw`"]);
}

#[test]
fn same_input_same_bytes() {
    let set = || service_report(&sample::report(), Words::english()).expect("the report sets");
    assert!(set() == set());
}

#[test]
fn renewed_parts_are_marked_on_the_axis() {
    let mut report = sample::report();
    let mut axis = tool::axis();
    axis.parts[2].state = PartState::Renewed;
    axis.parts[4].state = PartState::Renewed;
    report.axis = Some(axis);
    let marked = set("report-axis", &report);
    marked.says(&["Renewed, double ring: 3 Collet CR8, four fingers, 5 Ejector spring."]);
    // Without a part renewed there is nothing to draw.
    report.parts.clear();
    let bare = set("report-axis-none", &report);
    assert!(!bare.text.contains("double ring"), "{}", bare.text);
}

/// One part renewed on a tool with a pin set by stroke: every test, three joints, a working for each number.
fn small_job() -> ServiceReport {
    let mut report = sample::report();
    let both = report.tests[0].clone();
    let left = |test: &paper::model::Test, name: &str| paper::model::Test {
        name: name.to_owned(),
        as_found: None,
        ..test.clone()
    };
    let looked = report.tests[1].clone();
    report.tests = vec![
        both.clone(),
        both.clone(),
        left(&both, "Stroke, loaded"),
        left(&both, "Cycle time"),
        left(&both, "Current without load"),
        left(&looked, "Trigger release"),
        left(&looked, "Electrical look"),
        left(&looked, "Run-in"),
    ];
    report.wear = vec![report.wear[0].clone(); 3];
    report.torques.truncate(1);
    report.found_joints.clear();
    report.deviations.clear();
    report.corrections.clear();
    let instrument = report.instruments[0].clone();
    report.instruments = vec![instrument; 9];
    let one = report.workings[0].clone();
    report.workings = (1..=16)
        .map(|n| paper::model::WorkingView {
            title: format!("Number {n}"),
            // Five methods, as on a job of the demo; the others repeat the first.
            method: format!("method {}", if n <= 5 { n } else { 1 }),
            ..one.clone()
        })
        .collect();
    report
}

#[test]
fn the_report_of_a_small_job_has_at_most_four_pages() {
    let report = set("report-small", &small_job());
    assert!(report.pages.len() <= 4, "{} pages", report.pages.len());
    // Nothing of the evidence is left out for it.
    for n in 1..=16 {
        assert!(report.text.contains(&format!("Number {n}")), "working {n}");
    }
    let results = report.text.matches("= 30.40 + 0.3500 = 30.7500 kN").count();
    assert_eq!(results, 16, "each with its numbers");
    let sources = report.text.matches("JCGM 106:2012").count();
    assert_eq!(sources, 5, "the source once for each method");
    assert_eq!(
        report.text.matches("Formulas and source as under").count(),
        11
    );
}
