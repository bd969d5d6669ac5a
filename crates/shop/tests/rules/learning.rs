//! What closed jobs teach the fault model.

use jiff::{Timestamp, ToSpan};
use proptest::prelude::*;
use shop::diagnosis::diagnose;
use shop::entry::{Body, Entry, LEARNING, LearntNumber, PinRecord, Said};
use shop::learning::{Counted, LearningCommand, Lesson, Lessons, Rulings, State, decide, lesson};
use shop::sheet::{Drive, FaultModel};
use uuid::Uuid;

use crate::bench::{Bench, check, desk, faults, person, shelf};
use crate::walk;

const WORN: &str = "collet-teeth-worn";

fn day(n: i64) -> Timestamp {
    let first: Timestamp = "2026-01-05T08:00:00Z".parse().expect("a time");
    first + (n * 24).hours()
}

/// A battery tool of its own, in on `day` and out two days later, slipping, with these causes.
fn closed(number: u128, from: i64, causes: &[&str]) -> Lesson {
    Lesson {
        job: Uuid::from_u128(1000 + number),
        tool: Uuid::from_u128(number),
        model: PinRecord {
            id: "tulvane-tb-32".to_owned(),
            revision: 1,
        },
        faults: "workshop".to_owned(),
        opened: day(from),
        closed: day(from + 2),
        counter: Some(10_000),
        counter_anew: false,
        mended: true,
        causes: causes.iter().map(|c| (*c).to_owned()).collect(),
        symptoms: vec![("jaws-slip".to_owned(), true)],
        checks: vec![("lens-on-teeth".to_owned(), true)],
    }
}

fn counted<'a>(model: &'a FaultModel, all: &[Lesson], said: &[Entry]) -> Counted<'a> {
    let lessons = Lessons::of(model, all, (None, day(3_000)), shelf());
    let rulings = Rulings::fold("workshop", said, day(3_000));
    Counted::of(model, Drive::Battery, &lessons, &rulings, shelf())
}

fn jobs_in(faults: &FaultModel) -> Option<u32> {
    faults.own.map(|own| own.jobs)
}

fn rate(cause: &str) -> LearntNumber {
    LearntNumber::Rate {
        cause: cause.to_owned(),
        on: "battery".to_owned(),
    }
}

fn number<'a>(counted: &'a Counted, which: &LearntNumber) -> &'a shop::learning::Learnt {
    let mut numbers = counted.numbers.iter();
    let found = numbers.find(|n| n.number == *which);
    found.unwrap_or_else(|| panic!("{which:?}"))
}

fn cases(counted: &Counted, which: &LearntNumber) -> (u32, u32) {
    let cases = number(counted, which).cases;
    (cases.yes, cases.all)
}

fn said(bodies: Vec<(i64, Body)>) -> Vec<Entry> {
    let entry = |(i, (on, body)): (usize, (i64, Body))| Entry {
        subject: LEARNING,
        version: i as u32 + 1,
        at: day(on),
        by: person("manager"),
        body,
    };
    bodies.into_iter().enumerate().map(entry).collect()
}

fn rule(command: LearningCommand) -> Body {
    let bodies = decide(&Rulings::default(), command, faults());
    bodies.expect("allowed").remove(0)
}

#[test]
fn a_closed_job_with_a_proved_mending_teaches() {
    let mut bench = Bench::proved();
    assert_eq!(lesson(&bench.entries), None, "not over yet");
    bench.does(walk::hand_back());
    let taught = lesson(&bench.entries).expect("it is over");
    assert_eq!(taught.job, bench.job().id);
    assert_eq!(taught.causes, bench.job().cause.expect("known").body.causes);
    assert!(!taught.causes.is_empty());
    let proof = |e: &Entry| matches!(e.body, Body::ProofSignedOff(_));
    let unproved: Vec<Entry> = bench
        .entries
        .iter()
        .filter(|e| !proof(e))
        .cloned()
        .collect();
    // Nobody knows whether the mending held: it counts for nothing but the mending before.
    assert!(taught.mended && !lesson(&unproved).expect("over").mended);
}

