//! The proposed warranty verdict, branch by branch. The demo TB-32 is covered for 24 months and
//! 150 000 pulls; anvil, collet, springs and packs wear and are excluded.

use jiff::civil::{Date, date};
use shop::counter::AnewIn;
use shop::entry::{Cover, PackState};
use shop::job::{Command, ReceiveIn, receive};
use shop::sheet::UNLISTED;
use shop::warranty::{Proposal, propose};
use uuid::Uuid;

use crate::bench::{Bench, TODAY, arg, desk, faults, model, receipt};
use crate::walk::{cause, not_safe};

const TB: &str = "tulvane-tb-32";

fn judged(change: impl FnOnce(&mut ReceiveIn), causes: &[&str]) -> Proposal {
    let mut input = receipt(model(TB), &["no-start"]);
    change(&mut input);
    let mut bench = Bench::taken_in(&input);
    bench.does(not_safe());
    for id in causes {
        bench.does(cause(id));
    }
    propose(&bench.job(), model(TB), faults(), &[], TODAY)
}

#[track_caller]
fn is(found: &Proposal, cover: Cover, term: &str, evidence: &str) {
    let what = (found.cover, found.term.id, found.evidence.id);
    assert_eq!(what, (cover, term, evidence));
}

fn sold(on: Date) -> impl FnOnce(&mut ReceiveIn) {
    move |input| input.sold = Some(on)
}

#[test]
fn a_defect_in_time_is_covered() {
    let found = judged(|_| {}, &["switch-worn"]);
    is(&found, Cover::Covered, "term-defect", "evidence-in-time");
}

#[test]
fn the_last_day_is_still_covered() {
    for (day, cover) in [
        (date(2024, 11, 25), Cover::Covered),
        (date(2024, 11, 26), Cover::Covered),
        (date(2024, 11, 24), Cover::NotCovered),
        (date(2000, 1, 1), Cover::NotCovered),
    ] {
        let found = judged(sold(day), &["switch-worn"]);
        assert_eq!(found.cover, cover, "{day}");
    }
    let late = judged(sold(date(2024, 11, 24)), &["switch-worn"]);
    is(&late, Cover::NotCovered, "term-months", "evidence-sold");
    assert_eq!(arg(&late.evidence, "until"), "2026-11-24");
}

#[test]
fn the_last_pull_is_still_covered() {
    for (counter, cover) in [(150_000, Cover::Covered), (150_001, Cover::NotCovered)] {
        let found = judged(|i| i.counter = Some(counter), &["switch-worn"]);
        assert_eq!(found.cover, cover, "{counter}");
    }
    let found = judged(|i| i.counter = Some(150_001), &["switch-worn"]);
    is(&found, Cover::NotCovered, "term-pulls", "evidence-counter");
}

#[test]
fn without_the_counter_nobody_can_say_that_the_pulls_were_kept() {
    let found = judged(|i| i.counter = None, &["switch-worn"]);
    is(
        &found,
        Cover::CannotTell,
        "term-pulls",
        "evidence-no-counter",
    );
    // What is not covered anyway needs no counter.
    let found = judged(|i| i.counter = None, &["collet-teeth-worn"]);
    is(&found, Cover::NotCovered, "term-wear", "evidence-wear");
}

#[test]
fn without_the_day_of_sale_nobody_can_say() {
    let found = judged(|i| i.sold = None, &["switch-worn"]);
    is(&found, Cover::CannotTell, "term-months", "evidence-no-sale");
}

#[test]
fn a_missing_internal_part_ends_it() {
    // Kit of the demo sheet: the fourth line is the tail collector, internal; the fifth the wrench.
    let found = judged(|i| i.came[3] = 0, &["switch-worn"]);
    is(
        &found,
        Cover::NotCovered,
        "term-complete",
        "evidence-missing",
    );
    assert_eq!(arg(&found.evidence, "items"), "Tail collector");
    let found = judged(|i| i.came[4] = 0, &["switch-worn"]);
    assert_eq!(found.cover, Cover::Covered);
    // Nothing was counted: nothing came.
    let nothing_came = |i: &mut ReceiveIn| {
        i.came.clear();
        i.pack = PackState::None;
    };
    let found = judged(nothing_came, &["switch-worn"]);
    is(
        &found,
        Cover::NotCovered,
        "term-complete",
        "evidence-missing",
    );
}

#[test]
fn parts_that_wear_are_not_covered() {
    let found = judged(|_| {}, &["collet-teeth-worn"]);
    is(&found, Cover::NotCovered, "term-wear", "evidence-wear");
    assert_eq!(arg(&found.evidence, "parts"), "Collet CR8, four fingers");
}

#[test]
fn a_cause_outside_the_tool_is_no_defect() {
    let found = judged(|_| {}, &["trigger-released-early"]);
    is(&found, Cover::NotCovered, "term-defect", "evidence-no-part");
}

#[test]
fn without_a_cause_nobody_can_say() {
    let found = judged(|_| {}, &[]);
    is(&found, Cover::CannotTell, "term-cause", "evidence-no-cause");
}

#[test]
fn an_amended_receipt_changes_the_proposal() {
    let mut bench = Bench::taken_in(&receipt(model(TB), &["no-start"]));
    bench.does(not_safe());
    bench.does(cause("switch-worn"));
    bench.does(shop::job::Command::AmendReceipt {
        counter: Some(12_000),
        anew: AnewIn::default(),
        sold: None,
        first_used: None,
        complaint: "It does not start".to_owned(),
        due: None,
        reason: "the bill was for another tool".to_owned(),
    });
    let found = propose(&bench.job(), model(TB), faults(), &[], TODAY);
    assert_eq!(found.cover, Cover::CannotTell);
}

