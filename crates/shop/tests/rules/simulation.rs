//! Jobs drawn from the fault model itself, driven through the calls of the page: does the advice find the cause?
//!
//! This shows that the advice is true to its own model, not that the model is true to the world.

use shop::diagnosis::plan::EFFORT;
use shop::diagnosis::simulate::{self, Followed, Until, Way, follow, learn, other_shop};
use shop::diagnosis::{Costs, Seen, Step, diagnose, plan};
use shop::sheet::{Drive, FaultModel, Kind, Sheet, ShopCard, ToolModel};

use crate::bench::{Bench, faults, model, shelf};
use crate::diagnosis::TINY;

pub const DRIVES: [(Drive, &str); 3] = [
    (Drive::Battery, "tulvane-tb-32"),
    (Drive::AirHydraulic, "orrinbeck-ah-21"),
    (Drive::Hydraulic, "skarnholt-hp-90"),
];

pub fn card() -> &'static ShopCard {
    let pin = shelf().newest(Kind::Shop, "tarnwick");
    pin.and_then(|pin| shelf().shop(&pin)).expect("the demo's")
}

/// A linear congruential generator (Knuth, MMIX constants, from memory): the same draws every time.
pub fn draws(seed: u64) -> impl FnMut() -> f64 {
    let mut state = seed;
    move || {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (state >> 11) as f64 / (1u64 << 53) as f64
    }
}

fn bench<'a>(tool: &'a ToolModel, costs: &'a Costs, way: Way) -> simulate::Bench<'a> {
    simulate::Bench {
        truth: faults(),
        tool,
        shelf: shelf(),
        costs,
        way,
    }
}

