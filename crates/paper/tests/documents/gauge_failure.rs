//! What a gauge touched that was found outside its limits.

use calc::decision::Verdict;
use paper::gauge_failure;
use paper::model::{GaugeFailure, JobTouched, Touched};
use words::Words;

use crate::{pdf, sample};

fn touched(what: &str, read: &str, verdict: Option<Verdict>, reckoned: Option<bool>) -> Touched {
    Touched {
        when: "24 Nov 09:12, Joren".to_owned(),
        what: what.to_owned(),
        read: read.to_owned(),
        verdict,
        reckoned,
    }
}

fn sample() -> GaugeFailure {
    GaugeFailure {
        shop: sample::shop(),
        gauge: "L-1".to_owned(),
        kind: "Load cell, 0 – 50 kN".to_owned(),
        found_by: "Calibration 2, 30 Nov 2026".to_owned(),
        against: "Vantry Works, VW-2".to_owned(),
        points: vec![
            [
                "0 kN".to_owned(),
                "+0.00 kN".to_owned(),
                "± 0.50 kN".to_owned(),
            ],
            [
                "25 kN".to_owned(),
                "+2.00 kN".to_owned(),
                "± 0.50 kN".to_owned(),
            ],
        ],
        good: "12 Jan 2026".to_owned(),
        again: "30 Nov 2026, when it was put right".to_owned(),
        jobs: vec![
            JobTouched {
                number: "1047".to_owned(),
                tool: "Tulvane TB-32, 7K-0412".to_owned(),
                customer: "Fennholt Glasshouse Frames".to_owned(),
                place: "gone back".to_owned(),
                certificates: vec!["1047-P1".to_owned()],
                readings: vec![
                    touched(
                        "Pull force, as left",
                        "31.20, 31.00, 31.40 kN",
                        Some(Verdict::Accept),
                        Some(false),
                    ),
                    touched(
                        "Recorded pulls, as left",
                        "5 pulls of stall.csv",
                        None,
                        Some(true),
                    ),
                ],
            },
            JobTouched {
                number: "1051".to_owned(),
                tool: "Orrinbeck AH-21, AH-1301".to_owned(),
                customer: "Corvane Trailer Bodies".to_owned(),
                place: "here".to_owned(),
                certificates: Vec::new(),
                readings: vec![touched(
                    "Hold, as found",
                    "0.31 kN",
                    Some(Verdict::Undecided),
                    None,
                )],
            },
        ],
        issued_on: "30 Nov 2026".to_owned(),
        record: sample::record(),
        issued: sample::report().issued,
    }
}

fn set(name: &str, model: &GaugeFailure) -> pdf::Read {
    let bytes = gauge_failure(model, Words::english()).expect("the paper sets");
    pdf::read(name, &bytes)
}

#[test]
fn every_part_is_there() {
    let read = set("gauge-failure", &sample());
    read.says(&[
        "Readings in doubt",
        "L-1",
        "Load cell, 0 – 50 kN",
        "Found outside its limits by Calibration 2, 30 Nov 2026",
        "Held against Vantry Works, VW-2",
        "Last known good 12 Jan 2026",
        "2 jobs, 3 entries",
        "25 kN +2.00 kN ± 0.50 kN",
        "Tag the gauge out of use",
        "Where it is empty, reckon or measure",
        "Reckoned is not measured",
        "A certificate that rests on it is corrected by a new one",
        "engineer of record",
        "Job 1047",
        "Tulvane TB-32, 7K-0412",
        "Fennholt Glasshouse Frames · gone back",
        "Certificate in force rests on them: 1047-P1",
        "Pull force, as left",
        "31.20, 31.00, 31.40 kN",
        "accept",
        "Job 1051",
        "undecided",
        "Decided by",
        "Signature",
        "does not say that any structure is safe",
        "Record entry 412",
    ]);
    // One reading each: the third is left for the hand.
    for said in ["reckoned: NO", "reckoned: yes"] {
        assert_eq!(read.text.matches(said).count(), 1, "{}", read.text);
    }
}

#[test]
fn a_gauge_that_touched_nothing_says_so() {
    let model = GaugeFailure {
        jobs: Vec::new(),
        points: Vec::new(),
        ..sample()
    };
    let read = set("gauge-failure-none", &model);
    read.says(&["0 jobs, 0 entries", "No job used it in between."]);
    assert!(!read.text.contains("Nominal"), "{}", read.text);
}

#[test]
fn many_jobs_go_on_on_further_pages() {
    let mut model = sample();
    let one = model.jobs[0].clone();
    model.jobs = (1..=60)
        .map(|n| JobTouched {
            number: format!("{}", 2000 + n),
            ..one.clone()
        })
        .collect();
    let read = set("gauge-failure-long", &model);
    assert!(read.pages.len() > 3, "{}", read.pages.len());
    for n in 2001..=2060 {
        assert!(read.text.contains(&format!("Job {n}")), "{n}");
    }
    let pages = read.pages.len();
    for (at, page) in read.pages.iter().enumerate() {
        assert!(page.contains(&format!("Page {} of {pages}", at + 1)));
        assert!(page.contains("L-1"), "{page}");
    }
}

#[test]
fn same_input_same_bytes() {
    let set = || gauge_failure(&sample(), Words::english()).expect("it sets");
    assert!(set() == set());
}