#[test]
fn what_readings_said_is_kept_with_the_cause() {
    let mut bench = Bench::received("tulvane-tb-32", &["jaws-slip"]);
    bench.does(check("lens-on-teeth", Said::Yes));
    let bench = bench.found(WORN);
    let handed = bench.job().cause.expect("confirmed").body.handed;
    // The pull as found passed, and answers the check that asks the same; the lens was a person's.
    assert!(!handed.no.is_empty() && handed.yes.is_empty(), "{handed:?}");
    let seen = bench.seen();
    let no: Vec<&String> = seen
        .checks
        .iter()
        .filter(|(_, said)| **said == Said::No)
        .map(|(id, _)| id)
        .collect();
    assert_eq!(handed.no.iter().collect::<Vec<_>>(), no);
}

#[test]
fn nothing_closed_leaves_the_sheet_as_it_is() {
    let same = counted(faults(), &[], &[]).faults_for("tulvane-tb-32");
    for (learned, sheet) in same.causes.iter().zip(&faults().causes) {
        assert!((learned.per_1000 - sheet.per_1000).abs() < 1e-9);
        assert_eq!(learned.shows, sheet.shows);
    }
    assert_eq!(same.checks, faults().checks);
}

#[test]
fn counts_are_added_to_the_sheet_s_number_by_its_weight() {
    // Sheet: 100 jobs, 20 answers. Of four jobs three had the worn collet, one the worn anvil.
    let all = [
        closed(1, 0, &[WORN]),
        closed(2, 5, &[WORN]),
        closed(3, 9, &[WORN]),
        closed(4, 9, &["anvil-bore-worn"]),
    ];
    let counted = counted(faults(), &all, &[]);
    assert_eq!(counted.jobs, 4);
    assert_eq!(cases(&counted, &rate(WORN)), (3, 4));
    assert_eq!(cases(&counted, &rate("anvil-bore-worn")), (1, 4));
    assert_eq!(cases(&counted, &rate("unlisted")), (0, 4));
    let sheet = faults().cause(WORN).expect("there");
    let learned = counted.faults_for("tulvane-tb-32");
    let worn = learned.cause(WORN).expect("there");
    let expected = (100.0 * sheet.per_1000 / 1000.0 + 3.0) / 104.0 * 1000.0;
    assert!((worn.per_1000 - expected).abs() < 1e-9, "{}", worn.per_1000);
    // The lens said yes in all three; of the anvil it knows nothing, so that was a false alarm.
    let yes = LearntNumber::Yes {
        check: "lens-on-teeth".to_owned(),
        cause: WORN.to_owned(),
    };
    let alarm = LearntNumber::FalseAlarm {
        check: "lens-on-teeth".to_owned(),
    };
    assert_eq!(cases(&counted, &yes), (3, 3));
    assert_eq!(cases(&counted, &alarm), (1, 1));
    // Slipping was reported in all three. As the sheet counts, a link beside the leak.
    let shows = LearntNumber::Shows {
        cause: WORN.to_owned(),
        symptom: "jaws-slip".to_owned(),
    };
    assert_eq!(cases(&counted, &shows), (3, 3));
    let chance = |c: &shop::sheet::Cause| {
        c.shows
            .iter()
            .find(|(id, _)| id == "jaws-slip")
            .expect("shown")
            .1
    };
    let leak = faults().leak;
    let reported = (20.0 * (1.0 - (1.0 - chance(sheet)) * (1.0 - leak)) + 3.0) / 23.0;
    let link = (reported - leak) / (1.0 - leak);
    assert!((chance(worn) - link).abs() < 1e-12);
    assert_eq!(jobs_in(&learned), Some(4));
}