#[test]
fn following_the_advice_finds_the_cause() {
    let way = Way {
        most_checks: 15,
        until: Until::Plan,
        asked: false,
        as_found: false,
        recorded: false,
        in_one_go: false,
        effort: EFFORT,
    };
    let mut all = Followed::default();
    for (drive, id) in DRIVES {
        let costs = Costs::of(card(), model(id));
        let at = bench(model(id), &costs, way);
        let found = follow(&at, faults(), 60, &mut draws(20_261_130));
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
fn looking_at_what_the_hands_hold_takes_fewer_goes() {
    let one_by_one = Way {
        most_checks: 15,
        until: Until::Plan,
        asked: true,
        as_found: true,
        recorded: true,
        in_one_go: false,
        effort: EFFORT,
    };
    let run = |way: Way| {
        let mut all = Followed::default();
        for (_, id) in DRIVES {
            let costs = Costs::of(card(), model(id));
            let at = bench(model(id), &costs, way);
            all = all.and(follow(&at, faults(), 30, &mut draws(7)));
        }
        all
    };
    let apart = run(one_by_one);
    let in_one_go = run(Way {
        in_one_go: true,
        ..one_by_one
    });
    assert_eq!(apart.looks, apart.checks);
    assert!(in_one_go.looks > in_one_go.checks, "{in_one_go:?}");
    assert!(in_one_go.checks < apart.checks, "{in_one_go:?} {apart:?}");
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
    bench.does(crate::bench::check("teeth-on-paper", shop::entry::Said::No));
    let sure = planned(&bench);
    let Step::Mend(Some(cause)) = sure.step else {
        panic!("{sure:?}")
    };
    assert_eq!(cause.id, "collet-teeth-worn");
    assert!(sure.expected < first.expected);
}

#[test]
fn a_shop_learns_what_its_tools_suffer_from() {
    // Causes up to five times as frequent, or as rare, as the sheet says. No check is made: what is learned is how
    // often each cause is there and what it shows, and the right cause stands first more often at once.
    let tool = model("tulvane-tb-32");
    let way = Way {
        most_checks: 0,
        until: Until::Right,
        asked: false,
        as_found: false,
        recorded: false,
        in_one_go: false,
        effort: EFFORT,
    };
    let costs = Costs::of(card(), tool);
    let (mut sheet, mut learned) = (Followed::default(), Followed::default());
    for seed in 0..4 {
        let mut uniform = draws(20_261_130 + seed);
        let truth = other_shop(faults(), 5.0, &mut uniform);
        let at = simulate::Bench {
            truth: &truth,
            ..bench(tool, &costs, way)
        };
        let (_, own) = learn(&at, faults(), &[400], &[], &mut uniform);
        // The same jobs with either.
        sheet = sheet.and(follow(&at, faults(), 400, &mut draws(seed)));
        learned = learned.and(follow(&at, &own, 400, &mut draws(seed)));
    }
    let at_once = |f: Followed| f.right_at_once as f64 / f.jobs as f64;
    // Of 1600 jobs either ranks right, about one in six is ranked otherwise by the other: the difference has a
    // standard deviation of 0.010.
    let better = at_once(learned) - at_once(sheet);
    println!("{sheet:?}\n{learned:?}");
    assert!(better > 0.02, "{better}: {sheet:?} {learned:?}");
}

/// Parts 64.00 and 15 minutes of labour at 78.00 an hour mend cause a, and 15 minutes cause b.
fn priced(if_true: &str) -> FaultModel {
    let text = TINY.replace("IF_TRUE", if_true).replace(
        "action = \"Oil it\"",
        "action = \"Oil it\"\nparts = [\"collet\"]",
    );
    match shop::sheet::read("tiny", &text) {
        Ok(Sheet::FaultModel(model)) => model,
        other => panic!("{other:?}"),
    }
}

#[test]
fn what_a_plan_is_expected_to_cost_by_hand() {
    // In plain Python, shares of the one fault that is sought 0.573213, 0.403956 and 0.022831: minutes at 1.30,
    // a collet at 64.00, proof 20, a come-back 180, something not in the list 120 minutes.
    let tool = model("tulvane-tb-32");
    let costs = Costs::of(card(), tool);
    let drive = Drive::Battery;
    let seen = Seen {
        symptoms: [("s".to_owned(), true)].into(),
        ..Seen::default()
    };
    let planned = |faults: &FaultModel| {
        let found = diagnose(faults, drive, &seen).expect("possible");
        let planned = plan(faults, drive, &seen, &found, &costs, EFFORT).expect("a plan");
        let step = match planned.step {
            Step::Mend(Some(cause)) => cause.id.clone(),
            Step::Look(check) => check.id.clone(),
            Step::Mend(None) => "unlisted".to_owned(),
        };
        let saves = planned.paying.first().map(|p| p.saves);
        (step, planned.expected, saves)
    };
    let (step, expected, saves) = planned(&priced("0.05"));
    assert_eq!((step.as_str(), saves), ("a", None));
    assert!((expected - 238.284_443_23).abs() < 1e-6, "{expected}");
    let (step, expected, saves) = planned(&priced("0.9"));
    assert_eq!(step, "c");
    assert!((expected - 125.084_754_82).abs() < 1e-6, "{expected}");
    let saves = saves.expect("it pays");
    assert!((saves - 113.199_688_41).abs() < 1e-6, "{saves}");
}

#[test]
fn a_check_costs_the_strip_to_the_part_that_it_looks_at() {
    // The check of the tiny model, on a stripped tool. Minutes at 1.30; nothing else changes, so what it saves
    // differs by the strip: 15 minutes by default, half the route there and back where a part is named.
    let tool = model("tulvane-tb-32");
    let costs = Costs::of(card(), tool);
    let seen = Seen {
        symptoms: [("s".to_owned(), true)].into(),
        ..Seen::default()
    };
    let saves = |state: &str| {
        let text = TINY
            .replace("IF_TRUE", "0.9")
            .replace("state = \"no-energy\"", state);
        let text = text.replace("action = \"Oil it\"", "action = \"Oil it\"\nminutes = 120");
        let Ok(Sheet::FaultModel(faults)) = shop::sheet::read("tiny", &text) else {
            panic!("{text}")
        };
        let found = diagnose(&faults, Drive::Battery, &seen).expect("possible");
        let planned = plan(&faults, Drive::Battery, &seen, &found, &costs, EFFORT);
        planned
            .expect("a plan")
            .paying
            .first()
            .map(|p| p.saves)
            .expect("it pays")
    };
    let closed = saves("state = \"no-energy\"");
    let opened = saves("state = \"stripped-no-energy\"");
    assert!(
        (closed - opened - 15.0 * 1.3).abs() < 1e-6,
        "{closed} {opened}"
    );
    let to_part = saves("state = \"stripped-no-energy\"\nstripped_to = \"collet\"");
    let route = shop::route::minutes(tool, "collet").expect("reachable");
    assert!(
        (closed - to_part - route / 2.0 * 1.3).abs() < 1e-6,
        "{closed} {to_part} {route}"
    );
}

#[test]
fn closing_a_tool_that_lies_open_is_in_the_price_of_the_next_look() {
    let costs = Costs::of(card(), model("tulvane-tb-32"));
    let planned = |seen: &Seen| {
        let found = diagnose(faults(), Drive::Battery, seen).expect("possible");
        plan(faults(), Drive::Battery, seen, &found, &costs, EFFORT).expect("a plan")
    };
    let mut seen = Seen {
        symptoms: [("short-run-time".to_owned(), true)].into(),
        ..Seen::default()
    };
    let closed = planned(&seen).expected;
    seen.lies_open = vec!["turn-screw-by-hand".to_owned()];
    let open = planned(&seen).expected;
    assert!(open > closed, "{open} {closed}");
}
