//! From a fastener's force to the pressure at the head, or at the inlet held at stall.

use proptest::prelude::*;
use shop::pressure_setting::{At, Goal, NoPressure, PressureAnswer, pressure};
use shop::sheet::{FastenerFamily, ToolModel};

use crate::arithmetic::holds;
use crate::bench::{model, shelf};

const HEAD: &str = "skarnholt-hp-90";
const AIR: &str = "orrinbeck-ah-21";

fn family(id: &str) -> FastenerFamily {
    let found = shelf().fasteners().find(|(pin, _)| pin.id == id);
    found.expect("a demo fastener").1.clone()
}

fn of(model_id: &str, fastener: &FastenerFamily) -> PressureAnswer {
    pressure(model(model_id), fastener, Goal::Reach, At::Bench).expect("a pressure")
}

/// Of a fastener whose pull the force ends.
fn by_force(fastener: &FastenerFamily) -> Result<PressureAnswer, NoPressure> {
    pressure(model(AIR), fastener, Goal::Stop, At::Bench)
}

/// The demo's model with something changed in what its supply says.
fn changed(model_id: &str, change: impl FnOnce(&mut ToolModel)) -> ToolModel {
    let mut model = model(model_id).clone();
    change(&mut model);
    model
}

fn near(a: f64, b: f64, within: f64) {
    assert!((a - b).abs() <= within, "{a}, not {b}");
}

#[test]
fn a_breaking_fastener_needs_at_least_so_much_at_the_head() {
    let a = of(HEAD, &family("brackwell-b12"));
    assert_eq!(a.goal, Goal::Reach);
    // By hand: 76 kN / (2370 mm² · (1 − 0.034 − 0.02)) = 33.898 N/mm² = 338.98 bar; 3.6 bar of the gauge on
    // top make 342.58, up to 345.
    near(a.least_bar, 342.58, 0.005);
    assert_eq!(a.set_bar, 345.0);
    // 380 bar less the gauge.
    near(a.most_bar, 376.4, 1e-9);
    // 34.5 N/mm² · 2370 mm² · 0.966 = 78.98 kN; 34.14 · 2370 · 0.946 and 34.86 · 2370 · 0.986.
    near(a.pull.kn, 78.98, 0.005);
    near(a.pull.least_kn, 76.54, 0.005);
    near(a.pull.most_kn, 81.46, 0.005);
    assert!(holds(&a.working) >= 4, "{:?}", a.working.steps);
}

#[test]
fn air_at_the_inlet_goes_through_the_intensifier() {
    let a = of(AIR, &family("drumhale-d6"));
    // By hand: 16.5 kN / (44.44 · 791 mm² · (1 − 0.052 − 0.02)) = 0.5058 N/mm²; with 0.08 bar of the gauge
    // 5.138 bar, up to 5.2.
    near(a.least_bar, 5.138, 0.001);
    near(a.set_bar, 5.2, 1e-9);
    near(a.most_bar, 5.92, 1e-9);
    assert!(a.pull.least_kn >= 16.5);
}

#[test]
fn a_nut_set_by_force_gets_a_pressure_between_two() {
    let a = by_force(&family("drumhale-rn6")).expect("a pressure");
    assert_eq!(a.goal, Goal::Stop);
    // By hand: 10 kN / (44.44 · 791 · 0.928) = 3.0654 bar; 15 kN / (44.44 · 791 · 0.968) = 4.4081 bar;
    // 0.08 bar of the gauge off both ends; the middle is 3.737, on a tenth 3.7.
    near(a.least_bar, 3.145, 0.001);
    near(a.most_bar, 4.328, 0.001);
    near(a.set_bar, 3.7, 1e-9);
    assert!(a.pull.least_kn >= 10.0 && a.pull.most_kn <= 15.0);
    assert!(holds(&a.working) >= 5, "{:?}", a.working.steps);
    // With a stroke that ends it, the pressure must only be enough.
    assert_eq!(of(AIR, &family("drumhale-rn6")).goal, Goal::Reach);
}

#[test]
fn a_gauge_of_which_nothing_is_stated_is_good_to_its_step() {
    let model = changed(AIR, |m| {
        m.supply.as_mut().expect("air").puller.gauge_expanded_bar = None;
    });
    let a = pressure(&model, &family("drumhale-rn6"), Goal::Stop, At::Bench).expect("a pressure");
    near(a.gauge_bar, 0.1, 1e-12);
    near(a.least_bar, 3.165, 0.001);
    near(a.most_bar, 4.308, 0.001);
}

