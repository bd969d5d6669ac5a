//! Service tasks: which of them the jobs on record did, and at which counter.

use shop::care::last_done;
use shop::job::Job;
use shop::sheet::Task;

use crate::bench::{Bench, model};
use crate::walk::{look, plan, reading, renew, with_reason};

const TB: &str = "tulvane-tb-32";

fn task(id: &str) -> &'static Task {
    let task = model(TB).tasks.iter().find(|task| task.id == id);
    task.expect("a demo task")
}

fn last(id: &str, earlier: &[Job], this: &Job) -> Option<u64> {
    last_done(model(TB), task(id), earlier, this)
}

fn at(bench: &Bench, counter: u64) -> Job {
    let mut job = bench.job();
    job.received.body.counter = Some(counter);
    job
}

/// Stripped to the collet, which is off, and washed.
fn washed() -> Bench {
    let mut bench = Bench::ready(TB);
    bench.does(plan("collet"));
    bench.work_until("fit-collet");
    bench
}

#[test]
fn a_wash_is_done_by_taking_off_washing_and_fitting() {
    let mut bench = washed();
    assert!(bench.job().step("clean").is_some());
    assert_eq!(
        last("wash", &[], &bench.job()),
        None,
        "it lies on the bench"
    );
    bench.does(with_reason("fit-collet", "worn, new one to come"));
    assert_eq!(last("wash", &[], &bench.job()), Some(12_000));
    // The screw was never off, so nobody washed it.
    assert_eq!(last("regrease", &[], &bench.job()), None);
}

#[test]
fn a_task_that_is_called_after_a_part_renews_it() {
    let mut bench = Bench::ready(TB);
    bench.does(plan("collet"));
    bench.does(look("make-safe", true));
    bench.does(reading("gauge-anvil-throat", "p-1", 12.96));
    assert_eq!(last("collet", &[], &bench.job()), None);
    bench.does(renew("collet"));
    assert_eq!(last("collet", &[], &bench.job()), Some(12_000));
    let mut job = bench.job();
    job.replaced[0].body.counter = Some(12_345);
    assert_eq!(last("collet", &[], &job), Some(12_345));
}

#[test]
fn what_an_earlier_job_did_counts_until_the_counter_began_anew() {
    let mut bench = washed();
    bench.does(with_reason("fit-collet", "worn, new one to come"));
    let (first, second) = (at(&bench, 8_000), at(&bench, 15_000));
    let mut now = at(&Bench::ready(TB), 21_000);
    let earlier = [first, second];
    assert_eq!(last("wash", &earlier, &now), Some(15_000));
    now.received.body.counter_anew = Some("board changed".to_owned());
    assert_eq!(last("wash", &earlier, &now), None);
}

#[test]
fn a_task_that_looks_at_parts_is_done_where_each_of_them_was() {
    let both = task("screw-and-bearing");
    assert_eq!(both.parts, ["ball-screw", "thrust-bearing"]);
    let mut bench = Bench::ready(TB);
    bench.does(plan("thrust-bearing"));
    bench.does(look("make-safe", true));
    bench.does(renew("ball-screw"));
    assert_eq!(last("screw-and-bearing", &[], &bench.job()), None);
    bench.does(renew("thrust-bearing"));
    assert_eq!(last("screw-and-bearing", &[], &bench.job()), Some(12_000));
}
