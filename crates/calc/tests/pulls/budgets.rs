//! What a number is unsure by, component by component, comes to what it is told to be unsure by.

use calc::pull::reading::{Fastener, Features, Number, Setup, Value, read_pull};
use calc::uncertainty_budget::Budget;

use crate::generator::{Draw, Plan, make};
use crate::{KINDS, recorded};

const GAUGE_KN: f64 = 0.1;
const SENSOR_MM: f64 = 0.02;

fn read(plan: &Plan, seed: u64) -> Features {
    let setup = Setup {
        force_u_kn: GAUGE_KN,
        stroke_u_mm: SENSOR_MM,
        force_u_share: 0.002,
        ..Setup::of(plan.fastener)
    };
    let made = make(plan, &mut Draw(seed));
    read_pull(&recorded(&made), &setup)
        .expect("a pull")
        .features
}

fn told(f: &Features) -> [(Number, Option<Value>); 14] {
    [
        (Number::Peak, Some(f.peak_kn)),
        (Number::Break, f.break_kn),
        (Number::TakeUp, f.take_up_kn),
        (Number::Plateau, f.plateau_kn),
        (Number::Stiffness, f.stiffness_kn_mm),
        (Number::Stroke, Some(f.stroke_mm)),
        (Number::Energy, Some(f.energy_j)),
        (Number::Release, f.release_kn),
        (Number::Cycle, f.cycle_s),
        (Number::Return, f.return_s),
        (Number::HoldLoss, f.hold.and_then(|h| h.loss_60_s_kn)),
        (Number::Hysteresis, f.hysteresis_j),
        (Number::StickSlip, f.stick_slip_kn),
        (Number::Slip, f.slip_kn),
    ]
}

#[test]
fn the_components_of_each_number_come_to_its_uncertainty() {
    let mut seen = std::collections::BTreeMap::new();
    for i in 0..32 {
        let plan = Plan {
            noise: [0.002, 0.01][i / 4 % 2],
            dry: [0.0, 0.04][i / 8 % 2],
            slips: i / 16,
            hold_s: if i == 1 { 62.0 } else { 0.2 },
            samples: if i == 1 { 60_000 } else { 5000 },
            leak: 0.001,
            ..Plan::good(KINDS[i % 4])
        };
        let found = read(&plan, 70 + i as u64);
        for (number, value) in told(&found) {
            let budget = found.budget(number);
            assert_eq!(budget.is_some(), value.is_some(), "{i} {number:?}");
            let (Some(budget), Some(value)) = (budget, value) else {
                continue;
            };
            let all = &budget.combined;
            assert!(
                (all.standard - value.u).abs() <= 1e-9 * value.u,
                "{i} {number:?}"
            );
            assert!((all.expanded - value.expanded()).abs() <= 1e-9 * value.u);
            *seen.entry(number).or_insert(0) += 1;
        }
    }
    assert_eq!(seen.len(), 14, "{seen:?}");
}

fn part(budget: &Budget, name: &str) -> (f64, f64, f64) {
    let part = budget.parts.iter().find(|part| part.name == name);
    let of = part.expect("a component").component;
    (of.standard, of.sensitivity, of.dof)
}

/// By hand: a zero that is off by 1 kN is off by it over the whole way, so an energy moves by the stroke in mm; what the end is off by, by the
/// force there. Of 5000 samples 2000 give the noise, as sure as of 500 values.
#[test]
fn a_number_moves_by_its_sensitivity() {
    let plan = Plan::good(Fastener::StopLockbolt);
    let plan = Plan {
        samples: 5000,
        ..plan
    };
    let found = read(&plan, 71);
    let peak = found.budget(Number::Peak).expect("a budget");
    assert_eq!(
        part(&peak, "part-pull-gauge-force"),
        (GAUGE_KN, 1.0, f64::INFINITY)
    );
    assert_eq!(part(&peak, "part-pull-noise").2, 500.0);
    assert!(peak.combined.dof > 500.0 && peak.unit == "kN");
    let energy = found.budget(Number::Energy).expect("a budget");
    let (zero, end) = (
        part(&energy, "part-pull-zero"),
        part(&energy, "part-pull-end"),
    );
    assert!((zero.1 - found.stroke_mm.value).abs() < 0.15, "{zero:?}");
    assert!((end.1 - found.peak_kn.value).abs() < 0.5, "{end:?}");
    assert!((end.0 - found.stroke_mm.u).abs() < 1e-12, "{end:?}");
    let gauge = part(&energy, "part-pull-gauge-share");
    assert_eq!((gauge.0, gauge.1), (0.002, found.energy_j.value));
}