#[test]
fn a_part_that_the_model_does_not_list_leaves_it_open() {
    let lists = |name: &String| model(TB).part_called(name).is_some();
    let unlisted = faults()
        .causes
        .iter()
        .find(|c| !c.parts.is_empty() && !c.parts.iter().any(lists))
        .expect("the demo's fault model serves other drives too");
    let found = judged(|_| {}, &[&unlisted.id]);
    is(
        &found,
        Cover::CannotTell,
        "term-defect",
        "evidence-part-unlisted",
    );
}

#[test]
fn a_term_that_ends_on_a_day_that_is_not_there_ends_on_the_last_of_the_month() {
    // 24 months from 29 February 2024 is 28 February 2026.
    let until = |sold: Date| {
        let mut input = receipt(model(TB), &["no-start"]);
        input.sold = Some(sold);
        let mut bench = Bench::taken_in(&input);
        bench.does(not_safe());
        bench.does(cause("switch-worn"));
        let judged = |on| propose(&bench.job(), model(TB), faults(), &[], on).cover;
        (judged(date(2026, 2, 28)), judged(date(2026, 3, 1)))
    };
    let (last, after) = until(date(2024, 2, 29));
    assert_eq!((last, after), (Cover::Covered, Cover::NotCovered));
}

#[test]
fn of_a_cause_that_the_model_does_not_list_no_rule_can_tell() {
    let mut bench = Bench::taken_in(&receipt(model(TB), &["no-start"]));
    bench.does(not_safe());
    let unlisted = |note: &str| Command::ConfirmCause {
        causes: vec![UNLISTED.to_owned()],
        note: note.to_owned(),
    };
    bench.refuses(unlisted(" "), "note: refuse-unlisted-note");
    bench.does(unlisted("a wasp nest in the trigger"));
    let job = bench.job();
    let probability = job.cause.as_ref().and_then(|c| c.body.probability);
    assert!(
        probability.is_some_and(|p| p > 0.0 && p < 1.0),
        "{probability:?}"
    );
    let found = propose(&job, model(TB), faults(), &[], TODAY);
    is(
        &found,
        Cover::CannotTell,
        "term-cause",
        "evidence-cause-unlisted",
    );
}

const HP: &str = "skarnholt-hp-90";

/// A hydraulic tool whose months run from its first use: 36 of them.
fn used(sold: Option<Date>, first_used: Option<Date>, received: Date) -> Proposal {
    let mut input = receipt(model(HP), &["no-start"]);
    (input.sold, input.first_used) = (sold, first_used);
    let mut bench = Bench::taken_in(&input);
    bench.does(not_safe());
    bench.does(cause("relief-leaking"));
    propose(&bench.job(), model(HP), faults(), &[], received)
}

#[test]
fn months_run_from_first_use_where_the_terms_say_so() {
    let (sold, first) = (Some(date(2022, 1, 10)), Some(date(2023, 11, 25)));
    // Long after 36 months from sale.
    let last = used(sold, first, date(2026, 11, 25));
    is(&last, Cover::Covered, "term-defect", "evidence-in-time");
    let late = used(sold, first, date(2026, 11, 26));
    is(
        &late,
        Cover::NotCovered,
        "term-months-first-use",
        "evidence-first-used",
    );
    assert_eq!(
        (arg(&late.evidence, "used"), arg(&late.evidence, "until")),
        ("2023-11-25".to_owned(), "2026-11-25".to_owned())
    );
    // The day of sale is not asked for.
    assert_eq!(used(None, first, date(2026, 11, 25)), last);
}

#[test]
fn without_the_day_of_first_use_nobody_can_say() {
    let found = used(Some(date(2026, 2, 1)), None, TODAY);
    is(
        &found,
        Cover::CannotTell,
        "term-months-first-use",
        "evidence-no-first-use",
    );
}

#[test]
fn the_day_of_first_use_lies_between_the_sale_and_today() {
    let amend = |first_used| Command::AmendReceipt {
        counter: Some(12_000),
        anew: AnewIn::default(),
        sold: Some(date(2026, 2, 1)),
        first_used: Some(first_used),
        complaint: "It does not start".to_owned(),
        due: None,
        reason: "the site's list was found".to_owned(),
    };
    let mut bench = Bench::taken_in(&receipt(model(HP), &["no-start"]));
    bench.refuses(
        amend(date(2026, 1, 31)),
        "first_used: receive-first-used-early",
    );
    bench.refuses(
        amend(date(2026, 11, 26)),
        "first_used: receive-first-used-later",
    );
    for day in [date(2026, 2, 1), TODAY] {
        bench.does(amend(day));
        assert_eq!(bench.job().received.body.first_used, Some(day));
    }
    let mut input = receipt(model(HP), &["no-start"]);
    input.first_used = Some(date(2026, 1, 31));
    let refused = receive(&input, &[], Uuid::nil(), 1, Uuid::max(), &desk());
    let refused: Vec<String> = refused
        .expect_err("before the sale")
        .into_iter()
        .map(|r| format!("{}: {}", r.field, r.message.id))
        .collect();
    assert_eq!(refused, ["first_used: receive-first-used-early"]);
}
