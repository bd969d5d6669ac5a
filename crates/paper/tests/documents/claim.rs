//! The warranty claim and the return note.

use paper::model::{Claim, ClaimLine, Cover, ReturnNote};
use paper::{return_note, warranty_claim};
use words::Words;

use crate::{pdf, sample};

fn owned(texts: &[&str]) -> Vec<String> {
    texts.iter().map(|t| (*t).to_owned()).collect()
}

fn claim() -> Claim {
    let report = sample::report();
    let line = |what: &str, number: &str, cover, term: &str, evidence: &str| ClaimLine {
        what: what.to_owned(),
        number: number.to_owned(),
        cover,
        term: term.to_owned(),
        evidence: evidence.to_owned(),
    };
    Claim {
        shop: sample::shop(),
        number: "1047-C".to_owned(),
        job: report.job,
        customer: report.customer,
        tool: sample::tool(),
        sold: "1 Feb 2026".to_owned(),
        first_used: "5 Mar 2026".to_owned(),
        received: "23 Nov 2026".to_owned(),
        complaint: report.complaint,
        found: owned(&["Trigger switch worn; collet worn"]),
        cover: Cover::InPart,
        lines: vec![
            line(
                "Trigger switch",
                "TB32-174",
                Cover::Covered,
                "a defect in material or making",
                "within time and pulls",
            ),
            line(
                "Collet",
                "CR8",
                Cover::NotCovered,
                "parts that wear are not covered",
                "the cause is in the collet",
            ),
            line(
                "Labour",
                "",
                Cover::CannotTell,
                "labour goes with the parts",
                "ask who decides",
            ),
        ],
        voided: owned(&["Drop or water damage"]),
        without: "Judged covered without the plate photo: washed off".to_owned(),
        send: owned(&["Proof of sale with its date", "Pull counter at receipt"]),
        missing: owned(&["Missing inside: Tail collector (0 of 1)."]),
        decided_by: "The maker".to_owned(),
        source: "Demo warranty card, section 2".to_owned(),
        judged_by: "24 Nov 08:12, Ansa".to_owned(),
        record: sample::record(),
        issued: report.issued,
    }
}

fn note() -> ReturnNote {
    let report = sample::report();
    ReturnNote {
        shop: sample::shop(),
        number: "1047-R1".to_owned(),
        job: report.job,
        customer: report.customer,
        tool: sample::tool(),
        received: "23 Nov 2026".to_owned(),
        ended: "24 Nov 2026".to_owned(),
        how: "Sent to the maker".to_owned(),
        means: "The maker has the tool.".to_owned(),
        found: owned(&["Ball screw seized"]),
        facts: vec![("Parcel".to_owned(), "P-118".to_owned())],
        went: owned(&["Tool with nose set", "Proof of sale"]),
        missing: owned(&["Tail collector"]),
        cautions: vec![("Tape the terminals.".to_owned(), "40 CFR 273".to_owned())],
        note: "Fragile.".to_owned(),
        authorised_by: "R. Hale".to_owned(),
        record: sample::record(),
        issued: report.issued,
    }
}

fn read(name: &str, bytes: Result<Vec<u8>, paper::PaperError>) -> pdf::Read {
    pdf::read(name, &bytes.expect("it sets"))
}

#[test]
fn a_claim_says_of_each_line_which_term_and_which_evidence() {
    let read = read("claim", warranty_claim(&claim(), Words::english()));
    assert_eq!(read.pages.len(), 1);
    read.says(&[
        "Warranty claim",
        "No. 1047-C",
        "Sold 1 Feb 2026",
        "Decides The maker",
        "Covered in part",
        "Trigger switch TB32-174 Covered",
        "Not covered",
        "Cannot tell",
        "Drop or water damage",
        "Proof of sale with its date",
        "Pull counter at receipt",
        "Demo warranty card, section 2",
        "24 Nov 08:12, Ansa",
        "Whoever grants the warranty decides.",
    ]);
    // What is missing stands before everything that could be read instead.
    let at = |text: &str| {
        read.text
            .find(text)
            .unwrap_or_else(|| panic!("{text}\n{}", read.text))
    };
    assert!(at("Missing: the claim may be refused without") < at("Complaint"));
    assert!(at("✗ Missing inside: Tail collector (0 of 1).") < at("Complaint"));
}

#[test]
fn a_whole_claim_has_nothing_in_red() {
    let mut whole = claim();
    whole.missing.clear();
    whole.voided.clear();
    whole.without.clear();
    whole.found.clear();
    whole.decided_by.clear();
    let read = read("claim-whole", warranty_claim(&whole, Words::english()));
    for absent in ["Missing", "✗", "voids", "Decides"] {
        assert!(!read.text.contains(absent), "{absent}\n{}", read.text);
    }
}

#[test]
fn a_note_says_how_it_ended_what_went_along_and_what_did_not() {
    let read = read("note", return_note(&note(), Words::english()));
    assert_eq!(read.pages.len(), 1);
    read.says(&[
        "Return note",
        "No. 1047-R1",
        "Ended 24 Nov 2026",
        "Sent to the maker",
        "The maker has the tool.",
        "Asked for, and not sent",
        "✗ Tail collector",
        "Ball screw seized",
        "Parcel P-118",
        "Went along",
        "Tool with nose set",
        "Tape the terminals.",
        "Source: 40 CFR 273",
        "Fragile.",
        "R. Hale",
        "does not say that any structure is safe",
    ]);
}

#[test]
fn long_lists_go_on_on_further_pages() {
    let mut long = claim();
    let mut far = note();
    for n in 1..=60 {
        long.send
            .push(format!("Item {n}: {}", "photo and paper ".repeat(8)));
        far.went
            .push(format!("Item {n}: {}", "photo and paper ".repeat(8)));
    }
    let both = [
        read("claim-long", warranty_claim(&long, Words::english())),
        read("note-long", return_note(&far, Words::english())),
    ];
    for read in both {
        assert!(read.pages.len() > 1);
        for n in 1..=60 {
            assert!(read.text.contains(&format!("Item {n}:")), "{n}");
        }
    }
}

#[test]
fn same_input_same_bytes() {
    let words = Words::english();
    let claim = || warranty_claim(&claim(), words).expect("it sets");
    let note = || return_note(&note(), words).expect("it sets");
    assert!(claim() == claim() && note() == note());
}