#[test]
fn a_tool_that_comes_back_speaks_against_the_confirmed_cause() {
    let mut again = closed(1, 40, &["anvil-bore-worn"]);
    again.job = Uuid::from_u128(9);
    again.symptoms.push(("under-swaged".to_owned(), true));
    let first = {
        let mut first = closed(1, 0, &[WORN]);
        first.symptoms.push(("under-swaged".to_owned(), true));
        first
    };
    let both = counted(faults(), &[first.clone(), again.clone()], &[]);
    // A worn anvil shows the same complaint: the first job was not the collet.
    assert_eq!(cases(&both, &rate(WORN)), (0, 2));
    assert_eq!(cases(&both, &rate("anvil-bore-worn")), (1, 2));
    let came_back = |counted: &Counted, cause: &str| {
        let found = counted.came_back.iter().find(|(id, _)| *id == cause);
        found
            .map(|(_, cases)| (cases.yes, cases.all))
            .expect("listed")
    };
    assert_eq!(came_back(&both, WORN), (1, 1));
    assert_eq!(came_back(&both, "anvil-bore-worn"), (0, 1));
    // Much later and many pulls on it is another fault.
    let mut later = again.clone();
    (later.opened, later.closed) = (day(200), day(202));
    later.counter = Some(20_000);
    let apart = counted(faults(), &[first.clone(), later.clone()], &[]);
    assert_eq!(cases(&apart, &rate(WORN)), (1, 2));
    // As late, but hardly used since.
    later.counter = Some(12_000);
    let unused = counted(faults(), &[first.clone(), later], &[]);
    assert_eq!(cases(&unused, &rate(WORN)), (0, 2));
    // Another complaint with a cause that shows nothing of the first.
    again.causes = vec!["pack-aged".to_owned()];
    again.symptoms = vec![("stalls-under-load".to_owned(), true)];
    assert!(faults().cause("pack-aged").is_none_or(|c| {
        c.shows
            .iter()
            .all(|(id, _)| id != "jaws-slip" && id != "under-swaged")
    }));
    let other = counted(faults(), &[first, again], &[]);
    assert_eq!(cases(&other, &rate(WORN)), (1, 2));
}

#[test]
fn a_manager_pins_a_number_releases_it_and_begins_anew() {
    let all = [closed(1, 0, &[WORN]), closed(2, 20, &[WORN])];
    let (number_of, reason) = (rate(WORN), "as agreed".to_owned());
    let pin = rule(LearningCommand::Pin {
        number: number_of.clone(),
        value: 0.25,
        reason: reason.clone(),
    });
    let pinned = said(vec![(10, pin)]);
    let held = counted(faults(), &all, &pinned);
    assert_eq!(number(&held, &number_of).state(), State::Pinned);
    assert!(
        (held
            .faults_for("tulvane-tb-32")
            .cause(WORN)
            .expect("there")
            .per_1000
            - 250.0)
            .abs()
            < 1e-9
    );
    // The counts go on beneath it, and count again once it is released.
    assert_eq!(cases(&held, &number_of), (2, 2));
    let release = LearningCommand::Release {
        number: number_of.clone(),
        reason: reason.clone(),
    };
    let rulings = Rulings::fold("workshop", &pinned, day(11));
    let released = decide(&rulings, release.clone(), faults())
        .expect("pinned")
        .remove(0);
    let mut entries = pinned.clone();
    entries.extend(said(vec![(12, released)]));
    assert_eq!(
        number(&counted(faults(), &all, &entries), &number_of).state(),
        State::Learned
    );
    assert!(
        decide(&Rulings::default(), release, faults()).is_err(),
        "it is not pinned"
    );
    // Anew from day 10: the first job counts no more, for this number alone.
    let anew = |number| {
        rule(LearningCommand::Reset {
            number,
            reason: reason.clone(),
        })
    };
    let one = counted(
        faults(),
        &all,
        &said(vec![(10, anew(Some(number_of.clone())))]),
    );
    assert_eq!(cases(&one, &number_of), (1, 1));
    assert_eq!(cases(&one, &rate("anvil-bore-worn")), (0, 2));
    let every = counted(faults(), &all, &said(vec![(10, anew(None))]));
    assert_eq!(cases(&every, &rate("anvil-bore-worn")), (0, 1));
    // What was said after the moment that is asked for does not count.
    assert!(Rulings::fold("workshop", &pinned, day(9)).is_empty());
}

#[test]
fn what_cannot_be_ruled_is_refused() {
    let refused = |command| {
        let refusals = decide(&Rulings::default(), command, faults()).expect_err("refused");
        refusals
            .iter()
            .map(|r| format!("{}: {}", r.field, r.message.id))
            .collect::<Vec<_>>()
    };
    let pin = |number, value, reason: &str| LearningCommand::Pin {
        number,
        value,
        reason: reason.to_owned(),
    };
    assert_eq!(
        refused(pin(rate("gremlins"), 0.1, "why")),
        [": refuse-no-number"]
    );
    assert_eq!(
        refused(pin(rate(WORN), 1.2, "why")),
        ["value: refuse-share"]
    );
    assert_eq!(
        refused(pin(rate(WORN), f64::NAN, "why")),
        ["value: refuse-share"]
    );
    assert_eq!(
        refused(pin(rate(WORN), 0.1, " ")),
        ["reason: refuse-reason"]
    );
}

