use proptest::prelude::*;

use super::*;

const WINDOW: Window = Window {
    lower_mm: -0.4,
    upper_mm: 0.4,
};
const PRIOR: Prior = Prior {
    offset_mm: 0.0,
    offset_sd_mm: 0.7,
    spread_mm: 0.10,
    spread_dof: f64::INFINITY,
};
const TASK: Task = Task {
    window: WINDOW,
    step_mm: 0.25,
    reading_mm: 0.03,
    prior: PRIOR,
    target: 0.998,
    joints_between: 1600.0,
};

fn measured(at_mm: f64, value_mm: f64) -> Joint {
    let standard_mm = 0.03;
    Joint {
        at_mm,
        read: Read::Measured {
            value_mm,
            standard_mm,
        },
    }
}

fn task(change: impl FnOnce(&mut Task)) -> TrialLoop {
    let mut task = TASK;
    change(&mut task);
    TrialLoop::new(task).expect("a good task")
}

fn seen(at_mm: f64, read: Read) -> Joint {
    Joint { at_mm, read }
}

/// Independent normal values from a seed: Box and Muller on a xorshift generator (Marsaglia 2003).
fn normals(seed: u64) -> impl FnMut() -> f64 {
    let mut state = seed;
    let mut uniform = move || {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        (state >> 11) as f64 / (1u64 << 53) as f64
    };
    move || (-2.0 * (1.0 - uniform()).ln()).sqrt() * (std::f64::consts::TAU * uniform()).cos()
}

const WORLD: World = World {
    offset_sd_mm: 0.7,
    spread_mm: 0.10,
    reading_mm: 0.03,
    by_eye: false,
};

/// Mean joints and mean rejects of so many set-ups.
fn simulated(by: &TrialLoop, world: &World, count: u32) -> (f64, f64) {
    let mut normal = normals(0x5eed_5eed_5eed);
    let (mut joints, mut rejects) = (0.0, 0.0);
    for _ in 0..count {
        let outcome = set_up(by, world, &mut normal);
        joints += f64::from(outcome.joints);
        rejects += outcome.rejects;
    }
    (joints / f64::from(count), rejects / f64::from(count))
}

#[test]
fn one_joint_is_the_normal_mean_of_any_textbook() {
    // By hand: held 0.49, noise 0.0109; b = 0.3 · 0.49 / 0.5009, u = √(0.49 · 0.0109 / 0.5009).
    let belief = task(|_| {}).belief(&[measured(0.0, 0.3)]);
    assert!((belief.offset_mm() - 0.147 / 0.5009).abs() < 1e-12);
    assert!((belief.offset_sd_mm() - (0.49 * 0.0109 / 0.5009_f64).sqrt()).abs() < 1e-12);
}

#[test]
fn matches_numerical_integration() {
    // Prior times likelihood summed over 40001 offsets and, where the spread is learned, 2000 quantiles
    // of it: numpy 2.4, scipy 1.17.1. The grid of the spread stands for those to the tolerance.
    let two = [measured(0.0, 0.30), measured(-0.25, 0.02)];
    let three = [two[0], two[1], measured(-0.25, 0.10)];
    let eye = [seen(0.0, Read::Above), seen(-0.5, Read::Inside)];
    let both = [eye[0], eye[1], measured(-0.5, 0.10)];
    let sides = [seen(0.0, Read::Below), seen(0.5, Read::Above)];
    let known = f64::INFINITY;
    for (dof, at, joints, wanted, near) in [
        (
            10.0,
            -0.25,
            &two[..],
            [0.281_526, 0.077_302, 0.105_964, 0.993_327],
            2e-3,
        ),
        (
            30.0,
            -0.25,
            &three,
            [0.304_381, 0.060_436, 0.100_717, 0.997_532],
            4e-4,
        ),
        (
            known,
            -0.5,
            &eye,
            [0.611_983_44, 0.169_724, 0.1, 0.920_862_95],
            1e-6,
        ),
        (
            known,
            -0.5,
            &both,
            [0.598_154_39, 0.093_013_94, 0.1, 0.985_999_76],
            1e-6,
        ),
        (
            known,
            0.25,
            &sides,
            [-0.246_973_47, 0.077_020_32, 0.1, 0.998_434_31],
            1e-6,
        ),
    ] {
        let belief = task(|t| t.prior.spread_dof = dof).belief(joints);
        let got = [
            belief.offset_mm(),
            belief.offset_sd_mm(),
            belief.spread_mm(),
            belief.inside(WINDOW, at),
        ];
        for (got, wanted) in got.iter().zip(wanted) {
            assert!((got - wanted).abs() < near, "{got} {wanted} at {dof}");
        }
    }
}

