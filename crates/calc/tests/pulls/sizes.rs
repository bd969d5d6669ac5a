//! Mean size of slips and of the teeth of stick-slip, and what a pull does not give back, against the truth.

use calc::pull::reading::{Fastener, Reading, Setup, Value, read_pull};

use crate::generator::{Draw, Made, Plan, make};
use crate::{KINDS, read, recorded};

/// How many pulls have the truth within the expanded uncertainty of what was found, of how many that have it.
fn inside(
    name: &str,
    plans: impl Iterator<Item = Plan>,
    of: impl Fn(&Made, &Reading) -> Option<(f64, Value)>,
) -> (usize, usize) {
    let mut draw = Draw(61);
    let (mut right, mut all) = (0, 0);
    for plan in plans {
        let made = make(&plan, &mut draw);
        let reading = read(&made, plan.fastener);
        let Some((truth, found)) = of(&made, &reading) else {
            continue;
        };
        all += 1;
        match (found.value - truth).abs() <= found.expanded() {
            true => right += 1,
            false => println!("{name}: {found:?}, not {truth:.3}"),
        }
    }
    println!("{name}: {right} of {all}");
    (right, all)
}

#[test]
fn the_mean_size_of_slips_is_right_within_its_uncertainty() {
    for noise in [0.002, 0.01, 0.03] {
        let plans = (0..80).map(|i| Plan {
            noise,
            slips: 1 + i % 3,
            ..Plan::good(KINDS[i % 4])
        });
        let (right, all) = inside("slips", plans, |made, reading| {
            let slips = &made.truth.slips;
            let mean = slips.iter().map(|s| s.1).sum::<f64>() / slips.len() as f64;
            let found = reading.features.slip_kn?;
            (reading.slips.len() == slips.len()).then_some((mean, found))
        });
        assert!(
            all >= 60 && 10 * right >= 9 * all,
            "{noise}: {right} of {all}"
        );
    }
}

#[test]
fn the_size_of_the_teeth_of_stick_slip_is_right_within_its_uncertainty() {
    for (samples, noise, dry) in [
        (2000, 0.002, 0.03),
        (2000, 0.002, 0.08),
        (10_000, 0.002, 0.03),
        (10_000, 0.002, 0.08),
        (10_000, 0.01, 0.05),
        (10_000, 0.01, 0.08),
    ] {
        let plans = (0..40).map(|i| Plan {
            noise,
            dry,
            samples,
            ..Plan::good(KINDS[i % 4])
        });
        let (right, all) = inside("teeth", plans, |made, reading| {
            Some((made.truth.tooth_kn, reading.features.stick_slip_kn?))
        });
        assert!(
            all >= 20 && 10 * right >= 9 * all,
            "{samples} {noise} {dry}: {right} of {all}"
        );
    }
}

/// Six standard deviations of the noise count as a tooth at least: of smaller ones those are told that noise makes larger.
#[test]
fn of_teeth_that_noise_covers_no_size_is_told() {
    let mut draw = Draw(64);
    let mut counted = 0;
    for i in 0..40 {
        let plan = Plan {
            noise: 0.01,
            dry: 0.05,
            samples: 2000,
            ..Plan::good(KINDS[i % 4])
        };
        let found = read(&make(&plan, &mut draw), plan.fastener).features;
        counted += usize::from(found.stick_slip_per_mm > 0.0);
        assert_eq!(found.stick_slip_kn, None, "{i}");
    }
    assert!(counted > 20, "{counted}");
}

#[test]
fn what_a_stop_does_not_give_back_is_right_within_its_uncertainty() {
    let plans = (0..60).map(|i| Plan {
        noise: [0.002, 0.01, 0.03][i % 3],
        ..Plan::good([Fastener::StopLockbolt, Fastener::RivetNut][i % 2])
    });
    let (right, all) = inside("hysteresis", plans, |made, reading| {
        Some((made.truth.hysteresis_j, reading.features.hysteresis_j?))
    });
    assert!(all == 60 && 10 * right >= 9 * all, "{right} of {all}");
}

/// What is claimed says something.
#[test]
fn what_is_claimed_of_sizes_is_not_too_much() {
    let mut draw = Draw(62);
    let plan = Plan {
        noise: 0.002,
        dry: 0.05,
        slips: 2,
        ..Plan::good(Fastener::StopLockbolt)
    };
    let found = read(&make(&plan, &mut draw), plan.fastener).features;
    for (value, share) in [
        (found.slip_kn, 0.25),
        (found.stick_slip_kn, 0.2),
        (found.hysteresis_j, 0.02),
    ] {
        let value = value.expect("it has some");
        let claimed = value.expanded() / value.value;
        assert!(claimed > 0.0 && claimed < share, "{value:?}");
    }
}

/// By hand: a cell that is unsure by 1 kN at a peak of 24 kN is unsure by 1/24 of a difference, its zero being taken off at rest.
#[test]
fn the_gauge_brings_as_much_to_a_difference_as_that_is_of_the_peak() {
    let kind = Fastener::StopLockbolt;
    let plan = Plan {
        noise: 0.002,
        dry: 0.05,
        slips: 2,
        ..Plan::good(kind)
    };
    let made = recorded(&make(&plan, &mut Draw(62)));
    let with = |force_u_kn| {
        let setup = Setup {
            force_u_kn,
            ..Setup::of(kind)
        };
        read_pull(&made, &setup).expect("a pull").features
    };
    let (exact, unsure) = (with(0.0), with(1.0));
    let peak = exact.peak_kn.value;
    for (exact, unsure) in [
        (exact.stick_slip_kn, unsure.stick_slip_kn),
        (exact.slip_kn, unsure.slip_kn),
        (
            exact.hold.map(|h| h.loss_kn),
            unsure.hold.map(|h| h.loss_kn),
        ),
    ] {
        let (exact, unsure) = (exact.expect("one"), unsure.expect("one"));
        let added = (unsure.u.powi(2) - exact.u.powi(2)).max(0.0).sqrt();
        let by_hand = exact.value.abs() / peak;
        assert!(
            (added - by_hand).abs() < 1e-6 + 1e-3 * by_hand,
            "{added} {by_hand}"
        );
    }
}

#[test]
fn a_pull_without_slips_or_chatter_has_no_size_of_them() {
    let made = make(&Plan::good(Fastener::BreakLockbolt), &mut Draw(63));
    let found = read(&made, Fastener::BreakLockbolt).features;
    assert_eq!((found.slip_kn, found.hysteresis_j), (None, None));
    assert_eq!(
        found.stick_slip_kn.is_none(),
        found.stick_slip_per_mm == 0.0
    );
}