#[test]
fn a_job_is_worked_with_what_was_known_when_its_cause_was_confirmed() {
    let mut bench = Bench::proved();
    bench.does(walk::hand_back());
    let job = bench.job();
    let confirmed = job.cause.as_ref().expect("known").at;
    let mut before = closed(1, 0, &[WORN]);
    (before.opened, before.closed) = (confirmed - 48.hours(), confirmed - 24.hours());
    let mut after = closed(2, 0, &[WORN]);
    (after.opened, after.closed) = (confirmed - 48.hours(), confirmed + 24.hours());
    let own = lesson(&bench.entries).expect("over");
    let now = confirmed + 1_000.hours();
    let known = |closed: &[Lesson]| job.learned_faults(closed, &[], now, shelf());
    assert_eq!(known(&[own, after.clone()]), None);
    let with = known(&[before, after]).expect("one counts");
    assert_eq!(jobs_in(&with), Some(1));
    // An open job knows all of it.
    let open = Bench::received("tulvane-tb-32", &["jaws-slip"]);
    let all = [closed(1, 0, &[WORN]), closed(2, 3, &[WORN])];
    let learned = open.job().learned_faults(&all, &[], day(3_000), shelf());
    assert_eq!(learned.and_then(|f| jobs_in(&f)), Some(2));
}

#[test]
fn the_page_reckons_with_what_was_learned_and_says_so() {
    let bench = Bench::received("tulvane-tb-32", &["jaws-slip"]);
    let all: Vec<Lesson> = (0..60)
        .map(|n| closed(n, n as i64, &["collet-teeth-packed"]))
        .collect();
    let job = bench.job();
    let learned = job
        .learned_faults(&all, &[], day(3_000), shelf())
        .expect("learned");
    let desk = shop::job::Desk {
        learned: Some(&learned),
        ..desk()
    };
    assert_eq!(job.faults(&desk).and_then(jobs_in), Some(60));
    let rank = |model: &FaultModel| {
        let found = diagnose(model, Drive::Battery, &bench.seen()).expect("possible");
        let place = found
            .ranked
            .iter()
            .position(|r| r.cause.is_some_and(|c| c.id == "collet-teeth-packed"));
        let working = &found.ranked[0].working;
        let notes = format!("{working:?}").contains("note-fault-learned");
        (place.expect("listed"), notes)
    };
    let (sheet, says) = rank(faults());
    assert!(sheet > 0 && !says, "{sheet}");
    assert_eq!(rank(&learned), (0, true));
}

#[test]
fn a_come_back_is_told_past_another_job_between_and_not_over_a_counter_that_began_anew() {
    let related = |number: u128, from, causes: &[&str], counter| Lesson {
        job: Uuid::from_u128(500 + number),
        counter: Some(counter),
        ..closed(1, from, causes)
    };
    let first = related(1, 0, &[WORN], 12_000);
    let between = related(2, 10, &[], 12_400);
    let again = related(3, 20, &[WORN], 12_900);
    let both = counted(faults(), &[first.clone(), between, again], &[]);
    // Of the two with the cause the first came back; the job between had none.
    assert_eq!(cases(&both, &rate(WORN)), (1, 3));
    let mut later = related(4, 400, &[WORN], 15_000);
    assert_eq!(
        cases(
            &counted(faults(), &[first.clone(), later.clone()], &[]),
            &rate(WORN)
        ),
        (1, 2)
    );
    later.counter_anew = true;
    assert_eq!(
        cases(&counted(faults(), &[first, later], &[]), &rate(WORN)),
        (2, 2)
    );
}

#[test]
fn days_of_a_come_back_are_counted_from_the_return() {
    // In for 60 days, back 80 days after it went: 140 after it came.
    let mut long = closed(1, 0, &[WORN]);
    long.closed = day(60);
    let mut back = closed(1, 140, &[WORN]);
    (back.job, back.counter) = (Uuid::from_u128(7), Some(90_000));
    assert_eq!(
        cases(
            &counted(faults(), &[long.clone(), back.clone()], &[]),
            &rate(WORN)
        ),
        (1, 2)
    );
    (back.opened, back.closed) = (day(152), day(154));
    assert_eq!(
        cases(&counted(faults(), &[long, back], &[]), &rate(WORN)),
        (2, 2)
    );
}

#[test]
fn a_come_back_that_was_not_mended_speaks_against_the_mending_before_and_for_nothing() {
    let first = closed(1, 0, &[WORN]);
    let declined = Lesson {
        job: Uuid::from_u128(7),
        mended: false,
        ..closed(1, 20, &[WORN])
    };
    let counted = counted(faults(), &[first, declined], &[]);
    assert_eq!((counted.jobs, cases(&counted, &rate(WORN))), (1, (0, 1)));
}

