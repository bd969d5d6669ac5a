//! Phase ends against the truth.

use calc::pull::reading::{Fastener, Phase};

use crate::generator::{Draw, Plan, make};
use crate::{KINDS, read};

/// Nearer than this, mm, counts as found.
const NEAR_MM: f64 = 0.2;

/// Phase ends that are there, and those found near enough; prints the others.
fn found(plan: &Plan, draw: &mut Draw) -> (usize, usize) {
    let made = make(plan, draw);
    let reading = read(&made, plan.fastener);
    let mut near = 0;
    for (phase, end) in &made.truth.ends {
        let of = reading.phases.iter().find(|f| f.phase == *phase);
        let off = of.map_or(f64::INFINITY, |f| f.end_mm.value - end);
        if off.abs() <= NEAR_MM {
            near += 1;
        } else {
            println!(
                "{:?} {phase:?}: {off:.3} mm, slips {}",
                plan.fastener, plan.slips
            );
        }
    }
    (made.truth.ends.len(), near)
}

fn share(seed: u64, pulls: usize, plan: impl Fn(Fastener) -> Plan) {
    let mut draw = Draw(seed);
    for kind in KINDS {
        let (mut all, mut near) = (0, 0);
        for _ in 0..pulls {
            let (there, right) = found(&plan(kind), &mut draw);
            all += there;
            near += right;
        }
        println!("{kind:?}: {near} of {all}");
        assert!(
            near as f64 >= 0.95 * all as f64,
            "{kind:?}: {near} of {all}, seed {seed}"
        );
    }
}

#[test]
fn phase_ends_lie_within_two_tenths_of_a_millimetre() {
    share(1, 40, Plan::good);
}

#[test]
fn phase_ends_are_found_under_three_percent_noise_and_drift() {
    share(2, 40, |kind| Plan {
        noise: 0.03,
        drift: 0.03,
        ..Plan::good(kind)
    });
}

#[test]
fn phase_ends_are_found_though_the_jaws_slip() {
    share(3, 40, |kind| Plan {
        noise: 0.01,
        slips: 2,
        ..Plan::good(kind)
    });
}

#[test]
fn phase_ends_are_found_with_air_in_the_oil_and_with_few_samples() {
    share(4, 25, |kind| Plan {
        air_mm: 1.5,
        ..Plan::good(kind)
    });
    share(5, 25, |kind| Plan {
        samples: 1500,
        ..Plan::good(kind)
    });
}

#[test]
fn a_pull_that_ends_early_has_no_clamp() {
    let mut draw = Draw(6);
    for kind in KINDS {
        let mut right = 0;
        for _ in 0..40 {
            let made = make(
                &Plan {
                    early: true,
                    ..Plan::good(kind)
                },
                &mut draw,
            );
            let reading = read(&made, kind);
            let clamped = reading.phases.iter().any(|f| f.phase == Phase::Clamp);
            right += usize::from(!clamped);
        }
        println!("{kind:?}: {right} of 40");
        assert!(right >= 38, "{kind:?}: {right} of 40");
    }
}

#[test]
fn phase_ends_lie_inside_their_expanded_uncertainty_mostly() {
    let mut draw = Draw(7);
    let (mut all, mut inside) = (0, 0);
    for i in 0..80 {
        let plan = Plan {
            noise: [0.005, 0.02][i % 2],
            ..Plan::good(KINDS[i / 2 % 4])
        };
        let made = make(&plan, &mut draw);
        let reading = read(&made, plan.fastener);
        for (phase, end) in &made.truth.ends {
            if let Some(found) = reading.phases.iter().find(|f| f.phase == *phase) {
                all += 1;
                let off = (found.end_mm.value - end).abs();
                inside += usize::from(off <= found.end_mm.expanded());
            }
        }
    }
    println!("inside {inside} of {all}");
    assert!(inside as f64 >= 0.85 * all as f64, "{inside} of {all}");
}
