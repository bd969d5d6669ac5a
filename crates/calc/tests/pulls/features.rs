//! Features against the truth, and the faults that they speak for.

use calc::pull::reading::{Ending, Fastener, Phase, Reading, Setup, Value, read_pull, working};

use crate::generator::{Draw, Made, Plan, make};
use crate::{KINDS, read, recorded};

fn pair(plan: &Plan, draw: &mut Draw) -> (Made, Reading) {
    let made = make(plan, draw);
    let reading = read(&made, plan.fastener);
    (made, reading)
}

/// What is held against the truth: a name, the truth, what was found.
type Held = (&'static str, f64, Value);

fn held(made: &Made, reading: &Reading) -> Vec<Held> {
    let (truth, found) = (&made.truth, &reading.features);
    let mut all = vec![
        ("energy", truth.energy_j, found.energy_j),
        ("peak", truth.peak_kn, found.peak_kn),
    ];
    let end = truth.ends.iter().find(|(phase, _)| *phase == Phase::Clamp);
    all.extend(end.map(|(_, end)| ("stroke", *end, found.stroke_mm)));
    all.extend(found.break_kn.map(|value| ("break", truth.peak_kn, value)));
    all.extend(
        found
            .release_kn
            .map(|value| ("release", truth.release_kn, value)),
    );
    all
}

#[test]
fn stroke_energy_peak_break_and_release_load_are_right_within_their_uncertainty() {
    let mut draw = Draw(21);
    let mut all: Vec<Held> = Vec::new();
    for i in 0..60 {
        let noise = [0.002, 0.01, 0.03][i % 3];
        let plan = Plan {
            noise,
            ..Plan::good(KINDS[i % 4])
        };
        let (made, reading) = pair(&plan, &mut draw);
        all.extend(held(&made, &reading));
    }
    for name in ["energy", "peak", "stroke", "break", "release"] {
        let of = || all.iter().filter(|held| held.0 == name);
        let inside = |held: &&Held| (held.2.value - held.1).abs() <= held.2.expanded();
        let (count, right) = (of().count(), of().filter(inside).count());
        for held in of().filter(|held| !inside(held)) {
            println!("{held:?}");
        }
        println!("{name}: {right} of {count}");
        assert!(
            count >= 30 && right as f64 >= 0.9 * count as f64,
            "{name}: {right} of {count}"
        );
    }
}

#[test]
fn a_galled_anvil_s_largest_load_is_told_not_its_mean() {
    for noise in [0.002, 0.01, 0.03] {
        let mut draw = Draw(31);
        let (mut inside, mut off) = (0, 0.0);
        for i in 0..40 {
            let plan = Plan {
                galled: 1.0,
                noise,
                ..Plan::good(KINDS[i % 2])
            };
            let (made, reading) = pair(&plan, &mut draw);
            let (truth, found) = (made.truth.release_kn, reading.features.release_kn);
            let found = found.expect("a collar to push off");
            inside += usize::from((found.value - truth).abs() <= found.expanded());
            off += (found.value - truth) / truth / 40.0;
        }
        // Neither lifted by noise nor lowered by the mean: that would be a fifth.
        assert!(inside >= 36 && off.abs() < 0.03, "{noise}: {inside}, {off}");
    }
}

/// What a setup adds to the uncertainty of an energy that is exact but for it.
fn added(of: impl Fn(&Reading) -> Value, setup: impl Fn(Setup) -> Setup) -> (f64, f64) {
    let kind = Fastener::StopLockbolt;
    let made = make(&Plan::good(kind), &mut Draw(32));
    let value = |setup: &Setup| of(&read_pull(&recorded(&made), setup).expect("a pull"));
    let exact = value(&Setup::of(kind));
    let unsure = value(&setup(Setup::of(kind)));
    let added = unsure.u.powi(2) - exact.u.powi(2);
    (added.max(0.0).sqrt(), exact.value)
}

#[test]
fn what_all_samples_have_in_common_adds_up_in_an_energy() {
    let energy = |r: &Reading| r.features.energy_j;
    let lost = |r: &Reading| r.features.hysteresis_j.expect("let go at a stop");
    let tenth = |setup| Setup {
        force_u_share: 0.1,
        ..setup
    };
    let (u, whole) = added(energy, tenth);
    assert!((u - 0.1 * whole).abs() < 1e-6 * whole, "{u} {whole}");
    let (u, net) = added(lost, tenth);
    assert!((u - 0.1 * net).abs() < 1e-6 * net, "{u} {net}");
    // A zero that is off by 1 kN counts once along the way, and out and back again not at all.
    let off = |setup| Setup {
        force_u_kn: 1.0,
        ..setup
    };
    let travel = read(
        &make(&Plan::good(Fastener::StopLockbolt), &mut Draw(32)),
        Fastener::StopLockbolt,
    );
    let travel = travel.features.stroke_mm.value;
    assert!((added(energy, off).0 - travel).abs() < 0.02 * travel);
    assert!(added(lost, off).0 < travel);
}

#[test]
fn raw_and_filtered_peak_are_both_told() {
    let mut draw = Draw(22);
    for kind in KINDS {
        let (made, reading) = pair(
            &Plan {
                noise: 0.03,
                ..Plan::good(kind)
            },
            &mut draw,
        );
        let features = &reading.features;
        // Raw carries the noise on top, the filter takes some of a sharp peak: the truth lies between.
        assert!(features.peak_raw_kn > made.truth.peak_kn, "{kind:?}");
        assert!(features.peak_kn.value < features.peak_raw_kn, "{kind:?}");
        assert!((features.peak_kn.value - made.truth.peak_kn).abs() < 0.06 * made.truth.peak_kn);
        assert_ne!(reading.told.filter, calc::pull::reading::Filter::Usual);
    }
}

#[test]
fn a_long_hold_never_lifts_the_peak() {
    // The longer the hold, the slower the usual filter: it must not swing over the force that falls at its end.
    for hold_s in [0.2, 1.0, 5.0, 60.0] {
        let mut draw = Draw(29);
        let plan = Plan {
            noise: 0.002,
            hold_s,
            ..Plan::good(Fastener::StopLockbolt)
        };
        for _ in 0..8 {
            let (made, reading) = pair(&plan, &mut draw);
            let (found, truth) = (reading.features.peak_kn, made.truth.peak_kn);
            assert!(found.value <= reading.features.peak_raw_kn, "{hold_s} s");
            assert!(
                (found.value - truth).abs() < 0.006 * truth,
                "{hold_s} s: {found:?}, not {truth}"
            );
        }
    }
}

#[test]
fn a_break_is_told_from_a_stop() {
    let mut draw = Draw(23);
    for i in 0..60 {
        for samples in [600, 10_000] {
            let plan = Plan {
                samples,
                noise: 0.02,
                ..Plan::good(KINDS[i % 4])
            };
            let (made, reading) = pair(&plan, &mut draw);
            let wanted = if made.truth.broke {
                Ending::Break
            } else {
                Ending::Stop
            };
            assert_eq!(reading.ending, wanted, "{i} {:?} {samples}", plan.fastener);
        }
    }
}

/// The mean of a feature over pulls.
fn mean(plan: &Plan, seed: u64, of: impl Fn(&Reading) -> f64) -> f64 {
    let mut draw = Draw(seed);
    (0..16).map(|_| of(&pair(plan, &mut draw).1)).sum::<f64>() / 16.0
}

#[test]
fn each_fault_moves_the_feature_that_speaks_for_it() {
    let good = Plan::good(Fastener::StopLockbolt);
    let stiffness = |r: &Reading| r.features.stiffness_kn_mm.map_or(f64::NAN, |v| v.value);
    let soft = Plan {
        air_mm: 2.0,
        ..good
    };
    assert!(mean(&soft, 24, stiffness) < 0.9 * mean(&good, 24, stiffness));
    let friction = |r: &Reading| r.features.take_up_kn.map_or(f64::NAN, |v| v.value);
    let dry = Plan { dry: 0.08, ..good };
    assert!(mean(&dry, 25, friction) > mean(&good, 25, friction) + 0.06 * good.peak_kn);
    let chatter = |r: &Reading| r.features.stick_slip_per_mm;
    assert!(mean(&dry, 26, chatter) > 1.0, "{}", mean(&dry, 26, chatter));
    assert!(
        mean(&good, 26, chatter) < 0.2,
        "{}",
        mean(&good, 26, chatter)
    );
    let break_kn = |r: &Reading| r.features.break_kn.map_or(f64::NAN, |v| v.value);
    let whole = Plan::good(Fastener::BreakLockbolt);
    let early = Plan {
        early: true,
        ..whole
    };
    assert!(mean(&early, 27, break_kn) < 0.9 * mean(&whole, 27, break_kn));
}

#[test]
fn what_a_hold_loses_is_measured() {
    let mut draw = Draw(28);
    let plan = Plan {
        leak: 0.02,
        hold_s: 62.0,
        samples: 120_000,
        ..Plan::good(Fastener::StopLockbolt)
    };
    let (made, reading) = pair(&plan, &mut draw);
    let hold = reading.features.hold.expect("held");
    assert!((hold.seconds - 62.0).abs() < 0.2, "{hold:?}");
    let lost = made.truth.hold_loss_kn;
    assert!(
        (hold.loss_kn.value - lost).abs() < 0.05 * lost,
        "{hold:?} {lost}"
    );
    let minute = hold.loss_60_s_kn.expect("a minute");
    let wanted = 24.0 * (1.0 - (-0.02f64 * 60.0).exp());
    assert!(
        (minute.value - wanted).abs() < 0.05 * wanted,
        "{minute:?} {wanted}"
    );
    let short = pair(&Plan::good(Fastener::StopLockbolt), &mut draw).1;
    assert_eq!(short.features.hold.expect("held").loss_60_s_kn, None);
    let broken = pair(&Plan::good(Fastener::BlindRivet), &mut draw).1;
    assert_eq!(broken.features.hold, None);
}

#[test]
fn cycle_and_return_are_timed() {
    let mut draw = Draw(29);
    for kind in KINDS {
        let (made, reading) = pair(&Plan::good(kind), &mut draw);
        // Back at the speed of the plan: the whole curve in 0.35 s.
        let back = reading.features.return_s.expect("home again").value;
        assert!((0.3..0.5).contains(&back), "{kind:?} {back}");
        let cycle = reading.features.cycle_s.expect("home again").value;
        let span = made.time_s[made.time_s.len() - 1];
        assert!(cycle > back && cycle < span, "{kind:?} {cycle}");
    }
}

#[test]
fn the_working_shows_zero_filter_and_both_peaks() {
    let mut draw = Draw(30);
    let reading = pair(&Plan::good(Fastener::BreakLockbolt), &mut draw).1;
    let sheet = working(&reading);
    let value = |symbol: &str| {
        let step = sheet.steps.iter().find(|step| step.symbol == symbol);
        step.map(|step| step.value.clone())
    };
    let f = &reading.features;
    assert_eq!(value("F_raw"), Some(format!("{:.2}", f.peak_raw_kn)));
    assert_eq!(value("F_max"), Some(format!("{:.2}", f.peak_kn.value)));
    assert_eq!(value("W"), Some(format!("{:.1}", f.energy_j.value)));
    assert_eq!(sheet.given[0].symbol, "F₀");
    assert_eq!(sheet.notes[0].id, "note-pull-butterworth");
}
