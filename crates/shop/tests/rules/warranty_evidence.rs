//! The entries of a job that a warranty verdict rests on.

use jiff::civil::date;
use shop::counter::AnewIn;
use shop::entry::{Body, Cover, FileAttached, LineJudged};
use shop::job::{Command, JudgeIn};
use shop::warranty::{Gone, cited, offered, propose};

use crate::bench::{Bench, TODAY, arg, faults, model, receipt};

const TB: &str = "tulvane-tb-32";

/// A tool with its cause found and a photo of it: what was written is the evidence.
fn bench() -> (Bench, u32) {
    let mut bench = Bench::received(TB, &["jaws-slip"]).found("collet-teeth-worn");
    bench.does(Command::Attach(vec![FileAttached {
        name: "teeth.jpg".to_owned(),
        media_type: "image/jpeg".to_owned(),
        bytes: 9,
        sha256: "a".repeat(64),
        stage: "agreed".to_owned(),
        step: String::new(),
        note: "worn teeth".to_owned(),
    }]));
    let photo = bench.job().files[0].version;
    (bench, photo)
}

fn line(evidence: &str, entry: Option<u32>) -> LineJudged {
    LineJudged {
        part: "collet".to_owned(),
        number: "CR8".to_owned(),
        cover: Cover::NotCovered,
        own: false,
        term: "parts that wear".to_owned(),
        evidence: evidence.to_owned(),
        entry,
    }
}

fn judge(lines: Vec<LineJudged>) -> Command {
    Command::JudgeWarranty(JudgeIn {
        lines,
        ..JudgeIn::default()
    })
}

fn amend() -> Command {
    Command::AmendReceipt {
        counter: Some(41_870),
        anew: AnewIn::default(),
        sold: Some(date(2026, 2, 1)),
        first_used: None,
        complaint: "Slips".to_owned(),
        due: None,
        reason: "counter misread".to_owned(),
    }
}

#[test]
fn what_it_came_with_and_was_found_with_is_offered() {
    let (mut bench, photo) = bench();
    let kinds = |bench: &Bench| -> Vec<&str> {
        let offered = offered(&bench.job());
        offered.iter().map(|e| e.body.kind()).collect()
    };
    let found = kinds(&bench);
    assert_eq!(found.first(), Some(&"received"));
    assert_eq!(found.last(), Some(&"file-attached"));
    for kind in ["bench-test-read", "cause-confirmed"] {
        assert!(found.contains(&kind), "{kind} in {found:?}");
    }
    assert!(!found.contains(&"symptoms-noted"));
    let versions: Vec<u32> = offered(&bench.job()).iter().map(|e| e.version).collect();
    assert!(versions.is_sorted() && versions.contains(&photo));
    // The receipt as it was put right takes the place of the first.
    bench.does(amend());
    let now = kinds(&bench);
    assert!(!now.contains(&"received") && now.contains(&"receipt-amended"));
    // What was struck is no evidence any more.
    bench.does(Command::Strike {
        version: photo,
        reason: "another tool".to_owned(),
    });
    assert!(!kinds(&bench).contains(&"file-attached"));
}

#[test]
fn the_entry_that_decides_is_kept_with_its_line() {
    let (mut bench, photo) = bench();
    bench.refuses(
        judge(vec![line(" ", None)]),
        "line_evidence: refuse-evidence",
    );
    for none in [0, 99, photo + 1] {
        bench.refuses(
            judge(vec![line("seen", None), line("seen", Some(none))]),
            "line_entry-2: refuse-evidence-entry",
        );
    }
    // The entry says it: words beside it are not asked for.
    bench.does(judge(vec![line("", Some(photo))]));
    let judged = bench.job().warranty.expect("judged").body;
    assert_eq!(judged.lines[0].entry, Some(photo));
    assert_eq!(judged.entry, Some(photo), "the line that decides over all");
}

#[test]
fn one_verdict_for_everything_and_what_voids_it_rest_on_an_entry_too() {
    let (mut bench, photo) = bench();
    let whole = |entry| {
        Command::JudgeWarranty(JudgeIn {
            cover: Some(Cover::NotCovered),
            term: "parts that wear".to_owned(),
            entry,
            ..JudgeIn::default()
        })
    };
    bench.refuses(whole(None), "evidence: refuse-evidence");
    bench.refuses(whole(Some(99)), "entry: refuse-evidence-entry");
    bench.does(whole(Some(photo)));
    assert_eq!(
        bench.job().warranty.expect("judged").body.entry,
        Some(photo)
    );

    let drop = "Drop or water damage".to_owned();
    let void = |void_entry| {
        Command::JudgeWarranty(JudgeIn {
            lines: vec![line("seen", None)],
            voided: vec![drop.clone()],
            void_entry,
            ..JudgeIn::default()
        })
    };
    bench.refuses(void(None), "void_evidence: refuse-void-evidence");
    bench.refuses(void(Some(99)), "void_entry: refuse-evidence-entry");
    bench.does(void(Some(photo)));
    let judged = bench.job().warranty.expect("judged").body;
    assert_eq!(
        (judged.lines[0].entry, judged.lines[0].term.as_str()),
        (Some(photo), drop.as_str())
    );
}

