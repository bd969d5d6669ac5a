//! The certificate of the bench proof.

use paper::certificate;
use paper::model::{Certificate, Replaces};
use words::Words;

use crate::{pdf, sample};

fn sample() -> Certificate {
    let report = sample::report();
    Certificate {
        shop: sample::shop(),
        number: "1047-P1".to_owned(),
        replaces: None,
        job: report.job,
        customer: report.customer,
        tool: sample::tool(),
        received: "23 Nov 2026".to_owned(),
        tested: "23 Nov 2026 – 24 Nov 2026".to_owned(),
        issued_on: "24 Nov 2026".to_owned(),
        sheet: "Tulvane TB-32, tulvane-tb-32, revision 3".to_owned(),
        method: "bench-proof 1".to_owned(),
        temperature: "21.5".to_owned(),
        conditions: "Pack charged full.".to_owned(),
        fastener: Some(sample::fastener()),
        nose: Some(sample::nose()),
        setting: "6½ turns".to_owned(),
        tests: report.tests,
        pulls: Vec::new(),
        not_run_as_found: String::new(),
        instruments: report.instruments,
        doubts: Vec::new(),
        doubted_by: "R. Hale".to_owned(),
        doubt_reason: String::new(),
        remarks: vec!["The customer asked for it.".to_owned()],
        proof_reason: String::new(),
        made_by: "R. Hale".to_owned(),
        authorised_by: "I. Marsh".to_owned(),
        entries: "1, 4, 9, 31".to_owned(),
        content: "7ac1".repeat(16),
        record: sample::record(),
        issued: report.issued,
    }
}

fn set(name: &str, model: &Certificate) -> pdf::Read {
    let bytes = certificate(model, Words::english()).expect("the certificate sets");
    pdf::read(name, &bytes)
}

#[test]
fn every_part_is_there() {
    let read = set("certificate", &sample());
    // What ISO/IEC 17025:2017, 7.8.2.1, 7.8.3.1, 7.8.6.2 ask for, as far as it concerns a bench proof (from memory).
    read.says(&[
        "Bench proof certificate",
        "No. 1047-P1",
        "Tarnwick Tool Bench",
        "Mill Row",
        "Fennholt Glasshouse Frames",
        "Tulvane TB-32",
        "7K-0412",
        "Received 23 Nov 2026",
        "Tested 23 Nov 2026 – 24 Nov 2026",
        "Issued 24 Nov 2026",
        "does not claim accreditation",
        "tulvane-tb-32, revision 3",
        "bench-proof 1",
        "Temperature at the bench 21.5 °C. Pack charged full.",
        "Marlstead M8, 08",
        "N8",
        "6½ turns",
        "load cell in line, mean of five pulls to stall",
        "28.90 kN ± 0.35 · L-1",
        "31.62 kN ± 0.35 · L-1",
        "30.40 – 35.20 kN",
        "reject",
        "accept",
        "ran on for about 2 s",
        "Decision rule. Accepted if the value and its uncertainty lie inside",
        "expanded uncertainty",
        "Load cell, 50 kN",
        "12 Jan 2027",
        "The customer asked for it.",
        "These results concern this tool alone",
        "not to be copied in part",
        "does not say that any structure is safe",
        "Made by",
        "R. Hale",
        "Authorised by",
        "I. Marsh",
        "Entries 1, 4, 9, 31 of job 1047",
        "Record entry 412",
        "— End of certificate 1047-P1 —",
    ]);
    let squeezed = read.text.replace(' ', "");
    assert!(squeezed.contains(&"7ac1".repeat(16)), "the whole content");
    let pages = read.pages.len();
    for (at, page) in read.pages.iter().enumerate() {
        assert!(page.contains(&format!("Page {} of {pages}", at + 1)));
        assert!(page.contains("1047-P1"), "{page}");
    }
    for absent in [
        "Replaces certificate",
        "Signed off although",
        "Not run as found",
    ] {
        assert!(!read.text.contains(absent), "{absent}");
    }
}

