//! The pull counter: a reading below the last one is asked, and where it began anew no difference is
//! reckoned.

use jiff::ToSpan;
use rust_decimal::Decimal;
use shop::counter::AnewIn;
use shop::entry::{Body, Cover, EstimateMade, Received};
use shop::job::{Command, Job, ReceiveIn, ToolSeen, receive};
use shop::repair_or_replace::{Known, compare};
use shop::suspect::{Pulls, Record, notice};
use shop::warranty::propose;
use shop::wear::{Since, worn};
use uuid::Uuid;

use crate::bench::{Bench, TODAY, desk, faults, model, receipt};
use crate::walk::{cause, found_joint, look, not_safe, plan, reading, renew, with_reason};

const TB: &str = "tulvane-tb-32";

/// A tool whose counter showed 12 000 when it was here last.
fn known() -> Vec<ToolSeen> {
    vec![ToolSeen {
        tool: Uuid::from_u128(5),
        serial: "T-1".to_owned(),
        model: TB.to_owned(),
        open_job: None,
        counter: Some(12_000),
    }]
}

fn typed(counter: Option<u64>, ticked: bool, reason: &str) -> ReceiveIn {
    ReceiveIn {
        counter,
        anew: AnewIn {
            ticked,
            reason: reason.to_owned(),
        },
        ..receipt(model(TB), &["jaws-slip"])
    }
}

