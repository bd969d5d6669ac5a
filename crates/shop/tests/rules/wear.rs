//! Wear: which readings are of the part that is in the tool, what they say, and when a part is renewed now.

use shop::entry::Outcome;
use shop::job::Job;
use shop::sheet::{Part, Task, ToolModel, Wear};
use shop::wear::{Advice, Since, Worn, gauged_now, next_service, worn, worn_share};

use crate::bench::{Bench, desk, model};
use crate::walk::{look, plan, reading, renew, with_reason};

const TB: &str = "tulvane-tb-32";

fn dimension(part: &str, wear: &str) -> (&'static Part, &'static Wear) {
    let part = model(TB).part(part).expect("a demo part");
    let wear = part.wear.iter().find(|w| w.id == wear);
    (part, wear.expect("a demo dimension"))
}

/// A job in which the throat and the collet's crests measured so, at this counter.
fn gauged(number: u32, counter: Option<u64>, throat: f64, crests: f64) -> Bench {
    let mut bench = Bench::ready(TB);
    bench.does(plan("collet"));
    bench.does(look("make-safe", true));
    bench.does(reading("gauge-anvil-throat", "p-1", throat));
    bench.does(with_reason("gauge-nose-housing-bore", "not asked for"));
    bench.does(reading("gauge-collet-crest-flat", "c-3", crests));
    let shop::entry::Body::Received(received) = &mut bench.entries[0].body else {
        panic!("a job begins with its receipt");
    };
    received.number = number;
    received.counter = counter;
    bench
}

fn of(earlier: &[Job], this: &Job, part: &str, id: &str) -> Worn<'static> {
    worn(earlier, this, model(TB), dimension(part, id), &desk())
}

fn left(worn: &Worn) -> f64 {
    worn.left().expect("a life").0
}

#[test]
fn a_first_reading_is_worn_on_at_the_models_rate() {
    let this = gauged(1, Some(31_000), 12.96, 0.10).job();
    let throat = of(&[], &this, "anvil", "throat");
    assert_eq!(throat.since, Since::FirstReading);
    // 0.09 of 0.15 mm are left of 60 000 pulls.
    assert!((left(&throat) - 36_000.0).abs() < 1.0);
    // Without a counter, too.
    let this = gauged(1, None, 12.96, 0.10).job();
    assert!((left(&of(&[], &this, "anvil", "throat")) - 36_000.0).abs() < 1.0);
}

#[test]
fn earlier_readings_of_the_same_part_tell_how_fast_it_wears() {
    let first = gauged(1, Some(20_000), 12.92, 0.10).job();
    let fast = gauged(2, Some(30_000), 12.98, 0.10).job();
    let slow = gauged(2, Some(30_000), 12.93, 0.10).job();
    let alone = left(&of(&[], &fast, "anvil", "throat"));
    let known = of(std::slice::from_ref(&first), &fast, "anvil", "throat");
    assert_eq!(known.history.readings.len(), 2);
    assert!(left(&known) < alone, "0.06 mm in 10 000 pulls, not 0.025");
    let slow_alone = left(&of(&[], &slow, "anvil", "throat"));
    assert!(left(&of(&[first], &slow, "anvil", "throat")) > slow_alone);
}

#[test]
fn a_renewed_part_begins_anew() {
    let mut first = gauged(1, Some(20_000), 12.92, 0.62);
    first.does(renew("collet"));
    let first = first.job();
    let this = gauged(2, Some(30_000), 12.95, 0.20).job();
    let earlier = [first];
    let crests = of(&earlier, &this, "collet", "crest-flat");
    assert_eq!(crests.since, Since::Renewed(20_000));
    assert_eq!(crests.history.readings.len(), 1);
    assert_eq!(crests.history.left_out, 1);
    // The anvil was not renewed.
    assert_eq!(
        of(&earlier, &this, "anvil", "throat")
            .history
            .readings
            .len(),
        2
    );
}

#[test]
fn a_part_that_measures_newer_than_before_was_renewed_elsewhere() {
    let first = gauged(1, Some(20_000), 12.92, 0.40).job();
    let this = gauged(2, Some(30_000), 12.95, 0.12).job();
    let crests = of(&[first], &this, "collet", "crest-flat");
    assert_eq!(
        (crests.since, crests.history.left_out),
        (Since::FirstReading, 1)
    );
    // 0.28 mm further off the limit than both doubts together; nearer by less is one part, read twice.
    let first = gauged(1, Some(20_000), 12.92, 0.13).job();
    let this = gauged(2, Some(30_000), 12.95, 0.12).job();
    assert_eq!(
        of(&[first], &this, "collet", "crest-flat").history.left_out,
        0
    );
}

