//! Sums worked by hand, what is refused, and renewals gone through pull by pull.

use proptest::prelude::*;

use super::*;

const PLAIN: Asked = Asked {
    repair: 20_010,
    come_backs: COME_BACKS,
    wear: &[],
    pulls_a_year: 50_000,
    price_new: 150_000,
    life_years: 6.0,
};

fn part(used: u64, life: u64, cents: u64) -> WearPart {
    WearPart {
        used,
        gauged_left: None,
        life,
        cents,
    }
}

#[test]
fn by_hand() {
    // 300 000 pulls in 6 years. 10 000 left of 60 000: 1 + ⌊290 000 / 60 000⌋ = 5; new: 1 + ⌊240 000 / 60 000⌋ = 5.
    // 30 000 − 50 000 is over: 1 + ⌊300 000 / 30 000⌋ = 11; new: 1 + 9 = 10. 350 000 left of 400 000: in neither.
    let wear = [
        part(50_000, 60_000, 4_000),
        part(50_000, 30_000, 150),
        part(50_000, 400_000, 9_900),
    ];
    let asked = Asked {
        wear: &wear,
        ..PLAIN
    };
    let found = compare(&asked).expect("good");
    let told: Vec<(u64, u64, u64)> = found
        .renewals
        .iter()
        .map(|r| (r.left, r.times, r.times_new))
        .collect();
    assert_eq!(told, [(10_000, 5, 5), (0, 11, 10), (350_000, 0, 0)]);
    assert_eq!((found.wear, found.wear_new), (21_650, 21_500));
    // 5 % of 200.10 is 10.005: the half cent goes up.
    assert_eq!(found.come_back, 1_001);
    // (200.10 + 10.01 + 216.50) / 6 = 71.10; (1500 + 215) / 6 = 285.83.
    assert_eq!((found.with_repair, found.new_tool), (7_110, 28_583));
    // Alike in both: 5 · 40 + 10 · 1.50 = 215. (210.11 + 1.50) / 6 = 35.27; 1500 / 6 = 250.
    assert_eq!(found.wear_alike, 21_500);
    assert_eq!((found.repair_beside, found.new_beside), (3_527, 25_000));
    // 210.11 / (1715 / 6 − 216.50 / 6) = 210.11 · 6 / 1498.50.
    let even = found.even_years.expect("a time");
    assert!((even - 210.11 * 6.0 / 1498.5).abs() < 1e-12, "{even}");
    let steps = working(&asked, &found, Message::new("given-done-again")).steps;
    assert_eq!(steps[2].filled, "(1500.00 + 215.00) / 6.0");
    assert_eq!(pulls_a_year(10_000, 200), Ok(18_250));
    assert_eq!(pulls_a_year(100, 366), Ok(99), "99.7");
}

#[test]
fn what_was_gauged_stands_before_the_counter() {
    let gauged = WearPart {
        gauged_left: Some(290_001),
        ..part(60_000, 60_000, 100)
    };
    let times = |part: WearPart| {
        let wear = [part];
        let found = compare(&Asked {
            wear: &wear,
            ..PLAIN
        });
        found.expect("good").renewals[0].times
    };
    assert_eq!(times(part(60_000, 60_000, 100)), 6);
    assert_eq!(times(gauged), 1);
}

/// The same yearly use wears the same parts of either tool: with nothing used yet, the wear makes no difference.
#[test]
fn with_all_parts_new_only_repair_and_price_differ() {
    let wear = [part(0, 1_000, 5_000), part(0, 30_000, 150)];
    let found = compare(&Asked {
        wear: &wear,
        ..PLAIN
    })
    .expect("good");
    assert_eq!(found.wear, found.wear_new);
    let bare = compare(&PLAIN).expect("good");
    assert_eq!(found.even_years, bare.even_years);
    assert!(found.with_repair < found.new_tool && bare.with_repair < bare.new_tool);
}

#[test]
fn where_wear_alone_is_dearer_no_time_pays_for_the_repair() {
    let wear = [part(60_000, 300_001, 150_001)];
    let found = compare(&Asked {
        wear: &wear,
        ..PLAIN
    })
    .expect("good");
    assert_eq!(
        (found.renewals[0].times, found.renewals[0].times_new),
        (1, 0)
    );
    assert_eq!(found.even_years, None);
}

#[test]
fn refusals() {
    let worn_at_once = [part(0, 1, 1)];
    let without_life = [part(0, 0, 1)];
    let dear = [part(0, 1, MOST_CENTS)];
    let wrong = [
        Asked {
            repair: MOST_CENTS,
            ..PLAIN
        },
        Asked {
            price_new: u64::MAX,
            ..PLAIN
        },
        Asked {
            come_backs: (101, 100),
            ..PLAIN
        },
        Asked {
            come_backs: (0, 0),
            ..PLAIN
        },
        Asked {
            life_years: 0.0,
            ..PLAIN
        },
        Asked {
            life_years: f64::NAN,
            ..PLAIN
        },
        Asked {
            pulls_a_year: u64::MAX,
            wear: &worn_at_once,
            ..PLAIN
        },
        Asked {
            wear: &without_life,
            ..PLAIN
        },
        Asked {
            wear: &dear,
            ..PLAIN
        },
    ];
    for asked in wrong {
        assert!(compare(&asked).is_err(), "{asked:?}");
    }
    assert!(pulls_a_year(1, 0).is_err() && pulls_a_year(u64::MAX, 1).is_err());
}

proptest! {
    /// Renewing as it wears out, pull by pull, comes to the same.
    #[test]
    fn renewals_are_those_of_the_years_gone_through(
        used in 0u64..400, life in 1u64..200, year in 0u64..200, years in 1u64..5
    ) {
        let gone_through = |mut left: u64| {
            let mut times = 0;
            for pull in 0..=year * years {
                if left == 0 {
                    times += 1;
                    left = life;
                }
                if pull < year * years {
                    left -= 1;
                }
            }
            times
        };
        let wear = [part(used, life, 7)];
        let found = compare(&Asked { wear: &wear, pulls_a_year: year, life_years: years as f64, ..PLAIN })
            .expect("good");
        let of = found.renewals[0];
        prop_assert_eq!(of.times, gone_through(life.saturating_sub(used)));
        prop_assert_eq!(of.times_new, gone_through(life));
        prop_assert_eq!((found.wear, found.wear_new), (of.times * 7, of.times_new * 7));
        // A year of either is what is alike and what is not, to the cent that each is rounded by.
        let alike = found.wear_alike as f64 / years as f64;
        for (whole, beside) in [(found.with_repair, found.repair_beside), (found.new_tool, found.new_beside)] {
            prop_assert!((whole as f64 - beside as f64 - alike).abs() <= 1.0);
        }
        prop_assert!(of.times >= of.times_new, "an older part is not renewed less often");
    }
}