#[test]
fn a_correction_says_what_it_replaces_and_what_changed() {
    let model = Certificate {
        number: "1047-P2".to_owned(),
        replaces: Some(Replaces {
            number: "1047-P1".to_owned(),
            changed: "Temperature: 21.5 °C was read, 12.5 °C typed.".to_owned(),
        }),
        made_by: String::new(),
        proof_reason: "the gauge was late".to_owned(),
        not_run_as_found: "Pack swollen; not fitted.".to_owned(),
        ..sample()
    };
    let read = set("certificate-correction", &model);
    read.says(&[
        "Replaces certificate 1047-P1",
        "Changed Temperature: 21.5 °C was read, 12.5 °C typed.",
        "Signed off although a test stayed undecided: the gauge was late",
        "Not run as found: Pack swollen; not fitted.",
        "Authorised by I. Marsh",
    ]);
    assert!(!read.text.contains("R. Hale"), "{}", read.text);
}

#[test]
fn recorded_pulls_stand_beside_their_drawing_and_without_them_nothing_does() {
    let model = Certificate {
        pulls: sample::report().pulls,
        ..sample()
    };
    let read = set("certificate-pulls", &model);
    read.says(&[
        "Recorded pulls",
        "As left: 2 of 3 pulls of Marlstead M8",
        "Peak 24.31 ± 0.27 kN",
        "m8-as-left.csv · ba7816bf8f01cfea",
        "End of certificate",
    ]);
    let mut lost = model.clone();
    lost.pulls[0].plot = None;
    set("certificate-pulls-lost", &lost).says(&["The recording is lost"]);
    let mut many = model.clone();
    let row = many.pulls[0].rows[0].clone();
    many.pulls[0].rows = (1..=120)
        .map(|n| {
            [
                format!("P{n}"),
                row[1].clone(),
                row[2].clone(),
                row[3].clone(),
            ]
        })
        .collect();
    let read = set("certificate-pulls-many", &many);
    for n in 1..=120 {
        assert!(read.text.contains(&format!("P{n} ")), "{n}");
    }
    let page_of = |pull: &str| read.pages.iter().position(|page| page.contains(pull));
    assert!(page_of("P1 ") < page_of("P120 "), "they run off the page");
    let plain = certificate(&sample(), Words::english()).expect("it sets");
    assert!(
        !pdf::read("certificate-no-pulls", &plain)
            .text
            .contains("Recorded pulls")
    );
}

#[test]
fn long_lists_go_on_on_further_pages() {
    let mut model = sample();
    let one = model.tests[0].clone();
    for n in 1..=40 {
        model.tests.push(paper::model::Test {
            name: format!("Test {n}"),
            ..one.clone()
        });
    }
    model.remarks = vec!["It was said at length. ".repeat(200) + "Last word."];
    let read = set("certificate-long", &model);
    assert!(read.pages.len() > 4, "{}", read.pages.len());
    for n in 1..=40 {
        assert!(read.text.contains(&format!("Test {n} ")), "{n}");
    }
    read.says(&["Last word.", "End of certificate"]);
}

#[test]
fn same_input_same_bytes() {
    let set = || certificate(&sample(), Words::english()).expect("it sets");
    assert!(set() == set());
}

#[test]
fn what_is_in_doubt_stands_with_its_reason_and_who_gives_it() {
    let model = Certificate {
        doubts: vec![
            "LC-50 was found outside its limits.".to_owned(),
            "D-1: calibration 2 was struck.".to_owned(),
        ],
        doubt_reason: "the customer knows".to_owned(),
        ..sample()
    };
    set("certificate-doubts", &model).says(&[
        "Readings in doubt",
        "LC-50 was found outside its limits.",
        "D-1: calibration 2 was struck.",
        "Made all the same by R. Hale: the customer knows",
    ]);
    let read = set("certificate-without-doubts", &sample());
    assert!(!read.text.contains("in doubt"), "{}", read.text);
}
