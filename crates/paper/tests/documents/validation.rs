//! The validation report as it is read.

use paper::model::{Day, ValidationLine, ValidationReport, ValidationSource};
use paper::validation_report;
use words::Words;

use crate::pdf;

fn line(method: &str, case: &str, name: &str, verdict: &str) -> ValidationLine {
    ValidationLine {
        method: method.to_owned(),
        case: case.to_owned(),
        kind: "validation-library".to_owned(),
        name: name.to_owned(),
        expected: "26.09".to_owned(),
        computed: "26.08695652173913".to_owned(),
        tolerance: "± 0.005".to_owned(),
        verdict: verdict.to_owned(),
    }
}

fn sample(cases: usize) -> ValidationReport {
    let case = |i: usize| {
        line(
            "torque-adapter",
            &format!("case-{i}"),
            "x",
            "validation-pass",
        )
    };
    let mut lines: Vec<ValidationLine> = (0..cases).map(case).collect();
    lines.push(line("torque-adapter", "wrong", "x", "validation-fail"));
    lines.push(line(
        "weibull-fit",
        "bearings",
        "",
        "validation-not-available",
    ));
    let source = |l: &ValidationLine| ValidationSource {
        method: l.method.clone(),
        case: l.case.clone(),
        source: "A book, page 5".to_owned(),
        how_checked: "seen".to_owned(),
        note: String::new(),
    };
    ValidationReport {
        program: "setwright 0.1.0".to_owned(),
        issued_on: "2026-11-25".to_owned(),
        issued: Day {
            year: 2026,
            month: 11,
            day: 25,
        },
        summary: "One case failed.".to_owned(),
        failed: true,
        sources: lines.iter().map(source).collect(),
        lines,
    }
}

#[test]
fn it_says_what_failed_and_what_is_not_there() {
    let bytes = validation_report(&sample(3), Words::english()).expect("set");
    let read = pdf::read("validation", &bytes);
    read.says(&[
        "Validation of the methods",
        "setwright 0.1.0",
        "2026-11-25",
        "One case failed.",
        "26.08695652173913",
        "± 0.005",
        "✗ FAIL",
        "✓ pass",
        "Not available",
        "weibull-fit bearings",
        "A book, page 5",
    ]);
}

#[test]
fn many_cases_run_over_pages_with_their_heads() {
    let bytes = validation_report(&sample(200), Words::english()).expect("set");
    let read = pdf::read("validation-long", &bytes);
    assert!(read.pages.len() > 5, "{} pages", read.pages.len());
    assert!(read.pages[1].contains("tolerance"), "{}", read.pages[1]);
    assert!(read.pages[1].contains("Page 2 of"), "{}", read.pages[1]);
}

#[test]
fn the_same_run_gives_the_same_bytes() {
    let set = || validation_report(&sample(3), Words::english()).expect("set");
    assert_eq!(set(), set());
}
