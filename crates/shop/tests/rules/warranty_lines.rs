//! The warranty line by line. The demo TB-32 is covered for 24 months and 150 000 pulls; collet, anvil and
//! springs wear and are excluded, the trigger switch is not.

use jiff::Timestamp;
use jiff::civil::{Date, date};
use jiff::tz::TimeZone;
use shop::entry::{Cover, LineJudged};
use shop::job::{Command, Job, JudgeIn, ReceiveIn};
use shop::sheet::{self, Sheet, ShopCard};
use shop::warranty::{missing_internal, over_all, propose_lines};

use crate::bench::{Bench, TODAY, arg, faults, model, receipt};
use crate::walk::{hand_back, not_safe, prove, renew};

const TB: &str = "tulvane-tb-32";

fn day_of(at: Timestamp) -> Date {
    at.to_zoned_datetime(TimeZone::UTC).date()
}

fn causes(ids: &[&str]) -> Command {
    Command::ConfirmCause {
        causes: ids.iter().map(|id| (*id).to_owned()).collect(),
        note: "seen".to_owned(),
    }
}

fn judged(change: impl FnOnce(&mut ReceiveIn), ids: &[&str]) -> Job {
    let mut input = receipt(model(TB), &["no-start"]);
    change(&mut input);
    let mut bench = Bench::taken_in(&input);
    bench.does(not_safe());
    bench.does(causes(ids));
    bench.job()
}

/// Part, verdict, term and evidence of each line.
fn lines(
    job: &Job,
    earlier: &[Job],
    card: Option<&ShopCard>,
) -> Vec<(String, Cover, &'static str, &'static str)> {
    let found = propose_lines(job, model(TB), faults(), earlier, card, day_of);
    let told = found.into_iter().map(|line| {
        let part = line.part.map_or("labour", |part| &part.id).to_owned();
        let p = line.proposal;
        (part, p.cover, p.term.id, p.evidence.id)
    });
    told.collect()
}

fn line(
    part: &str,
    cover: Cover,
    term: &'static str,
    evidence: &'static str,
) -> (String, Cover, &'static str, &'static str) {
    (part.to_owned(), cover, term, evidence)
}

#[test]
fn each_part_has_its_own_verdict() {
    let job = judged(|_| {}, &["switch-worn", "collet-teeth-worn"]);
    assert_eq!(
        lines(&job, &[], None),
        [
            line("collet", Cover::NotCovered, "term-wear", "evidence-wear"),
            line(
                "trigger-switch",
                Cover::Covered,
                "term-defect",
                "evidence-in-time"
            ),
            line(
                "labour",
                Cover::CannotTell,
                "term-labour",
                "evidence-labour-mixed"
            ),
        ]
    );
}

#[test]
fn labour_follows_parts_that_agree() {
    let of = |ids: &[&str]| {
        lines(&judged(|_| {}, ids), &[], None)
            .pop()
            .expect("labour")
    };
    assert_eq!(
        of(&["switch-worn"]),
        line(
            "labour",
            Cover::Covered,
            "term-labour",
            "evidence-labour-covered"
        )
    );
    assert_eq!(
        of(&["collet-teeth-worn"]),
        line(
            "labour",
            Cover::NotCovered,
            "term-labour",
            "evidence-labour-not-covered"
        )
    );
}

#[test]
fn what_is_not_known_leaves_open_only_what_is_not_excluded_anyway() {
    let both = ["switch-worn", "collet-teeth-worn"];
    let no_sale = judged(|i| i.sold = None, &both);
    assert_eq!(
        lines(&no_sale, &[], None)[..2],
        [
            line("collet", Cover::NotCovered, "term-wear", "evidence-wear"),
            line(
                "trigger-switch",
                Cover::CannotTell,
                "term-months",
                "evidence-no-sale"
            ),
        ]
    );
    let no_counter = judged(|i| i.counter = None, &both);
    assert_eq!(
        lines(&no_counter, &[], None)[1],
        line(
            "trigger-switch",
            Cover::CannotTell,
            "term-pulls",
            "evidence-no-counter"
        )
    );
    // Over the limit is over, whether or not the day of sale is known.
    let over = judged(
        |i| (i.counter, i.sold) = (Some(150_001), None),
        &["switch-worn"],
    );
    assert_eq!(
        lines(&over, &[], None)[0],
        line(
            "trigger-switch",
            Cover::NotCovered,
            "term-pulls",
            "evidence-counter"
        )
    );
    let old = judged(|i| i.sold = Some(date(2024, 11, 24)), &["switch-worn"]);
    assert_eq!(
        lines(&old, &[], None)[0],
        line(
            "trigger-switch",
            Cover::NotCovered,
            "term-months",
            "evidence-sold"
        )
    );
    let short = judged(|i| i.came[3] = 0, &["switch-worn"]);
    assert_eq!(
        lines(&short, &[], None)[0],
        line(
            "trigger-switch",
            Cover::NotCovered,
            "term-complete",
            "evidence-missing"
        )
    );
}