fn taken_in(input: &ReceiveIn) -> Result<Received, Vec<String>> {
    let job = Uuid::from_u128(7);
    let done = receive(input, &known(), job, 2, Uuid::from_u128(8), &desk());
    let why = |refusals: Vec<shop::job::Refusal>| {
        let said = refusals.iter();
        said.map(|r| format!("{}: {}", r.field, r.message.id))
            .collect::<Vec<_>>()
    };
    let bodies = done.map_err(why)?;
    match bodies.into_iter().next_back() {
        Some((_, Body::Received(received))) => Ok(received),
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_counter_below_the_last_one_is_asked() {
    let fell = [
        "counter: receive-counter-fell",
        "counter_anew: receive-counter-anew",
    ];
    assert_eq!(
        taken_in(&typed(Some(500), false, "")),
        Err(fell.map(str::to_owned).to_vec())
    );
    assert_eq!(
        taken_in(&typed(Some(500), true, " ")),
        Err(vec!["counter_reason: receive-counter-reason".to_owned()])
    );
    assert_eq!(
        taken_in(&typed(Some(12_500), false, "new board")),
        Err(vec!["counter_anew: receive-counter-not-ticked".to_owned()])
    );
    let anew = taken_in(&typed(Some(500), true, "new board, says the owner")).expect("told");
    assert_eq!(anew.counter_was, Some(12_000));
    assert_eq!(
        anew.counter_anew.as_deref(),
        Some("new board, says the owner")
    );
    // It may stand still, and nobody need read it.
    for counter in [Some(12_000), Some(12_001), None] {
        let went_on = taken_in(&typed(counter, false, "")).expect("went on");
        assert_eq!(went_on.counter_anew, None);
    }
}

#[test]
fn a_receipt_is_put_right_by_the_same_rule() {
    let mut bench = Bench::received(TB, &["jaws-slip"]);
    if let Body::Received(received) = &mut bench.entries[0].body {
        received.counter_was = Some(12_000);
    }
    let amend = |counter, ticked, reason: &str| Command::AmendReceipt {
        counter: Some(counter),
        anew: AnewIn {
            ticked,
            reason: reason.to_owned(),
        },
        sold: None,
        first_used: None,
        complaint: "slips".to_owned(),
        due: None,
        reason: "misread".to_owned(),
    };
    assert_eq!(bench.refused(amend(900, false, "")).len(), 2);
    bench.does(amend(900, true, "new board"));
    let received = bench.job().received.body;
    assert_eq!(received.counter, Some(900));
    assert_eq!(received.counter_anew.as_deref(), Some("new board"));
    bench.does(amend(19_000, false, ""));
    assert_eq!(bench.job().received.body.counter_anew, None);
}

/// A job of the same tool, so many days after the first; with a counter that began anew or went on.
fn visit(number: u32, day: i64, counter: u64, anew: Option<u64>) -> Bench {
    let mut bench = Bench::received(TB, &["jaws-slip"]);
    let entry = &mut bench.entries[0];
    entry.at = desk().now + (24 * day).hours();
    let Body::Received(received) = &mut entry.body else {
        panic!("a job begins with its receipt");
    };
    received.number = number;
    received.counter = Some(counter);
    received.counter_was = anew;
    received.counter_anew = anew.map(|_| "new board".to_owned());
    bench
}

fn gauged(mut bench: Bench, throat: f64) -> Job {
    bench = bench.found("collet-teeth-worn").agreed();
    bench.does(plan("collet"));
    bench.does(look("make-safe", true));
    bench.does(reading("gauge-anvil-throat", "p-1", throat));
    bench.does(with_reason("gauge-nose-housing-bore", "not asked for"));
    bench.does(renew("collet"));
    bench.job()
}

#[test]
fn wear_is_counted_from_where_the_counter_began_anew() {
    let first = gauged(visit(1, 0, 20_000, None), 12.92);
    let anew = visit(2, 30, 500, Some(21_000)).job();
    let this = gauged(visit(3, 90, 30_000, None), 12.95);
    let part = model(TB).part("anvil").expect("a demo part");
    let throat = part.wear.iter().find(|w| w.id == "throat");
    let of = |earlier: &[Job]| {
        let throat = (part, throat.expect("a demo dimension"));
        worn(earlier, &this, model(TB), throat, &desk()).history
    };
    let went_on = of(std::slice::from_ref(&first));
    assert_eq!((went_on.readings.len(), went_on.anew), (2, None));
    // 20 000 and 30 000 lie on either side of another counter.
    let apart = of(&[first.clone(), anew.clone()]);
    assert_eq!((apart.readings.len(), apart.anew), (1, Some(2)));
    assert_eq!(apart.left_out, 1);
    // A part renewed since counts from its own beginning.
    let collet = model(TB).part("collet").expect("a demo part");
    let crests = collet.wear.first().expect("a demo dimension");
    let renewed = gauged(visit(3, 60, 900, None), 12.93);
    let found = worn(
        &[first, anew, renewed],
        &this,
        model(TB),
        (collet, crests),
        &desk(),
    );
    assert_eq!(
        (found.since, found.history.anew),
        (Since::Renewed(30_000), None)
    );
}

#[test]
fn joints_in_doubt_are_not_reckoned_over_a_counter_that_began_anew() {
    let mut good = visit(1, 0, 10_000, None);
    good.write([shop::entry::ProofSignedOff {
        adjuster_stands: true,
        reason: String::new(),
    }
    .into()]);
    let good = good.job();
    let pulls = |earlier: &[Job], this: Bench| {
        let mut this = this;
        this.does(found_joint(
            shop::entry::Seen::PullGroovesTorn,
            &[("collar-diameter", "m-1", 13.4)],
        ));
        let this = this.job();
        let record = Record {
            earlier,
            this: &this,
            inbox: None,
            model: model(TB),
            faults: faults(),
            desk: desk(),
        };
        notice(&record).expect("something bad").pulls
    };
    let one = std::slice::from_ref(&good);
    assert_eq!(pulls(one, visit(2, 10, 12_500, None)), Pulls::Since(2_500));
    let anew = Pulls::Anew {
        job: 2,
        was: Some(11_000),
    };
    assert_eq!(pulls(one, visit(2, 10, 300, Some(11_000))), anew);
    // A visit between: the counter now lies above that of the good check, and tells no more for it.
    let between = visit(2, 10, 300, Some(11_000)).job();
    let both = [good.clone(), between];
    assert_eq!(pulls(&both, visit(3, 20, 12_500, None)), anew);
    // Before the good check it does not matter.
    let before = visit(0, -10, 300, Some(90_000)).job();
    let both = [before, good];
    assert_eq!(
        pulls(&both, visit(3, 20, 12_500, None)),
        Pulls::Since(2_500)
    );
}

#[test]
fn the_warranty_s_pulls_are_not_kept_by_a_counter_that_began_anew() {
    let judged = |was: Option<u64>, earlier: &[Job]| {
        let mut bench = visit(2, 0, 500, was);
        bench.does(not_safe());
        bench.does(cause("switch-worn"));
        let found = propose(&bench.job(), model(TB), faults(), earlier, TODAY);
        (found.cover, found.evidence.id)
    };
    assert_eq!(judged(None, &[]), (Cover::Covered, "evidence-in-time"));
    assert_eq!(
        judged(Some(90_000), &[]),
        (Cover::CannotTell, "evidence-counter-anew")
    );
    // The sheet allows 150 000.
    assert_eq!(
        judged(Some(150_001), &[]),
        (Cover::NotCovered, "evidence-counter-was")
    );
    let earlier = [visit(1, -30, 100, Some(90_000)).job()];
    assert_eq!(
        judged(None, &earlier),
        (Cover::CannotTell, "evidence-counter-anew")
    );
}

#[test]
fn a_year_s_cost_is_not_reckoned_from_a_counter_that_began_anew() {
    let priced = shop::sheet::ToolModel {
        price_new: Some(Decimal::from(1500)),
        life_years: Some(6.0),
        ..model(TB).clone()
    };
    let quote = EstimateMade::default();
    let told = |job: &Job, earlier: &[Job]| {
        let desk = crate::bench::desk();
        let known = Known {
            model: &priced,
            earlier,
            per_hour: Decimal::from(60),
            come_backs: calc::learned_share::Cases::default(),
            desk: &desk,
        };
        let found = compare(job, &quote, &known);
        found
            .expect("the sheet knows")
            .map_err(|why| why.id)
            .map(|c| c.pulls_a_year)
    };
    let first = visit(1, -365, 10_000, None).job();
    let went_on = visit(2, 0, 30_000, None).job();
    assert_eq!(told(&went_on, std::slice::from_ref(&first)), Ok(20_000));
    let anew = visit(2, 0, 30_000, Some(31_000)).job();
    assert_eq!(told(&anew, &[first]), Err("compare-counter-anew"));
}
