//! A force that is cut off below its noise: no two samples of its top are alike.

use calc::pull::recording::{Fault, Recorded, Rig, What, read};

use crate::KINDS;
use crate::generator::{Draw, Made, Plan, csv, make};

fn faults(made: &[Made]) -> Vec<Fault> {
    match read(csv(made).as_bytes(), &Rig::default()) {
        Recorded::Sound(_) => Vec::new(),
        Recorded::Doubtful { faults, .. } | Recorded::Unreadable(faults) => faults,
    }
}

fn may_be_cut_off(fault: &Fault) -> bool {
    matches!(fault.what, What::MaybeCutOff(_))
}

/// A pull that ends with a break, at 400 Hz, its force cut off at `end_kn` over the zero and noise laid over it.
fn cut(kind: usize, end_kn: f64, seed: u64) -> Made {
    let mut draw = Draw(seed);
    let plan = Plan {
        samples: 780,
        noise: 0.0,
        ..Plan::good(KINDS[kind])
    };
    let mut made = make(&plan, &mut draw);
    let zero = made.force_kn[0];
    for force in &mut made.force_kn {
        *force = force.min(zero + end_kn) + 0.03 * draw.normal();
    }
    made
}

#[test]
fn a_top_that_is_cut_off_under_its_noise_is_asked_about_and_does_not_spoil() {
    // In the pull-up: from there on the force stands for most of the stroke.
    for (seed, end_kn) in [(1, 8.0), (2, 10.0), (3, 12.0)] {
        let made = cut(0, end_kn, seed);
        let faults = faults(&[made]);
        let told = faults.iter().find(|f| may_be_cut_off(f));
        let told = told.unwrap_or_else(|| panic!("{end_kn}: {faults:?}"));
        assert!(matches!(told.what, What::MaybeCutOff(at) if (at - end_kn).abs() < 0.05));
        assert!(!told.spoils() && told.last_line > told.line + 24);
        assert_eq!(told.message().id, "recording-maybe-cut-off");
    }
    // Beyond its peak nothing is cut off.
    assert_eq!(faults(&[cut(0, 30.0, 1)]), []);
}

/// Noise of any size, early breaks, slips, chatter, holds at a stop: none of them is a force that is cut off.
#[test]
fn sound_pulls_are_not_asked_about() {
    for kind in KINDS {
        for samples in [780, 6000] {
            for noise in [0.002, 0.01, 0.03] {
                let good = Plan {
                    samples,
                    noise,
                    ..Plan::good(kind)
                };
                let early = Plan {
                    early: true,
                    ..good
                };
                let slips = Plan { slips: 3, ..good };
                let dry = Plan { dry: 0.08, ..good };
                let held = Plan {
                    hold_s: 2.0,
                    ..good
                };
                for plan in [good, early, slips, dry, held] {
                    let mut draw = Draw(77);
                    let made: Vec<_> = (0..3).map(|_| make(&plan, &mut draw)).collect();
                    let faults = faults(&made);
                    assert!(!faults.iter().any(may_be_cut_off), "{plan:?}: {faults:?}");
                }
            }
        }
    }
}
