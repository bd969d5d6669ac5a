//! The documents as PDF: what they say, that nothing is cut, that they repeat byte for byte.

mod pdf;
mod sample;

use paper::{service_report, setup_card};
use words::Words;

#[test]
fn the_card_says_the_setting_whole() {
    let card = pdf::read(
        "card",
        &setup_card(&sample::card(), Words::english()).expect("sets"),
    );
    for said in ["6½ turns", "clockwise"] {
        assert!(card.text.contains(said), "{said}\n{}", card.text);
    }
}

#[test]
fn the_report_is_whole() {
    let report = service_report(&sample::report(), Words::english()).expect("sets");
    let report = pdf::read("report", &report);
    assert!(report.text.contains("SR-1047"), "{}", report.text);
}