#[test]
fn a_counter_that_fell_was_changed() {
    let first = gauged(1, Some(20_000), 12.92, 0.10).job();
    let this = gauged(2, Some(900), 12.95, 0.20).job();
    let throat = of(&[first], &this, "anvil", "throat");
    assert_eq!(
        (throat.since, throat.history.left_out),
        (Since::FirstReading, 1)
    );
    assert_eq!(throat.history.readings.len(), 1);
}

#[test]
fn a_reading_with_a_gauge_out_of_date_is_no_evidence() {
    let mut bench = gauged(1, Some(20_000), 12.92, 0.10);
    // C-5 was due on 2026-09-15.
    bench.does(reading("gauge-collet-crest-flat", "c-5", 0.30));
    let crests = of(&[], &bench.job(), "collet", "crest-flat");
    let read: Vec<f64> = crests.history.readings.iter().map(|r| r.value).collect();
    assert_eq!(read, [0.10]);
}

#[test]
fn measured_again_in_one_job_the_newer_reading_stands() {
    let mut bench = gauged(1, Some(20_000), 12.92, 0.10);
    bench.does(reading("gauge-collet-crest-flat", "c-3", 0.30));
    let crests = of(&[], &bench.job(), "collet", "crest-flat");
    let read: Vec<f64> = crests.history.readings.iter().map(|r| r.value).collect();
    assert_eq!(read, [0.30]);
}

#[test]
fn a_part_that_does_not_last_until_its_next_service_is_replaced_now() {
    // The collet's task comes every 20 000 pulls: from 39 000 on the next is at 40 000, which is less than a
    // tenth of an interval off, so it counts as made now, and 21 000 pulls lie ahead.
    let crests = |counter, measured| {
        let this = gauged(1, Some(counter), 12.96, measured).job();
        let crests = of(&[], &this, "collet", "crest-flat");
        let service = crests.service.expect("a task");
        assert_eq!(service.task.id, "collet");
        (
            service.in_pulls,
            crests.risk.expect("a life"),
            crests.advice,
        )
    };
    let (in_pulls, _, advice) = crests(39_000, 0.30);
    // A new one would not last them either: it is looked at before.
    assert_eq!(in_pulls, 21_000);
    assert!(matches!(advice, Advice::LookAfter(_)), "{advice:?}");
    // 0.20 mm in 11 000 pulls come to the risk; a new one has 0.50 for them.
    let (in_pulls, _, advice) = crests(29_000, 0.30);
    assert_eq!((in_pulls, advice), (11_000, Advice::ReplaceNow));
    // A tenth of an interval and more away it is waited for.
    let (in_pulls, risk, advice) = crests(38_000, 0.30);
    assert_eq!((in_pulls, advice), (2_000, Advice::Keep));
    assert!(risk < 0.01, "{risk}");
    // 0.42 mm in 11 000 pulls: 0.0382 for each thousand, 1.39 spreads of 0.01125 over 0.0225, Φ(−1.39) = 0.08.
    let (in_pulls, risk, advice) = crests(29_000, 0.08);
    assert_eq!((in_pulls, advice), (11_000, Advice::Keep));
    assert!((risk - 0.08).abs() < 0.01, "{risk}");
    // Beyond its limit it goes whatever the risk.
    let this = gauged(1, Some(29_000), 12.96, 0.62).job();
    let crests = of(&[], &this, "collet", "crest-flat");
    assert_eq!(crests.newest().expect("read").outcome, Outcome::Reject);
    assert_eq!((crests.advice, left(&crests)), (Advice::ReplaceNow, 0.0));
}

#[test]
fn a_part_is_replaced_now_only_where_a_new_one_would_last_longer() {
    let this = |throat, crests| gauged(1, Some(40_000), throat, crests).job();
    let crests = |measured| of(&[], &this(12.96, measured), "collet", "crest-flat");
    // As new at the beginning of an interval of its whole life, 20 000 pulls: half of all new ones fail in it.
    let as_new = crests(0.05);
    assert!(as_new.risk.expect("a life") > 0.3, "{:?}", as_new.risk);
    let Advice::LookAfter(pulls) = as_new.advice else {
        panic!("{:?}", as_new.advice);
    };
    // There the risk is the shop's 10 %, and by then it is not.
    let life = as_new.life.as_ref().expect("a life");
    assert!((life.beyond_after(pulls as f64) - 0.10).abs() < 1e-3);
    // By hand, without the doubt of the reading: 20 000 of life, 50 % off; Φ(−1.2816) = 0.10, so
    // 20 000 / (1 + 0.5 · 1.2816) = 12 190.
    assert!((12_000..12_190).contains(&pulls), "{pulls}");
    // Next to its limit it has not a tenth of what a new one has.
    assert_eq!(crests(0.45).advice, Advice::ReplaceNow);
    assert!(matches!(crests(0.30).advice, Advice::LookAfter(_)));
}

