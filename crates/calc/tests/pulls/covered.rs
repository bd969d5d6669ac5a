//! How often the truth lies within the expanded uncertainty, from slow loggers to fast ones. What lies between samples the
//! logger does not see: pulls are made fine, and thinned.

use std::collections::BTreeMap;

use calc::pull::reading::{Fastener, Phase, Reading, Value};

use crate::generator::{Draw, Made, Plan, make};
use crate::{KINDS, read};

/// Samples a second as made.
const FINE_HZ: usize = 10_000;
/// Pulls at each rate.
const PULLS: usize = 48;

fn plan(i: usize) -> Plan {
    let fastener = KINDS[i % KINDS.len()];
    // 1.75 s and the hold, which is none before the way back of one that breaks.
    let (hold_s, seconds) = match fastener.breaks() {
        true => (0.2, 1.95),
        false => (2.0, 3.75),
    };
    Plan {
        noise: [0.002, 0.01][i / KINDS.len() % 2],
        hold_s,
        leak: 0.02,
        samples: (seconds * FINE_HZ as f64) as usize,
        ..Plan::good(fastener)
    }
}

/// Features with their truth.
fn held(made: &Made, reading: &Reading) -> Vec<(&'static str, f64, Option<Value>)> {
    let (truth, found) = (&made.truth, &reading.features);
    let clamp = truth.ends.iter().find(|(phase, _)| *phase == Phase::Clamp);
    let stroke = clamp.map(|_| found.stroke_mm);
    vec![
        ("peak", truth.peak_kn, Some(found.peak_kn)),
        ("break", truth.peak_kn, found.break_kn),
        ("energy", truth.energy_j, Some(found.energy_j)),
        ("plateau", truth.plateau_kn, found.plateau_kn),
        (
            "hold loss",
            truth.hold_loss_kn,
            found.hold.map(|h| h.loss_kn),
        ),
        ("stiffness", truth.stiffness, found.stiffness_kn_mm),
        ("stroke", clamp.map_or(0.0, |c| c.1), stroke),
    ]
}

#[test]
fn the_truth_lies_within_what_is_claimed_at_any_rate() {
    let mut poor = Vec::new();
    for rate_hz in [100, 400, 1000, 5000] {
        let mut draw = Draw(900 + rate_hz as u64);
        let mut inside: BTreeMap<&str, (usize, usize)> = BTreeMap::new();
        for i in 0..PULLS {
            let made = make(&plan(i), &mut draw);
            let every = FINE_HZ / rate_hz;
            let first = draw.within(0.0, every as f64) as usize;
            let made = made.thinned(every, first);
            let reading = read(&made, plan(i).fastener);
            for (name, truth, found) in held(&made, &reading) {
                let Some(found) = found else {
                    continue;
                };
                let count = inside.entry(name).or_default();
                let is_inside = (found.value - truth).abs() <= found.expanded();
                *count = (count.0 + usize::from(is_inside), count.1 + 1);
            }
        }
        assert_eq!(inside.len(), 7);
        for (name, (right, of)) in inside {
            println!("{rate_hz} Hz, {name}: {right} of {of}");
            assert!(of >= PULLS / 3, "{rate_hz} Hz, {name}: {of} only");
            if right * 10 < of * 9 {
                poor.push((rate_hz, name, right, of));
            }
        }
    }
    assert_eq!(poor, []);
}

/// What is claimed says something: at the demo logger's rate a break load is known to a fiftieth.
#[test]
fn what_is_claimed_is_not_too_much() {
    let mut draw = Draw(950);
    for i in [0, 2, 8, 10] {
        assert!(matches!(
            plan(i).fastener,
            Fastener::BreakLockbolt | Fastener::BlindRivet
        ));
        let made = make(&plan(i), &mut draw).thinned(FINE_HZ / 400, 0);
        let found = read(&made, plan(i).fastener).features;
        let load = found.break_kn.expect("it parted");
        assert!(load.expanded() < 0.02 * load.value, "{load:?}");
        assert!(found.energy_j.expanded() < 0.01 * found.energy_j.value);
    }
}
