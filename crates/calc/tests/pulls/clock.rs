//! A clock that goes back within a pull: the pulls behind it are read as if nothing had been.

use calc::pull::reading::{Setup, read_pull};
use calc::pull::recording::{Fault, Recorded, RecordedPull, Rig, What, read};

use crate::KINDS;
use crate::generator::{Draw, Made, Plan, csv, make};

fn pulls_of(text: &str) -> Vec<RecordedPull> {
    match read(text.as_bytes(), &Rig::default()) {
        Recorded::Sound(pulls) | Recorded::Doubtful { pulls, .. } => pulls,
        Recorded::Unreadable(faults) => panic!("{faults:?}"),
    }
}

fn is_backwards(fault: &Fault) -> bool {
    matches!(fault.what, What::TimeBackwards(_))
}

#[test]
fn zero_and_home_stay_where_the_clock_goes_back_under_load() {
    for (k, kind) in KINDS.into_iter().enumerate() {
        let mut draw = Draw(51 + k as u64);
        let plan = Plan {
            samples: 780,
            ..Plan::good(kind)
        };
        let made: Vec<Made> = (0..4).map(|_| make(&plan, &mut draw)).collect();
        let lines: Vec<String> = csv(&made).lines().map(str::to_owned).collect();
        // Under load on its way out: a heading, and more than half of the stroke.
        let most = made[0].stroke_mm.iter().copied().fold(0.0, f64::max);
        let at = made[0].stroke_mm.iter().position(|s| *s > 0.6 * most);
        let at = 1 + at.expect("it goes as far");
        let mut swapped = lines.clone();
        swapped.swap(at, at + 1);
        let twice: Vec<String> = [&lines[..at], &lines[at - 50..]].concat();
        for text in [swapped.join("\n"), twice.join("\n")] {
            let pulls = pulls_of(&text);
            assert_eq!(pulls.len(), 4, "{kind:?}");
            let broken = pulls[0].faults.iter().find(|f| is_backwards(f));
            assert!(broken.is_some_and(Fault::spoils), "{:?}", pulls[0].faults);
            for (pull, made) in pulls.iter().zip(&made).skip(1) {
                assert_eq!(pull.faults, [], "{kind:?}");
                let read = read_pull(pull, &Setup::of(kind)).expect("a pull");
                let peak = read.features.peak_kn.value;
                let off = (peak - made.truth.peak_kn).abs() / peak;
                // A zero learnt under load would be off by a tenth and more.
                assert!(off < 0.025, "{kind:?} {peak} {}", made.truth.peak_kn);
            }
        }
    }
}

#[test]
fn a_clock_that_is_set_at_rest_spoils_no_pull() {
    let mut draw = Draw(55);
    let plan = Plan {
        samples: 780,
        ..Plan::good(KINDS[0])
    };
    let mut made: Vec<Made> = (0..2).map(|_| make(&plan, &mut draw)).collect();
    made[1].time_s.iter_mut().for_each(|t| *t -= 0.5);
    let recorded = read(csv(&made).as_bytes(), &Rig::default());
    let Recorded::Doubtful { faults, pulls } = recorded else {
        panic!("not told");
    };
    assert!(faults.len() == 1 && is_backwards(&faults[0]), "{faults:?}");
    assert_eq!(pulls.len(), 2);
    assert!(pulls.iter().all(|pull| pull.faults.is_empty()));
}
