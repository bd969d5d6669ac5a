//! Pulls that run into each other: the rest between them is short, or missing.

use calc::pull::recording::{Fault, Recorded, RecordedPull, Rig, What, read};

use crate::KINDS;
use crate::generator::{Draw, Made, Plan, csv, make};

/// Samples of a pull at 400 Hz, the demo logger's rate.
const SAMPLES: usize = 780;

fn recorded(made: &[Made]) -> (Vec<Fault>, Vec<RecordedPull>) {
    match read(csv(made).as_bytes(), &Rig::default()) {
        Recorded::Sound(pulls) => (Vec::new(), pulls),
        Recorded::Doubtful { faults, pulls } => (faults, pulls),
        Recorded::Unreadable(faults) => panic!("{faults:?}"),
    }
}

/// The rows of two pulls from the first on its way back at `share` of its stroke to the second there on its way out left out.
fn without_rest(kind: usize, share: f64, seed: u64, take_up: bool) -> Vec<Made> {
    let mut draw = Draw(seed);
    let plan = Plan {
        samples: SAMPLES,
        ..Plan::good(KINDS[kind])
    };
    let mut first = make(&plan, &mut draw);
    // A second bite goes as far as the first.
    let mut second = match share < 0.75 {
        true => make(&plan, &mut draw),
        false => first.clone(),
    };
    let farthest = |made: &Made| made.stroke_mm.iter().copied().fold(0.0, f64::max);
    let there = share * farthest(&first).min(farthest(&second));
    let top = first.stroke_mm.iter().position(|s| *s == farthest(&first));
    let top = top.expect("it has a largest");
    let back = first.stroke_mm[top..].iter().position(|s| *s < there);
    let back = top + back.expect("it goes home");
    let out = second.stroke_mm.iter().position(|s| *s > there);
    let out = out.expect("it goes as far");
    for column in [&mut first.time_s, &mut first.stroke_mm, &mut first.force_kn] {
        column.truncate(back);
    }
    // What the second bites from where it turns is the curve as a new pull has it.
    let force = second.force_kn.clone();
    let left = second.time_s.split_off(out);
    second.time_s = left.iter().map(|t| t - left[0]).collect();
    second.stroke_mm = second.stroke_mm.split_off(out);
    second.force_kn = second.force_kn.split_off(out);
    if take_up {
        let (zero, bite) = (force[..60].iter().sum::<f64>() / 60.0, 0.6);
        let least = (0..20).map(|i| zero + bite + 0.01 * f64::from(i % 3));
        for (f, least) in second.force_kn.iter_mut().zip(least) {
            *f = least;
        }
    }
    vec![first, second]
}

/// However far the tool went back, and though take-up friction is there at the turn.
#[test]
fn pulls_that_run_into_each_other_are_named_and_spoil() {
    for kind in 0..KINDS.len() {
        for (i, share) in [0.1, 0.17, 0.3, 0.45, 0.6, 0.7].into_iter().enumerate() {
            for take_up in [false, true] {
                let made = without_rest(kind, share, 60 + i as u64, take_up);
                let turn = made[0].time_s.len() as u64 + 1;
                let (faults, pulls) = recorded(&made);
                let told = faults.iter().find(|f| f.what == What::Merged);
                let told = told.unwrap_or_else(|| panic!("{kind} {share} {take_up}: {faults:?}"));
                assert!(told.line.abs_diff(turn) < 6 && told.last_line > told.line);
                assert_eq!(pulls.len(), 2, "{kind} {share} {take_up}");
                let spoilt = |pull: &RecordedPull| pull.faults.iter().any(Fault::spoils);
                assert!(pulls.iter().all(spoilt), "{kind} {share} {take_up}");
            }
        }
    }
}

/// A trigger let go and pressed again on the same fastener, or two fasteners: who was there knows.
#[test]
fn a_second_bite_is_named_and_not_cut() {
    // Of pulls that end with a break: the force of a second is known to be there from the turn on.
    for kind in [0, 2] {
        let (faults, pulls) = recorded(&without_rest(kind, 0.85, 70, false));
        assert!(faults.iter().any(|f| f.what == What::Merged), "{faults:?}");
        assert_eq!(pulls.len(), 1);
        assert!(pulls[0].faults.iter().any(Fault::spoils));
    }
}

/// Home again for a moment only: two pulls, and nothing is wrong with them.
#[test]
fn a_short_rest_parts_two_pulls() {
    for kind in KINDS {
        for rest in [12, 24, 48] {
            let mut draw = Draw(80);
            let plan = Plan {
                samples: SAMPLES,
                ..Plan::good(kind)
            };
            let (mut first, mut second) = (make(&plan, &mut draw), make(&plan, &mut draw));
            let away = first.stroke_mm.iter().rposition(|s| *s > 0.1);
            let keep = away.expect("it moved") + rest / 2;
            let out = second.stroke_mm.iter().position(|s| *s > 0.1);
            let drop = out.expect("it moved") - rest / 2;
            // The zeros of the two are one logger's.
            let zero = |m: &Made| m.force_kn[..60].iter().sum::<f64>() / 60.0;
            let apart = zero(&first) - zero(&second);
            second.force_kn.iter_mut().for_each(|f| *f += apart);
            for column in [&mut first.time_s, &mut first.stroke_mm, &mut first.force_kn] {
                column.truncate(keep);
            }
            second.time_s.truncate(SAMPLES - drop);
            second.stroke_mm.drain(..drop);
            second.force_kn.drain(..drop);
            let (faults, pulls) = recorded(&[first, second]);
            assert_eq!((faults, pulls.len()), (vec![], 2), "{kind:?} {rest}");
            assert!(pulls[1].stroke_mm[..3].iter().all(|s| s.abs() < 0.1));
        }
    }
}

/// Slips and chatter go forth and back in force, not in stroke.
#[test]
fn slips_and_chatter_are_no_second_pull() {
    for kind in KINDS {
        for samples in [SAMPLES, 10_000] {
            let rough = |slips, dry| Plan {
                samples,
                slips,
                dry,
                ..Plan::good(kind)
            };
            for plan in [rough(4, 0.0), rough(0, 0.1), rough(3, 0.08)] {
                let mut draw = Draw(90);
                let made: Vec<_> = (0..4).map(|_| make(&plan, &mut draw)).collect();
                let (faults, pulls) = recorded(&made);
                assert_eq!((faults, pulls.len()), (vec![], 4), "{plan:?}");
            }
        }
    }
}
