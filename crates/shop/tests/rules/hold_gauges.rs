//! A hold stands under the full pull: a gauge that does not reach it is not asked what was lost.

use calc::Message;
use shop::entry::{Body, Phase};
use shop::job::{BenchTestIn, Command, decide};

use crate::bench::{Bench, desk, measured, model};

const HP: &str = "skarnholt-hp-90";

fn hold(gauge: &str, lost_kn: f64) -> Command {
    Command::ReadBenchTest(BenchTestIn {
        phase: Phase::AsFound,
        test: "hold".to_owned(),
        measured: Some(measured(gauge, &[lost_kn])),
        passed: None,
        note: String::new(),
    })
}

#[test]
fn a_loss_at_full_pull_is_read_by_a_gauge_that_reaches_the_full_pull() {
    // 87 kN by rating, up to 95.7 kN by the limits of its pull; the loss of 2 kN itself lies well inside 0 to 50 kN.
    let bench = Bench::received(HP, &["jaws-slip"]);
    let refusals = decide(&bench.job(), hold("lc-50", 2.0), &desk()).expect_err("50 kN under 95.7");
    let refusals: Vec<_> = refusals.into_iter().map(|r| (r.field, r.message)).collect();
    let message = Message::new("gauge-short-of-pull")
        .with("gauge", "LC-50")
        .with("test", "Fall of force in 60 s at full pull")
        .with("unit", "kN")
        .number("min", 0.0, 2)
        .number("max", 50.0, 2)
        .number("needed", 95.7, 2);
    assert_eq!(refusals, [("gauge".to_owned(), message)]);
    let read = decide(&bench.job(), hold("lc-120", 2.0), &desk()).expect("120 kN reach it");
    assert!(matches!(read[0], Body::BenchTestRead(_)));
    // A tool of 20 kN is held by the same cell.
    let small = Bench::received("orrinbeck-ah-21", &["tail-not-broken"]);
    assert!(decide(&small.job(), hold("lc-50", 0.3), &desk()).is_ok());
}

#[test]
fn the_full_pull_is_the_most_that_rating_and_limits_of_the_pull_allow() {
    let of = |model_id: &str| {
        let model = model(model_id);
        let test = model.bench_tests.iter().find(|test| test.id == "hold");
        model.force_behind(test.expect("a hold test"))
    };
    // From the sheets: 87 kN and at most 95.7 kN.
    assert_eq!(of(HP), Some(95.7));
    // Without an upper limit of the pull its rating, or the least that it must reach, is the most that is known.
    let mut bare = model(HP).clone();
    let hold = bare.bench_tests.iter().find(|t| t.id == "hold").cloned();
    bare.bench_tests.retain(|test| test.id == "hold");
    let hold = hold.expect("a hold test");
    assert_eq!(bare.force_behind(&hold), Some(87.0));
    // Other tests read what they stand under.
    let peak = model(HP).bench_tests.iter().find(|t| t.id == "pull-force");
    assert_eq!(model(HP).force_behind(peak.expect("a pull test")), None);
}