#[test]
fn a_new_part_is_taken_to_wear_as_fast_as_the_one_that_it_replaces() {
    // 0.30 mm in 6000 pulls, twice as fast as the sheet says: a new one, too, is over within 11 000.
    let first = gauged(1, Some(23_000), 12.92, 0.05).job();
    let this = gauged(2, Some(29_000), 12.92, 0.35).job();
    let own = of(&[first], &this, "collet", "crest-flat");
    assert_eq!(own.service.expect("a task").in_pulls, 11_000);
    assert!(
        matches!(own.advice, Advice::LookAfter(_)),
        "{:?}",
        own.advice
    );
    let alone = of(&[], &this, "collet", "crest-flat");
    assert_eq!(alone.advice, Advice::ReplaceNow);
}

#[test]
fn the_shop_says_how_much_risk_it_takes() {
    use crate::demo_sheets::demo_files;
    use shop::sheet::{Shelf, read};
    let advice = |key: &str| {
        let mut shelf = Shelf::default();
        for (name, text) in demo_files() {
            let text = text.replace("joints_to_sign_off = 3\n", key);
            shelf.put(read(&name, &text).expect("good"), text);
        }
        let this = gauged(1, Some(29_000), 12.96, 0.20).job();
        let desk = shop::job::Desk {
            shelf: &shelf,
            ..desk()
        };
        let crests = worn(
            &[],
            &this,
            model(TB),
            dimension("collet", "crest-flat"),
            &desk,
        );
        (crests.risk.expect("a life"), crests.advice)
    };
    let (risk, usual) = advice("joints_to_sign_off = 3\n");
    assert!((0.10..0.5).contains(&risk), "{risk}");
    assert_eq!(usual, Advice::ReplaceNow, "over 10 %");
    assert_eq!(
        advice("joints_to_sign_off = 3\nwear_risk = 0.5\n").1,
        Advice::Keep
    );
}

#[test]
fn a_part_without_life_or_history_gets_no_guess() {
    let mut bench = Bench::ready(TB);
    bench.does(plan("collet"));
    bench.does(look("make-safe", true));
    bench.does(reading("gauge-anvil-throat", "p-1", 12.96));
    bench.does(reading("gauge-nose-housing-bore", "c-3", 22.03));
    let bore = of(&[], &bench.job(), "nose-housing", "bore");
    assert!(bore.life.is_none());
    assert_eq!(bore.advice, Advice::CannotTell);
}

#[test]
fn what_was_gauged_is_listed_and_what_was_renewed_is_gone() {
    let mut bench = gauged(1, Some(29_000), 12.96, 0.62);
    let listed = |bench: &Bench| -> Vec<String> {
        let job = bench.job();
        let all = gauged_now(&[], &job, model(TB), &desk());
        all.iter()
            .map(|w| format!("{}-{}", w.part.id, w.wear.id))
            .collect()
    };
    assert_eq!(listed(&bench), ["anvil-throat", "collet-crest-flat"]);
    bench.does(renew("collet"));
    assert_eq!(listed(&bench), ["anvil-throat"]);
}

#[test]
fn a_task_that_looks_at_the_part_comes_before_the_next_one_of_all() {
    let service = |part: &str, counter| {
        let service = next_service(model(TB), part, counter).expect("a task");
        (service.task.id.clone(), service.in_pulls)
    };
    // Called after the part, named in `parts`, neither.
    assert_eq!(service("collet", Some(1000)), ("collet".to_owned(), 19_000));
    assert_eq!(service("anvil", Some(1000)), ("collet".to_owned(), 19_000));
    assert_eq!(service("spacer", Some(1000)), ("wash".to_owned(), 4000));
    assert_eq!(
        service("ball-screw", None),
        ("screw-and-bearing".to_owned(), 150_000)
    );
    // On its day it is made now.
    assert_eq!(service("collet", Some(20_000)).1, 20_000);
    let mut bare: ToolModel = model(TB).clone();
    bare.tasks.retain(|task: &Task| task.every_shift);
    assert!(next_service(&bare, "collet", None).is_none());
}

#[test]
fn the_fault_finder_hears_how_likely_a_part_is_worn() {
    let share = |earlier: &[Job], counter| {
        let mut this = Bench::received(TB, &["jaws-slip"]).job();
        this.received.body.number = 9;
        this.received.body.counter = Some(counter);
        worn_share(earlier, &this, model(TB), "collet", &desk())
    };
    assert_eq!(share(&[], 29_000), None, "nobody knows its age");
    let mut first = gauged(1, Some(20_000), 12.92, 0.62);
    first.does(renew("collet"));
    let earlier = [first.job()];
    let mut before = 0.0;
    for counter in [24_000, 30_000, 40_000, 50_000, 80_000] {
        let worn = share(&earlier, counter).expect("renewed");
        assert!(worn > before, "{counter}: {worn}");
        before = worn;
    }
    // At the life that the sheet states as likely as not.
    assert!((share(&earlier, 40_000).expect("renewed") - 0.5).abs() < 1e-6);
    assert_eq!(share(&earlier, 900), None, "the counter was changed");
}