#[test]
fn evidence_that_was_struck_or_put_right_since_says_so() {
    let (mut bench, photo) = bench();
    let receipt = 1;
    bench.does(judge(vec![line("", Some(photo)), line("", Some(receipt))]));
    let gone = |bench: &Bench, version| cited(&bench.job(), version).expect("cited").gone;
    assert_eq!((gone(&bench, photo), gone(&bench, receipt)), (None, None));
    bench.does(amend());
    bench.does(Command::Strike {
        version: photo,
        reason: "another tool".to_owned(),
    });
    assert_eq!(gone(&bench, photo), Some(Gone::Struck));
    assert_eq!(gone(&bench, receipt), Some(Gone::PutRight));
    let photo = cited(&bench.job(), photo).expect("it stays on the record");
    assert!(matches!(photo.body, Body::FileAttached(f) if f.name == "teeth.jpg"));
    let amended = bench.job().amended[0].version;
    assert_eq!(gone(&bench, amended), None);
    assert_eq!(cited(&bench.job(), 99), None);
}

#[test]
fn the_proposal_names_the_entry_that_decides() {
    let (mut bench, _) = bench();
    let proposed = |bench: &Bench| propose(&bench.job(), model(TB), faults(), &[], TODAY);
    let cause = bench.job().cause.expect("confirmed").version;
    let wear = proposed(&bench);
    assert_eq!(
        (wear.evidence.id, wear.entry),
        ("evidence-wear", Some(cause))
    );
    // Over time, the receipt decides: as it was put right.
    let late = |bench: &Bench| propose(&bench.job(), model(TB), faults(), &[], date(2040, 1, 1));
    assert_eq!(late(&bench).entry, Some(1));
    bench.does(amend());
    let amended = bench.job().amended[0].version;
    assert_eq!(
        (late(&bench).evidence.id, late(&bench).entry),
        ("evidence-sold", Some(amended))
    );
}

/// What the demo sheet asks for with a claim.
const ASKED: [&str; 4] = [
    "Proof of sale with its date",
    "Pull counter at receipt",
    "Photos of six sides, nose and plate",
    "Three failed joints with their grip code",
];

fn claim(covers: &[(Cover, bool)], at_hand: &[&str], reason: &str) -> Command {
    let line = |(cover, own): &(Cover, bool)| LineJudged {
        cover: *cover,
        own: *own,
        ..line("seen", None)
    };
    Command::JudgeWarranty(JudgeIn {
        lines: covers.iter().map(line).collect(),
        at_hand: at_hand.iter().map(|t| (*t).to_owned()).collect(),
        without_reason: reason.to_owned(),
        ..JudgeIn::default()
    })
}

#[test]
fn covered_asks_for_the_evidence_that_the_terms_require() {
    let (mut bench, _) = bench();
    let pays = [(Cover::NotCovered, false), (Cover::Covered, false)];
    bench.refuses(
        claim(&pays, &ASKED[..3], " "),
        "without_reason: refuse-without",
    );
    let Err(refused) = shop::job::decide(&bench.job(), claim(&pays, &ASKED[..2], ""), &bench.desk)
    else {
        panic!("two are missing");
    };
    assert_eq!(
        arg(&refused[0].message, "items"),
        "Photos of six sides, nose and plate; Three failed joints with their grip code"
    );
    bench.refuses(claim(&pays, &["A plum"], "x"), "at_hand: refuse-at-hand");
    // All there: no reason is asked for, and none kept.
    bench.does(claim(&pays, &ASKED, "not needed"));
    let judged = bench.job().warranty.expect("judged").body;
    assert_eq!(judged.at_hand, ASKED);
    assert!(judged.without.is_empty() && judged.without_reason.is_empty());
    // One that is missing stands by its reason.
    bench.does(claim(&pays, &ASKED[..3], " joints were scrapped "));
    let judged = bench.job().warranty.expect("judged").body;
    assert_eq!(judged.without, [ASKED[3]]);
    assert_eq!(judged.without_reason, "joints were scrapped");
    // The same for one verdict over everything.
    bench.refuses(
        Command::JudgeWarranty(JudgeIn {
            cover: Some(Cover::Covered),
            term: "a defect".to_owned(),
            evidence: "seen".to_owned(),
            ..JudgeIn::default()
        }),
        "without_reason: refuse-without",
    );
}

#[test]
fn what_the_maker_does_not_pay_asks_for_no_evidence() {
    let (mut bench, _) = bench();
    for covers in [
        [(Cover::NotCovered, false), (Cover::CannotTell, false)],
        // The shop answers for its own work: no claim is sent.
        [(Cover::NotCovered, false), (Cover::Covered, true)],
    ] {
        bench.does(claim(&covers, &[], ""));
        assert!(
            bench
                .job()
                .warranty
                .expect("judged")
                .body
                .without
                .is_empty()
        );
    }
}

#[test]
fn a_missing_internal_part_is_named_with_what_the_terms_require() {
    let mut input = receipt(model(TB), &["jaws-slip"]);
    // The fourth line of the demo sheet's kit: the tail collector.
    input.came[3] = 0;
    let mut bench = Bench::taken_in(&input).found("collet-teeth-worn");
    bench.refuses(
        claim(&[(Cover::Covered, false)], &ASKED, ""),
        "without_reason: refuse-without",
    );
    bench.does(claim(
        &[(Cover::Covered, false)],
        &ASKED,
        "the maker was told",
    ));
    let judged = bench.job().warranty.expect("judged").body;
    assert_eq!(judged.without, ["Tail collector"]);
}
