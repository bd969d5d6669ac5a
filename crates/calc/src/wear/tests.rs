use super::*;
use proptest::prelude::*;

fn limits(lower: Option<f64>, upper: Option<f64>) -> Limits {
    Limits::new(lower, upper).expect("good limits")
}

fn bore(readings: &[Reading], pulls: f64) -> Part<'_> {
    Part {
        new: 12.90,
        limits: limits(None, Some(13.05)),
        from: None,
        readings,
        life_pulls: Some(60_000.0),
        prior_spread: PRIOR_SPREAD,
        pulls,
    }
}

fn at(pulls: f64, size: f64, expanded: f64) -> Reading {
    Reading {
        pulls,
        size,
        expanded,
    }
}

fn of(part: &Part) -> Life {
    life(part).expect("good input")
}

#[test]
fn without_a_reading_it_is_the_stated_life() {
    let life = of(&bore(&[], 20_000.0));
    assert!((life.left().expect("a share") - 40_000.0).abs() < 1e-3);
    assert!((life.beyond_after(40_000.0) - 0.5).abs() < 1e-9);
    // Two spreads too fast at half of the stated life: Φ(−2), from any table.
    assert!((life.beyond_at(30_000.0) - 0.022_750_13).abs() < 1e-8);
    let (low, high) = life.interval(0.95).expect("a level");
    // b₀ · (1 ± 0.5 · 1.959964): 60 000 / 1.979982 and 60 000 / 0.020018.
    assert!(
        (low - (60_000.0 / 1.979_982 - 20_000.0)).abs() < 0.5,
        "{low}"
    );
    assert!(
        (high / (60_000.0 / 0.020_018 - 20_000.0) - 1.0).abs() < 1e-4,
        "{high}"
    );
}

#[test]
fn one_reading_by_hand() {
    // At 20 000 pulls 12.98 ± 0.04: u = 0.02. In thousands of pulls b₀ = 0.0025, s_b = 0.00125:
    // P = 640 000 + 400 / 0.0004 = 1 640 000; S = 20 · (0.08 − 0.05) / 0.0004 = 1500;
    // b = 0.0025 + 1500 / 1 640 000 = 0.003 414 634; u_b = 1 / √1 640 000 = 0.000 780 869.
    let life = of(&bore(&[at(20_000.0, 12.98, 0.04)], 20_000.0));
    assert!((life.rate * 1000.0 - 0.003_414_634).abs() < 1e-9);
    assert!((life.rate_se * 1000.0 - 0.000_780_869).abs() < 1e-9);
    // (0.15 / 0.003 414 634) · 1000 − 20 000.
    assert!((life.left().expect("a share") - 23_928.6).abs() < 0.1);
}

#[test]
fn a_published_line_through_the_origin() {
    // NIST StRD NoInt1, certified: slope 2.07438016528926, its standard deviation 0.0165289256198347,
    // residual standard deviation 3.56753034006338. With each reading known to that, nothing beforehand.
    let w = 2.0 * 3.567_530_340_063_38;
    let readings: Vec<Reading> = (0..=10)
        .map(|i| at(60.0 + f64::from(i), 130.0 + f64::from(i), w))
        .collect();
    let life = of(&Part {
        new: 0.0,
        limits: limits(None, Some(1000.0)),
        life_pulls: None,
        ..bore(&readings, 70.0)
    });
    assert!((life.rate - 2.074_380_165_289_26).abs() < 1e-12);
    assert!((life.rate_se - 0.016_528_925_619_834_7).abs() < 1e-13);
}

#[test]
fn a_first_reading_stands_for_the_new_size() {
    // Nobody knows when it was renewed; it measured 12.96 ± 0.02 when counting began, no rate known to
    // differ from the model's: what is left is (13.05 − 12.96) / 0.0025 thousand.
    let part = Part {
        from: Some((12.96, 0.02)),
        ..bore(&[], 0.0)
    };
    let life = of(&part);
    assert!((life.left().expect("a share") - 36_000.0).abs() < 1e-3);
    // And its own doubt is in the interval.
    let sure = Part {
        from: Some((12.96, 0.002)),
        ..part
    };
    let low = |part: &Part| of(part).interval(0.95).expect("a level").0;
    assert!(low(&part) < low(&sure));
}