#[test]
fn internal_parts_that_are_missing_are_named_and_no_others() {
    // Kit of the demo sheet: the fourth line is the tail collector, internal; the fifth the wrench.
    let missing = |change: fn(&mut ReceiveIn)| -> Vec<String> {
        let job = judged(change, &["switch-worn"]);
        missing_internal(&job).map(|c| c.item.clone()).collect()
    };
    assert_eq!(missing(|_| {}), [] as [&str; 0]);
    assert_eq!(missing(|i| i.came[3] = 0), ["Tail collector"]);
    assert_eq!(missing(|i| i.came[4] = 0), [] as [&str; 0]);
}

#[test]
fn without_a_part_at_fault_there_are_no_lines() {
    assert!(lines(&judged(|_| {}, &["trigger-released-early"]), &[], None).is_empty());
}

fn card(more: &str) -> ShopCard {
    let text = format!(
        "sheet = \"shop\"\nid = \"x\"\nname = \"X\"\nplace = \"Y\"\ncurrency = \"USD\"\nlabour_per_hour = \"78.00\"\n\
         tax_percent = \"0\"\npeople = [\"Ansa\"]\njoints_to_sign_off = 3\n{more}\n"
    );
    match sheet::read("shop.toml", &text).expect("a good card") {
        Sheet::Shop(card) => card,
        other => panic!("{other:?}"),
    }
}

/// An earlier visit in which the collet was renewed at 9 000 pulls, returned on the test's day.
fn renewed_before() -> Job {
    let mut bench = Bench::ready(TB);
    bench.does(crate::walk::plan("collet"));
    bench.work_until("fit-collet");
    bench.does(renew("collet"));
    bench.work_until("power-look");
    bench.does(crate::walk::look("power-look", true));
    bench.does(crate::walk::skip(shop::job::Stage::SetUp));
    let mut bench = bench.tested();
    bench.does(prove());
    bench.does(hand_back());
    let mut job = bench.job();
    job.received.body.counter = Some(9_000);
    for renewed in &mut job.replaced {
        renewed.body.counter = Some(9_000);
    }
    job
}

/// A later visit: job 2, with the collet worn again.
fn back_again(on: &str, counter: Option<u64>) -> Job {
    let mut job = judged(|i| i.counter = counter, &["collet-teeth-worn"]);
    job.received.body.number = 2;
    job.received.at = on.parse().expect("a time");
    job
}

#[test]
fn the_shop_answers_for_the_part_that_it_renewed() {
    let earlier = [renewed_before()];
    let of = |card: &ShopCard, job: &Job| lines(job, &earlier, Some(card)).remove(0);
    let months = card("repair_months = 6");
    // Returned on 25 November 2026: the last day is 25 May 2027.
    let last = back_again("2027-05-25T12:00:00Z", Some(12_000));
    assert_eq!(
        of(&months, &last),
        line(
            "collet",
            Cover::Covered,
            "term-own-repair",
            "evidence-own-repair"
        )
    );
    let late = back_again("2027-05-26T12:00:00Z", Some(12_000));
    assert_eq!(
        of(&months, &late).2,
        "term-wear",
        "the maker's terms decide again"
    );
    // A card that says nothing promises nothing.
    assert_eq!(of(&card(""), &last).2, "term-wear");
    let pulls = card("repair_months = 6\nrepair_pulls = 3000");
    assert_eq!(
        of(&pulls, &last),
        line(
            "collet",
            Cover::Covered,
            "term-own-repair-pulls",
            "evidence-own-repair-pulls"
        )
    );
    assert_eq!(
        of(&pulls, &back_again("2027-05-25T12:00:00Z", Some(12_001))).2,
        "term-wear"
    );
    for lost in [None, Some(8_999)] {
        assert_eq!(
            of(&pulls, &back_again("2027-05-25T12:00:00Z", lost)),
            line(
                "collet",
                Cover::CannotTell,
                "term-own-repair-pulls",
                "evidence-own-no-counter"
            )
        );
    }
    // The same job is no earlier one, and another part is not what was renewed.
    let mut same = last.clone();
    same.received.body.number = 1;
    assert_eq!(of(&months, &same).2, "term-wear");
    let mut other = judged(|_| {}, &["switch-worn"]);
    other.received.body.number = 2;
    assert_eq!(of(&months, &other).2, "term-defect");
    let found = propose_lines(&last, model(TB), faults(), &earlier, Some(&pulls), day_of);
    let evidence = &found[0].proposal.evidence;
    assert_eq!(
        (arg(evidence, "job"), arg(evidence, "day")),
        ("1".to_owned(), TODAY.to_string())
    );
}

#[test]
fn pulls_alone_are_no_own_warranty() {
    let text = "repair_pulls = 3000";
    let read = std::panic::catch_unwind(|| card(text));
    assert!(read.is_err());
}