#[test]
fn no_reading_may_hide_more_than_the_rated_pressure() {
    // Force up to 30 kN would allow 8.8 bar: the rated 6.0 less 0.08 of the gauge is the end.
    let strong = FastenerFamily {
        force_kn: (10.0, 19.9),
        ..family("drumhale-rn6")
    };
    let a = by_force(&strong).expect("a pressure");
    assert!(
        a.most_bar + a.gauge_bar <= 6.0 && a.set_bar + a.gauge_bar <= 6.0,
        "{a:?}"
    );
    // At the work place nobody knows the gauge: two steps.
    let there = pressure(
        model(AIR),
        &family("drumhale-rn6"),
        Goal::Stop,
        At::WorkPlace,
    );
    near(there.expect("a pressure").gauge_bar, 0.2, 1e-12);
}

#[test]
fn what_is_missing_in_the_sheet_is_named() {
    let model = changed(AIR, |m| {
        let puller = &mut m.supply.as_mut().expect("air").puller;
        puller.ratio = None;
        puller.friction = None;
    });
    let missing = NoPressure::Missing(vec!["ratio", "friction"]);
    assert_eq!(
        pressure(&model, &family("drumhale-d6"), Goal::Reach, At::Bench),
        Err(missing)
    );
    // Oil comes as it is: no ratio is asked for.
    assert_eq!(model_ratio(HEAD), None);
    assert!(
        pressure(
            super::bench::model(HEAD),
            &family("brackwell-b12"),
            Goal::Reach,
            At::Bench
        )
        .is_ok()
    );
    let battery = pressure(
        super::bench::model("tulvane-tb-32"),
        &family("marlstead-m8"),
        Goal::Reach,
        At::Bench,
    );
    assert_eq!(battery, Err(NoPressure::NoSupply));
}

fn model_ratio(id: &str) -> Option<f64> {
    model(id).supply.as_ref().and_then(|s| s.puller.ratio)
}

#[test]
fn a_force_beyond_the_tool_is_refused() {
    let strong = FastenerFamily {
        force_kn: (15.0, 20.1),
        ..family("drumhale-d6")
    };
    assert!(matches!(
        pressure(model(AIR), &strong, Goal::Reach, At::Bench),
        Err(NoPressure::AboveRating { needs_kn, rated_kn }) if needs_kn == 20.1 && rated_kn == 20.0
    ));
    // Within the rating, but friction may take it.
    let strong = FastenerFamily {
        force_kn: (15.0, 20.0),
        ..family("drumhale-d6")
    };
    assert!(matches!(
        pressure(model(AIR), &strong, Goal::Reach, At::Bench),
        Err(NoPressure::NotReached { rated_bar, .. }) if (rated_bar - 5.92).abs() < 1e-9
    ));
    let narrow = FastenerFamily {
        force_kn: (12.0, 12.1),
        ..family("drumhale-rn6")
    };
    assert!(matches!(
        by_force(&narrow),
        Err(NoPressure::BetweenSteps { .. })
    ));
}

proptest! {
    #[test]
    fn never_above_the_rated_pressure_and_always_enough(kn in 1.0..90.0f64, friction in 0.0..0.2f64, doubt in 0.0..0.1f64) {
        for id in [HEAD, AIR] {
            let model = changed(id, |m| {
                let puller = &mut m.supply.as_mut().expect("fed").puller;
                (puller.friction, puller.friction_expanded) = (Some(friction), Some(doubt));
            });
            let fastener = FastenerFamily { force_kn: (kn * 0.8, kn), ..family("drumhale-d6") };
            if let Ok(a) = pressure(&model, &fastener, Goal::Reach, At::Bench) {
                let rated = model.supply.as_ref().expect("fed").pressure_bar;
                prop_assert!(a.set_bar <= rated && kn <= model.rated_pull_kn);
                prop_assert!(a.pull.least_kn >= kn - 1e-6);
            }
        }
    }

    #[test]
    fn a_pull_that_force_ends_stays_within_the_fastener(low in 1.0..15.0f64, width in 0.1..8.0f64) {
        let fastener = FastenerFamily { force_kn: (low, low + width), ..family("drumhale-rn6") };
        if let Ok(a) = by_force(&fastener) {
            prop_assert!(a.pull.least_kn >= low - 1e-6 && a.pull.most_kn <= low + width + 1e-6);
            prop_assert!(a.set_bar <= 6.0);
        }
    }

    #[test]
    fn more_force_never_asks_for_less_pressure(kn in 2.0..15.0f64) {
        let at = |kn: f64| of(AIR, &FastenerFamily { force_kn: (1.0, kn), ..family("drumhale-d6") }).set_bar;
        prop_assert!(at(kn + 1.0) >= at(kn));
    }
}
