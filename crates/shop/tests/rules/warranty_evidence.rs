//! The entries of a job that a warranty verdict rests on.

use jiff::civil::date;
use shop::counter::AnewIn;
use shop::entry::{Body, Cover, FileAttached, LineJudged};
use shop::job::{Command, JudgeIn};
use shop::warranty::{Gone, cited, offered, propose};

use crate::bench::{Bench, TODAY, faults, model};

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