fn row(cover: Cover, own: bool) -> LineJudged {
    LineJudged {
        part: "collet".to_owned(),
        number: "CR8".to_owned(),
        cover,
        own,
        term: format!("term of {cover:?}"),
        evidence: "seen".to_owned(),
        entry: None,
    }
}

#[test]
fn over_all_it_is_what_the_lines_say() {
    use Cover::{CannotTell, Covered, InPart, NotCovered};
    let of = |covers: &[Cover]| {
        let rows: Vec<LineJudged> = covers.iter().map(|c| row(*c, false)).collect();
        over_all(&rows).map(|line| (line.cover, line.term))
    };
    for (covers, cover, term) in [
        (vec![Covered, Covered], Covered, "term of Covered"),
        (vec![NotCovered], NotCovered, "term of NotCovered"),
        (
            vec![NotCovered, CannotTell],
            CannotTell,
            "term of CannotTell",
        ),
        (vec![Covered, CannotTell], InPart, "term of CannotTell"),
        (
            vec![Covered, CannotTell, NotCovered],
            InPart,
            "term of NotCovered",
        ),
    ] {
        assert_eq!(of(&covers), Some((cover, term.to_owned())), "{covers:?}");
    }
    assert_eq!(of(&[]), None);
}

fn judge(cover: Option<Cover>, lines: Vec<LineJudged>, voided: &[&str], seen: &str) -> Command {
    Command::JudgeWarranty(JudgeIn {
        cover,
        lines,
        voided: voided.iter().map(|v| (*v).to_owned()).collect(),
        void_evidence: seen.to_owned(),
        without_reason: "the maker sends for it".to_owned(),
        ..JudgeIn::default()
    })
}

#[test]
fn lines_are_judged_whole_and_agree_with_the_verdict_over_all() {
    let mut bench = Bench::received(TB, &["jaws-slip"]).found("collet-teeth-worn");
    let two = || vec![row(Cover::Covered, false), row(Cover::NotCovered, false)];
    bench.refuses(
        judge(Some(Cover::Covered), two(), &[], ""),
        "cover: refuse-cover-lines",
    );
    bench.refuses(judge(None, Vec::new(), &[], ""), "cover: refuse-cover");
    let mut bare = two();
    bare[1].term.clear();
    bench.refuses(judge(None, bare, &[], ""), "line_term-2: refuse-term");
    bench.does(judge(None, two(), &[], ""));
    assert_eq!(
        bench.job().warranty.expect("judged").body.cover,
        Cover::InPart
    );
}

#[test]
fn what_voids_the_maker_s_warranty_leaves_the_shop_s_own() {
    let mut bench = Bench::received(TB, &["jaws-slip"]).found("collet-teeth-worn");
    let drop = "Drop or water damage";
    let two = || vec![row(Cover::Covered, false), row(Cover::Covered, true)];
    bench.refuses(
        judge(None, two(), &[drop], " "),
        "void_evidence: refuse-void-evidence",
    );
    bench.refuses(
        judge(None, two(), &["Rust"], "seen"),
        "voided: refuse-voided-unknown",
    );
    bench.does(judge(None, two(), &[drop], "rust on the board"));
    let judged = bench.job().warranty.expect("judged").body;
    assert_eq!(judged.cover, Cover::InPart);
    assert_eq!(
        (judged.lines[0].cover, judged.lines[0].term.as_str()),
        (Cover::NotCovered, drop)
    );
    assert_eq!(judged.lines[0].evidence, "rust on the board");
    assert_eq!(
        judged.lines[1].cover,
        Cover::Covered,
        "the shop answers for its own work"
    );
    assert_eq!(judged.voided, [drop]);
}

#[test]
fn what_is_covered_by_nobody_is_not_claimed() {
    use shop::entry::{LineJudged, WarrantyJudged};
    use shop::warranty::may_be_claimed;
    let line = |cover| LineJudged {
        part: "anvil".to_owned(),
        number: "TB32-110".to_owned(),
        cover,
        own: false,
        term: "term".to_owned(),
        evidence: "evidence".to_owned(),
        entry: None,
    };
    let judged = |cover, lines: &[Cover]| WarrantyJudged {
        cover,
        term: "term".to_owned(),
        evidence: "evidence".to_owned(),
        entry: None,
        lines: lines.iter().map(|cover| line(*cover)).collect(),
        voided: Vec::new(),
        at_hand: Vec::new(),
        without: Vec::new(),
        without_reason: String::new(),
    };
    use Cover::{CannotTell, Covered, InPart, NotCovered};
    for (cover, lines, claimed) in [
        (NotCovered, &[][..], false),
        (CannotTell, &[], true),
        (Covered, &[], true),
        (NotCovered, &[NotCovered, NotCovered], false),
        (InPart, &[NotCovered, Covered], true),
        (CannotTell, &[NotCovered, CannotTell], true),
    ] {
        assert_eq!(
            may_be_claimed(&judged(cover, lines)),
            claimed,
            "{cover:?} {lines:?}"
        );
    }
}
