//! Jobs drawn from the fault model itself, driven through the calls of the page: does the advice find the cause?
//!
//! This shows that the advice is true to its own model, not that the model is true to the world.

use shop::diagnosis::plan::EFFORT;
use shop::diagnosis::simulate::{Followed, Way, follow};
use shop::diagnosis::{Costs, Step, diagnose, plan};
use shop::sheet::{Drive, Kind, ShopCard};

use crate::bench::{Bench, faults, model, shelf};

const DRIVES: [(Drive, &str); 3] = [
    (Drive::Battery, "tulvane-tb-32"),
    (Drive::AirHydraulic, "orrinbeck-ah-21"),
    (Drive::Hydraulic, "skarnholt-hp-90"),
];

fn card() -> &'static ShopCard {
    let pin = shelf().newest(Kind::Shop, "tarnwick");
    pin.and_then(|pin| shelf().shop(&pin)).expect("the demo's")
}

/// A linear congruential generator (Knuth, MMIX constants, from memory): the same draws every time.
fn draws(seed: u64) -> impl FnMut() -> f64 {
    let mut state = seed;
    move || {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (state >> 11) as f64 / (1u64 << 53) as f64
    }
}

#[test]
fn following_the_advice_finds_the_cause() {
    let way = Way {
        most_checks: 15,
        go_on: false,
        effort: EFFORT,
    };
    let mut all = Followed::default();
    for (drive, id) in DRIVES {
        let costs = Costs::of(card(), model(id));
        let mut uniform = draws(20_261_130);
        let found = follow(faults(), faults(), drive, &costs, (60, way), &mut uniform);
        println!("{}: {found:?}", drive.key());
        all = all.and(found);
    }
    let share = |count: usize| count as f64 / all.jobs as f64;
    assert!(
        share(all.right) > share(all.right_at_once) + 0.25,
        "the checks pay: {all:?}"
    );
    // 180 jobs: 0.88 less three standard deviations of 0.024.
    assert!(share(all.right) > 0.80, "{all:?}");
    // What it says of itself is true: as often right as it claims.
    let claimed = all.claimed / all.jobs as f64;
    assert!((share(all.right) - claimed).abs() < 0.08, "{all:?}");
}

#[test]
fn a_check_is_proposed_with_what_it_saves_and_a_sure_cause_is_mended() {
    let mut bench = Bench::received("tulvane-tb-32", &["jaws-slip"]);
    let drive = Drive::Battery;
    let costs = Costs::of(card(), bench.model());
    let planned = |bench: &Bench| {
        let seen = bench.seen();
        let found = diagnose(faults(), drive, &seen).expect("possible");
        plan(faults(), drive, &seen, &found, &costs, EFFORT).expect("a plan")
    };
    let first = planned(&bench);
    let Step::Look(check) = first.step else {
        panic!("{first:?}")
    };
    assert_eq!(check.id, first.paying[0].check.id);
    assert!(first.paying.iter().all(|p| p.saves > 0.0));
    let best = first.paying[0].saves;
    assert!(first.paying.iter().all(|p| p.saves <= best));
    for check in ["lens-on-teeth", "swap-known-good-collet"] {
        bench.does(crate::bench::check(check, shop::entry::Said::Yes));
    }
    let sure = planned(&bench);
    let Step::Mend(Some(cause)) = sure.step else {
        panic!("{sure:?}")
    };
    assert_eq!(cause.id, "collet-teeth-worn");
    assert!(sure.expected < first.expected);
}