#[test]
fn a_tool_that_came_for_a_set_up_alone_teaches_nothing() {
    let mut bench = Bench::proved();
    bench.does(walk::hand_back());
    assert!(lesson(&bench.entries).is_some());
    for entry in &mut bench.entries {
        if let Body::CauseConfirmed(cause) = &mut entry.body {
            (cause.causes, cause.set_up_only) = (Vec::new(), true);
        }
    }
    assert_eq!(lesson(&bench.entries), None);
}

#[test]
fn a_model_with_a_rate_of_its_own_is_counted_by_itself() {
    let mut own = faults().clone();
    let cause = own.causes.iter_mut().find(|c| c.id == WORN).expect("there");
    let sheet = cause.per_1000;
    cause.per_1000_on.insert("tulvane-tb-32".to_owned(), 400.0);
    let all = [closed(1, 0, &[WORN]), closed(2, 5, &[WORN])];
    let counted = counted(&own, &all, &[]);
    let of_model = LearntNumber::Rate {
        cause: WORN.to_owned(),
        on: "tulvane-tb-32".to_owned(),
    };
    assert_eq!(
        (cases(&counted, &of_model), cases(&counted, &rate(WORN))),
        ((2, 2), (0, 0))
    );
    // 0.4 counts as 100 jobs: 42 of 102. Another model keeps the sheet's rate.
    let now = |model: &str| {
        counted
            .faults_for(model)
            .cause(WORN)
            .expect("there")
            .per_1000
    };
    assert!((now("tulvane-tb-32") - 42_000.0 / 102.0).abs() < 1e-9);
    assert!((now("another") - sheet).abs() < 1e-9);
}

#[test]
fn a_tool_that_sets_none_of_its_fasteners_says_nothing_of_a_cause() {
    let all = [closed(1, 0, &[WORN]), closed(2, 5, &[WORN])];
    let counted = counted(faults(), &all, &[]);
    assert_eq!(cases(&counted, &rate("nut-mandrel-worn")), (0, 0));
    assert_eq!(cases(&counted, &rate(WORN)), (2, 2));
}

#[test]
fn a_check_says_yes_with_a_cause_no_less_than_without_it() {
    // Answers no, again and again, with the cause there: below the false alarm the number does not go.
    let all: Vec<Lesson> = (0..400u128)
        .map(|n| Lesson {
            checks: vec![("lens-on-teeth".to_owned(), false)],
            ..closed(n, n as i64, &[WORN])
        })
        .collect();
    let counted = counted(faults(), &all, &[]);
    let yes = LearntNumber::Yes {
        check: "lens-on-teeth".to_owned(),
        cause: WORN.to_owned(),
    };
    let alarm = LearntNumber::FalseAlarm {
        check: "lens-on-teeth".to_owned(),
    };
    assert_eq!(
        number(&counted, &yes).share(),
        number(&counted, &alarm).share()
    );
}

#[test]
fn after_all_counts_began_anew_no_earlier_job_is_in_the_numbers() {
    let all = [closed(1, 0, &[WORN]), closed(2, 20, &[WORN])];
    let reset = rule(LearningCommand::Reset {
        number: None,
        reason: "new kind of work".to_owned(),
    });
    let counted = counted(faults(), &all, &said(vec![(10, reset)]));
    assert_eq!(
        (counted.jobs, jobs_in(&counted.faults_for("tulvane-tb-32"))),
        (1, Some(1))
    );
}

proptest! {
    #[test]
    fn the_order_in_which_jobs_are_read_does_not_matter(
        picks in prop::collection::vec((0..8u128, 0..400i64, 0..4usize), 0..20),
    ) {
        let causes = [WORN, "anvil-bore-worn", "stroke-set-short", "unlisted"];
        let mut all: Vec<Lesson> = picks
            .iter()
            .enumerate()
            .map(|(i, (tool, from, cause))| Lesson {
                job: Uuid::from_u128(i as u128),
                ..closed(*tool, *from, &[causes[*cause]])
            })
            .collect();
        let forth = counted(faults(), &all, &[]).numbers;
        all.reverse();
        prop_assert_eq!(forth, counted(faults(), &all, &[]).numbers);
    }
}