#[test]
fn the_plan_costs_what_it_promises() {
    // The value that backward induction gives must be what set-ups by it cost on average: the law of
    // total expectation, with the spread known and no second stopping rule.
    let by = task(|t| {
        t.target = 1.0;
        t.prior.spread_dof = f64::INFINITY;
    });
    let promised = by.plan(PRIOR.spread_mm).promised();
    let (joints, rejects) = simulated(&by, &WORLD, 40_000);
    let paid = rejects + (joints - 1.0) / TASK.joints_between;
    assert!((paid / promised - 1.0).abs() < 0.03, "{paid} {promised}");
}

#[test]
fn it_beats_the_habit_and_keeps_above_the_floor() {
    // Aims and baselines of the requirement: trial and error 4.35 joints and 40 rejects in 1000; a plain
    // update that stops after four joints 4.1 and 2.0; perfect knowledge 0.72 (0.15 in eighths).
    for (step, joints_most, rejects_most, floor) in [
        (0.25, 3.8, 1.75e-3, 0.72e-3),
        (0.125, 3.4, 0.95e-3, 0.15e-3),
    ] {
        let by = task(|t| {
            t.step_mm = step;
            t.prior.spread_dof = 40.0;
            t.joints_between = 2000.0;
        });
        let (joints, rejects) = simulated(&by, &WORLD, 20_000);
        assert!(joints <= joints_most, "{joints}");
        assert!((floor..=rejects_most).contains(&rejects), "{rejects}");
    }
}

#[test]
fn looks_alone_find_the_middle_by_its_edges() {
    // By eye "inside" says nothing of where inside: only looks near a limit tell. Trial and error, which
    // stops at three good looks, leaves 40 rejects in 1000.
    let by = task(|_| {});
    let world = World {
        by_eye: true,
        ..WORLD
    };
    let (joints, rejects) = simulated(&by, &world, 60);
    assert!(joints < 9.0 && rejects < 8e-3, "{joints} {rejects}");
    // One good look at the table's setting is not enough: the next is taken nearer to a limit.
    let ruling = by
        .next(&[seen(0.0, Read::Inside)], true)
        .expect("good")
        .ruling;
    assert!(
        matches!(ruling, Ruling::Another { steps } if steps != 0),
        "{ruling:?}"
    );
}

#[test]
fn a_look_is_taken_while_it_is_worth_more_than_a_joint() {
    // The worth of each look summed over 40001 offsets, scipy 1.17.1: after these two looks the best is one
    // step up, worth one joint in 14.31; after the six, five steps up, worth one in 10 639, and the
    // setting with the fewest rejects is two steps up.
    let two = [seen(0.0, Read::Above), seen(-0.5, Read::Inside)];
    let six = [
        two[0],
        two[1],
        seen(-0.5, Read::Inside),
        seen(-0.25, Read::Inside),
        seen(-0.75, Read::Inside),
        seen(-1.0, Read::Below),
    ];
    for (joints, passes, between, wanted) in [
        (&two[..], true, 13.0, Ruling::NotWorthIt),
        (&two, true, 15.5, Ruling::Another { steps: 1 }),
        (&six, false, 10_000.0, Ruling::Another { steps: 2 }),
        (&six, false, 11_300.0, Ruling::Another { steps: 5 }),
    ] {
        let by = task(|t| {
            t.joints_between = between;
            t.target = 1.0;
        });
        let ruling = by.next(joints, passes).expect("good").ruling;
        assert_eq!(ruling, wanted, "{between}");
    }
}

#[test]
fn a_joint_far_from_the_middle_turns_the_adjuster_towards_it() {
    let by = task(|_| {});
    let steps = |value| match by
        .next(&[measured(0.0, value)], false)
        .expect("good")
        .ruling
    {
        Ruling::Another { steps } => steps,
        ended => panic!("{ended:?}"),
    };
    assert_eq!((steps(0.76), steps(-0.76), steps(3.02)), (-3, 3, -12));
}

#[test]
fn it_ends_only_after_a_good_joint() {
    let by = task(|_| {});
    let joints = [
        measured(0.0, 0.01),
        measured(0.0, -0.01),
        measured(0.0, 0.0),
    ];
    let good = by.next(&joints, true).expect("good");
    assert_eq!((good.ruling, good.further), (Ruling::Reached, 0.0));
    assert!(good.inside > 0.998 && good.odd.is_empty());
    let bad = by.next(&joints, false).expect("good");
    assert!(matches!(bad.ruling, Ruling::Another { .. }) && bad.further >= 1.0);
}

#[test]
fn steps_that_are_too_coarse_are_named_and_a_finer_one_is_weighed() {
    let by = task(|_| {});
    // Nearly half a step from the middle: even perfect knowledge leaves 2 rejects in 1000.
    let joints: Vec<Joint> = (0..8).map(|_| measured(0.0, 0.105)).collect();
    let next = by.next(&joints, true).expect("good");
    assert_eq!(next.ruling, Ruling::NotWorthIt);
    assert!(
        next.inside < 0.998 && next.inside_finer > 0.9985,
        "{next:?}"
    );
}

