//! Labour as the shop's own clocks know it.

use proptest::prelude::*;
use rust_decimal::Decimal;
use shop::entry::{Body, OptionKind, Returned, RoutePlanned, StepDone};
use shop::estimate::parts_for;
use shop::job::Job;
use shop::labour::Times;
use shop::quote::proposed;
use shop::route;
use shop::sheet::Part;

use crate::bench::{Bench, arg, faults, model, person};

const TB: &str = "tulvane-tb-32";

fn done(step: &str, minutes: Option<f64>) -> Body {
    StepDone {
        step: step.to_owned(),
        minutes,
        ..StepDone::default()
    }
    .into()
}

/// A job that went down to `part`, its steps as `of` says; still open.
fn job(part: &str, of: impl Fn(&str) -> Vec<Option<f64>>) -> Bench {
    let mut bench = Bench::received(TB, &["jaws-slip"]);
    bench.write([RoutePlanned {
        down_to: part.to_owned(),
        also: Vec::new(),
        note: String::new(),
    }
    .into()]);
    let steps = route::route(model(TB), part).expect("a route");
    for step in &steps {
        for minutes in of(&step.id) {
            bench.write([done(&step.id, minutes)]);
        }
    }
    bench
}

fn ended(mut bench: Bench) -> Job {
    bench.write([Returned {
        end: None,
        to: person("owner"),
        with: Vec::new(),
        report: "1-1".to_owned(),
        authorised: person("bench"),
        note: String::new(),
        in_doubt: Vec::new(),
        doubt_reason: String::new(),
    }
    .into()]);
    bench.job()
}

/// Every step took as long.
fn even(minutes: f64) -> impl Fn(&str) -> Vec<Option<f64>> {
    move |_| vec![Some(minutes)]
}

fn part(id: &str) -> &'static Part {
    model(TB).part(id).expect("a part")
}

fn minutes(times: &Times, id: &str) -> f64 {
    times.minutes(model(TB), &[part(id)])
}

#[test]
fn without_a_time_the_sheet_stands() {
    // Anvil, housing and collet are 3 + 4 + 6 min; 40 at the bench: 0.8833 h, so 0.89.
    let times = Times::default();
    assert_eq!(minutes(&times, "collet"), 13.0);
    let working = times.working(model(TB), &[part("collet")]).expect("good");
    let shown: Vec<&str> = working.steps.iter().map(|s| s.value.as_str()).collect();
    assert_eq!(shown, ["0.89"]);
    assert_eq!(working.notes.len(), 1, "no task was timed");
    assert_eq!(times.minutes(model(TB), &[]), 0.0);
}

#[test]
fn what_was_timed_draws_the_sheet_s_minutes_towards_it_task_by_task() {
    // Two jobs to the anvil, 5 and 7 min off and on again (the sheet: 3): (4 · 3 + 5 + 7) / 6 = 4.
    let jobs = [2.5, 3.5].map(|each| ended(job("anvil", even(each))));
    let anvil = route::to(model(TB), &["anvil"]).expect("a route");
    assert_eq!(anvil.tasks()[0].steps, ["off-anvil", "fit-anvil"]);
    let times = Times::of(model(TB), &jobs);
    assert_eq!(minutes(&times, "anvil"), 4.0);
    // The anvil lies on the way to the collet: known there, too; nobody timed the rest.
    assert_eq!(minutes(&times, "collet"), 4.0 + 4.0 + 6.0);
    let working = times.working(model(TB), &[part("collet")]).expect("good");
    let shown: Vec<&str> = working.steps.iter().map(|s| s.value.as_str()).collect();
    assert_eq!(shown, ["14.0", "0.90"]);
    let note = &working.notes[1];
    assert_eq!(note.id, "note-labour-task");
    assert_eq!(arg(note, "task"), part("anvil").name);
    assert_eq!(working.given[2].value, "2", "two times");
}

#[test]
fn the_quote_charges_what_was_learned() {
    let jobs = [ended(job("collet", even(4.0)))];
    let times = Times::of(model(TB), &jobs);
    let now = Bench::received(TB, &["jaws-slip"])
        .found("collet-teeth-worn")
        .job();
    let hour = Decimal::from(60);
    let hours = |times: &Times| {
        let kind = OptionKind::Work;
        let lines = proposed(&now, model(TB), faults(), hour, kind, None, times);
        lines.last().expect("labour").line.count
    };
    let parts = parts_for(&now, model(TB), faults());
    let route = route::to(model(TB), &["collet"]).expect("a route");
    // Each task took 4 min a step; one time moves it a fifth of the way.
    let own: f64 = route
        .tasks()
        .iter()
        .map(|task| task.minutes + (4.0 * task.steps.len() as f64 - task.minutes) / 5.0)
        .sum();
    assert!((times.minutes(model(TB), &parts) - own).abs() < 1e-9);
    let wanted = Decimal::try_from(((own + 40.0) / 0.6).ceil() / 100.0).expect("money");
    assert_eq!(hours(&times), wanted);
    assert_eq!(hours(&Times::default()), Decimal::new(89, 2));
}

#[test]
fn a_time_counts_only_whole_of_an_ended_job_and_where_the_clock_was_not_forgotten() {
    let learned = |jobs: &[Job]| minutes(&Times::of(model(TB), jobs), "anvil");
    let with = |minutes: Vec<Option<f64>>| {
        let of = move |step: &str| match step {
            "fit-anvil" => minutes.clone(),
            _ => vec![Some(2.0)],
        };
        job("anvil", of)
    };
    // 2 + 5 min: (12 + 7) / 5.
    assert_eq!(learned(&[ended(with(vec![Some(5.0)]))]), 3.8);
    // Still open; a step ticked without its clock; a second go without it; a step never done.
    assert_eq!(learned(&[with(vec![Some(5.0)]).job()]), 3.0);
    for untimed in [vec![None], vec![Some(5.0), None], vec![]] {
        assert_eq!(learned(&[ended(with(untimed))]), 3.0);
    }
    // Done again with the clock: both.
    assert_eq!(learned(&[ended(with(vec![Some(5.0), Some(1.0)]))]), 4.0);
    // Fifteen minutes are five times the sheet's three; more is a clock that ran on.
    assert_eq!(
        learned(&[ended(with(vec![Some(13.0)]))]),
        (12.0 + 15.0) / 5.0
    );
    let forgotten = [ended(with(vec![Some(13.1)]))];
    assert_eq!(learned(&forgotten), 3.0);
    let times = Times::of(model(TB), &forgotten);
    let working = times.working(model(TB), &[part("anvil")]).expect("good");
    let told: Vec<&str> = working.notes.iter().map(|n| n.id).collect();
    assert_eq!(told, ["note-labour", "note-labour-left-out"]);
}

proptest! {
    #[test]
    fn the_order_of_the_jobs_never_matters(each in prop::collection::vec(0.1..4.0f64, 1..6)) {
        let mut jobs: Vec<Job> = each.iter().map(|m| ended(job("collet", even(*m)))).collect();
        let before = minutes(&Times::of(model(TB), &jobs), "collet");
        jobs.reverse();
        let after = minutes(&Times::of(model(TB), &jobs), "collet");
        prop_assert!((before - after).abs() < 1e-9);
    }
}