#[test]
fn between_two_limits_nobody_knows_which_way() {
    let part = Part {
        new: 3.00,
        limits: limits(Some(2.95), Some(3.05)),
        life_pulls: Some(100_000.0),
        ..bore(&[], 100_000.0)
    };
    // One spread either way: 2 · Φ(−1), from any table.
    assert!((of(&part).beyond_now() - 0.317_310_51).abs() < 1e-8);
    for worn in [2.93, 3.07] {
        let readings = [at(100_000.0, worn, 0.01)];
        let life = of(&Part {
            readings: &readings,
            ..part
        });
        assert_eq!(life.left().expect("a share"), 0.0, "{worn}");
    }
}

#[test]
fn a_reading_off_the_line_is_told() {
    let on = [at(10_000.0, 12.925, 0.01), at(20_000.0, 12.95, 0.01)];
    assert!(!of(&bore(&on, 20_000.0)).is_off_the_line());
    let off = [at(10_000.0, 13.03, 0.01), at(20_000.0, 12.95, 0.01)];
    assert!(of(&bore(&off, 20_000.0)).is_off_the_line());
}

#[test]
fn refusals() {
    let good = [at(1000.0, 12.91, 0.01)];
    let refused = |part: &Part| life(part).expect_err("refused");
    for new in [13.05, 13.2, f64::NAN] {
        let error = refused(&Part {
            new,
            ..bore(&good, 2000.0)
        });
        assert!(
            matches!(
                error,
                CalcError::OutOfRange { input: "y₀", .. } | CalcError::NotFinite { input: "y₀" }
            ),
            "{new} {error:?}"
        );
    }
    let later = [at(3000.0, 12.91, 0.01)];
    assert!(matches!(
        refused(&bore(&later, 2000.0)),
        CalcError::OutOfRange { input: "n", .. }
    ));
    for w in [0.0, -0.01, f64::NAN] {
        let readings = [at(1000.0, 12.91, w)];
        life(&bore(&readings, 2000.0)).expect_err("an uncertainty above 0");
    }
    assert!(matches!(
        refused(&Part {
            life_pulls: None,
            ..bore(&[], 0.0)
        }),
        CalcError::TooFew { .. }
    ));
    let only_at_zero = [at(0.0, 12.91, 0.01)];
    assert!(matches!(
        refused(&Part {
            life_pulls: None,
            ..bore(&only_at_zero, 0.0)
        }),
        CalcError::TooFew { .. }
    ));
    for pulls in [-1.0, f64::INFINITY] {
        life(&bore(&good, pulls)).expect_err("pulls from 0");
    }
    let life = of(&bore(&good, 2000.0));
    for share in [0.0, 1.0, f64::NAN] {
        life.pulls_until(share).expect_err("between 0 and 1");
        life.interval(share).expect_err("between 0 and 1");
    }
}

fn readings() -> impl Strategy<Value = Vec<Reading>> {
    let one = (1000.0..60_000.0f64, 12.88..13.04f64, 0.002..0.1f64);
    let one = one.prop_map(|(pulls, size, expanded)| at(pulls, size, expanded));
    prop::collection::vec(one, 1..5)
}