#[test]
fn joints_that_scatter_more_than_foretold_are_believed() {
    // 20 readings 0.25 mm either side: by the conjugate formula (40 · 0.10² + 20 · 0.25²) / 60 = 0.166²,
    // less the reading's own 0.03² in each.
    let by = task(|t| t.prior.spread_dof = 40.0);
    let joints: Vec<Joint> = (0..20)
        .map(|i| measured(0.0, if i % 2 == 0 { 0.25 } else { -0.25 }))
        .collect();
    let next = by.next(&joints, true).expect("good");
    let spread = next.belief.spread_mm();
    assert!((0.155..0.175).contains(&spread), "{spread}");
    assert!(next.inside < 0.99, "{}", next.inside);
}

#[test]
fn joints_that_do_not_belong_together_are_named() {
    let by = task(|t| t.prior.spread_dof = 10.0);
    let odd = |joints: &[Joint]| by.next(joints, true).expect("good").odd;
    assert_eq!(odd(&[measured(0.0, 0.1), measured(0.0, 0.05)]), []);
    assert_eq!(odd(&[measured(0.0, 0.1), measured(0.0, 0.62)]), [0, 1]);
    // Alone, a joint is held against what is held of the tool.
    assert_eq!(odd(&[measured(0.0, 2.4)]), [0]);
}

#[test]
fn refusals() {
    let refused = |change: fn(&mut Task)| {
        let mut task = TASK;
        change(&mut task);
        TrialLoop::new(task).is_err()
    };
    assert!(refused(|t| t.window.upper_mm = -0.4));
    assert!(refused(|t| t.window.lower_mm = f64::NAN));
    assert!(refused(|t| t.step_mm = 0.0));
    assert!(refused(|t| t.prior.offset_sd_mm = 0.0));
    assert!(refused(|t| t.prior.spread_mm = -0.1));
    assert!(refused(|t| t.prior.spread_dof = 1.0));
    assert!(refused(|t| t.target = 1.01));
    assert!(refused(|t| t.joints_between = 0.0));
    assert!(!refused(|_| {}));
    let by = task(|_| {});
    assert!(by.next(&[], true).is_err());
    assert!(by.next(&[measured(f64::NAN, 0.0)], true).is_err());
    assert!(by.next(&[measured(0.0, f64::INFINITY)], true).is_err());
}

proptest! {
    #[test]
    fn with_the_spread_known_more_readings_never_widen(values in prop::collection::vec(-1.0..1.0f64, 1..9)) {
        let by = task(|_| {});
        let joints: Vec<Joint> = values.iter().map(|v| measured(0.0, *v)).collect();
        let mut before = f64::INFINITY;
        for n in 0..=joints.len() {
            let sd = by.belief(&joints[..n]).offset_sd_mm();
            prop_assert!(sd <= before + 1e-12);
            before = sd;
        }
    }

    #[test]
    fn readings_that_do_not_fit_widen_what_is_held(off in 0.4..2.0f64) {
        let by = task(|t| t.prior.spread_dof = 10.0);
        let sd = |by_how: f64| by.belief(&[measured(0.0, by_how), measured(0.0, -by_how)]).offset_sd_mm();
        prop_assert!(sd(off) > sd(0.05));
    }

    #[test]
    fn up_and_down_are_alike(value in 0.01..2.0f64) {
        let by = task(|_| {});
        let ruled = |v: f64| by.next(&[measured(0.0, v)], false).expect("good").ruling;
        let (Ruling::Another { steps: up }, Ruling::Another { steps: down }) = (ruled(value), ruled(-value)) else {
            return Err(TestCaseError::fail("ended without a good joint"));
        };
        prop_assert!(up <= 0 && down >= 0 && up + down == 0, "{up} {down}");
    }

    #[test]
    fn the_order_of_the_joints_is_nothing(values in prop::collection::vec(-0.5..0.5f64, 2..6)) {
        let by = task(|t| t.prior.spread_dof = 12.0);
        let joints: Vec<Joint> = values.iter().map(|v| measured(0.0, *v)).collect();
        let turned: Vec<Joint> = joints.iter().rev().copied().collect();
        let (one, other) = (by.belief(&joints), by.belief(&turned));
        prop_assert!((one.inside(WINDOW, 0.1) - other.inside(WINDOW, 0.1)).abs() < 1e-9);
    }
}

proptest! {
    // Each case solves plans of its own.
    #![proptest_config(ProptestConfig::with_cases(12))]
    #[test]
    fn a_window_moved_moves_the_answer_with_it(by_mm in -5.0..5.0f64, value in -0.3..0.3f64) {
        let here = task(|_| {}).next(&[measured(0.0, value)], true).expect("good");
        let there = task(|t| {
            t.window.lower_mm += by_mm;
            t.window.upper_mm += by_mm;
        }).next(&[measured(by_mm, value + by_mm)], true).expect("good");
        prop_assert!((here.inside - there.inside).abs() < 1e-9);
        prop_assert_eq!(here.ruling, there.ruling);
    }
}