proptest! {
    #[test]
    fn closer_to_the_limit_never_lengthens_life(readings in readings(), which in 0usize..5, by in 0.0..0.1f64) {
        let mut closer = readings.clone();
        let which = which % readings.len();
        closer[which].size += by;
        let (before, after) = (of(&bore(&readings, 60_000.0)), of(&bore(&closer, 60_000.0)));
        let (a, b) = (before.left().expect("a share"), after.left().expect("a share"));
        prop_assert!(b <= a + 1e-3, "{a} {b}");
        for more in [0.0, 5000.0, 1e5] {
            prop_assert!(after.beyond_after(more) >= before.beyond_after(more) - 1e-12);
        }
    }

    #[test]
    fn a_newest_reading_closer_to_the_limit_never_lengthens_it_from_a_first_reading(
        readings in readings(), first in 12.90..13.0f64, by in 0.0..0.1f64,
    ) {
        let from = Some((first, 0.02));
        let newest = (0..readings.len())
            .max_by(|a, b| readings[*a].pulls.total_cmp(&readings[*b].pulls))
            .expect("one at least");
        let mut closer = readings.clone();
        closer[newest].size += by;
        let now = readings[newest].pulls;
        let a = of(&Part { from, ..bore(&readings, now) }).left().expect("a share");
        let b = of(&Part { from, ..bore(&closer, now) }).left().expect("a share");
        prop_assert!(b <= a + 1e-3, "{a} {b}");
    }

    #[test]
    fn more_doubt_never_makes_the_rate_surer(readings in readings(), which in 0usize..5, more in 1.0..20.0f64, from: bool) {
        let mut doubted = readings.clone();
        let which = which % readings.len();
        doubted[which].expanded *= more;
        let from = from.then_some((12.91, 0.02));
        let sure = of(&Part { from, ..bore(&readings, 60_000.0) });
        let unsure = of(&Part { from, ..bore(&doubted, 60_000.0) });
        prop_assert!(unsure.rate_se >= sure.rate_se * (1.0 - 1e-9));
        prop_assert!(unsure.at(70_000.0).1 >= sure.at(70_000.0).1 * (1.0 - 1e-9));
    }

    /// Where the doubt does not draw the line towards the stated life, the interval of the life widens, too.
    #[test]
    fn more_doubt_never_narrows_the_life_of_a_part_on_its_line(
        places in prop::collection::vec((1000.0..50_000.0f64, 0.002..0.05f64), 1..5),
        more in 1.0..20.0f64,
    ) {
        let on = |times: f64| -> Vec<Reading> {
            places.iter().map(|(n, w)| at(*n, 12.90 + 0.0025e-3 * n, w * times)).collect()
        };
        let interval = |readings: &[Reading]| {
            of(&bore(readings, 50_000.0)).interval(0.95).expect("a level")
        };
        let (sure, unsure) = (interval(&on(1.0)), interval(&on(more)));
        prop_assert!(unsure.0 <= sure.0 + 1e-3 && unsure.1 >= sure.1 - 1e-3, "{sure:?} {unsure:?}");
    }

    #[test]
    fn measured_beyond_the_limit_nothing_is_left(readings in readings(), past in 1e-6..0.5f64, w in 0.001..0.2f64, from: bool) {
        let mut readings = readings;
        readings.push(at(60_000.0, 13.05 + past, w));
        let from = from.then_some((12.91, 0.02));
        let life = of(&Part { from, ..bore(&readings, 60_000.0) });
        prop_assert_eq!(life.left().expect("a share"), 0.0);
        prop_assert_eq!(life.interval(0.95).expect("a level").0, 0.0);
        prop_assert!(life.beyond_now() >= 0.5);
    }

    /// A spring that gets shorter lasts as long as a bore that grows alike.
    #[test]
    fn a_limit_below_is_a_limit_above_upside_down(readings in readings()) {
        let mirrored: Vec<Reading> = readings.iter().map(|r| Reading { size: -r.size, ..*r }).collect();
        let grows = of(&bore(&readings, 60_000.0));
        let shrinks = of(&Part {
            new: -12.90,
            limits: limits(Some(-13.05), None),
            ..bore(&mirrored, 60_000.0)
        });
        let (a, b) = (grows.left().expect("a share"), shrinks.left().expect("a share"));
        prop_assert!(a == b || (a - b).abs() < 1e-3, "{a} {b}");
        prop_assert!((grows.beyond_after(5000.0) - shrinks.beyond_after(5000.0)).abs() < 1e-9);
    }

    #[test]
    fn the_order_of_readings_is_nothing(readings in readings(), from: bool) {
        let from = from.then_some((12.91, 0.02));
        let turned: Vec<Reading> = readings.iter().rev().copied().collect();
        let one = of(&Part { from, ..bore(&readings, 60_000.0) });
        let other = of(&Part { from, ..bore(&turned, 60_000.0) });
        prop_assert!((one.rate / other.rate - 1.0).abs() < 1e-6 || (one.rate - other.rate).abs() < 1e-12);
        prop_assert!((one.rate_se / other.rate_se - 1.0).abs() < 1e-9);
    }

    #[test]
    fn it_never_comes_back(readings in readings(), more in 0.0..1e6f64, still in 0.0..1e6f64) {
        let life = of(&bore(&readings, 60_000.0));
        // Where the line says that it wears at all.
        prop_assume!(life.rate > 0.0);
        prop_assert!(life.beyond_after(more + still) >= life.beyond_after(more) - 1e-12);
    }
}
