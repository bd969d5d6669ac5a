//! Sets that look the same, and whether a caliper tells them apart.

use calc::repeated::{self, GaugeDoubt};
use proptest::prelude::*;
use shop::nose_match::{Size, Tell, best_caliper, look_alikes, smallest_told_mm, twins, working};
use shop::sheet::{Gauge, NoseSet};

use crate::bench::{TODAY, shelf};
use crate::nose_order::{nose, noses};

fn caliper() -> &'static Gauge {
    best_caliper(shelf().gauges().map(|(_, g)| g), |g| {
        shelf().is_in_date(g, TODAY)
    })
    .expect("a caliper in date")
}

#[test]
fn the_best_caliper_is_in_date() {
    // C-1 and C-3 are alike and in date; C-5 is out of date.
    assert_eq!(caliper().id, "c-1");
    let c5: Vec<_> = shelf()
        .gauges()
        .map(|(_, g)| g)
        .filter(|g| g.id == "c-5")
        .collect();
    assert!(best_caliper(c5, |g| shelf().is_in_date(g, TODAY)).is_none());
    let others = shelf()
        .gauges()
        .map(|(_, g)| g)
        .filter(|g| !g.id.starts_with("c-"));
    assert!(
        best_caliper(others, |g| shelf().is_in_date(g, TODAY)).is_none(),
        "no micrometer, no plug"
    );
}

#[test]
fn the_two_collets_of_the_hp_90_are_told_by_their_length() {
    // Demo sheets: 68.0 and 74.0 mm, 14.4 and 21.6 mm of teeth, 6 and 9 teeth; the anvil is shared.
    let found = twins(noses(), Some(caliper()));
    let pairs: Vec<_> = found
        .iter()
        .map(|t| (t.first.id.as_str(), t.second.id.as_str()))
        .collect();
    assert_eq!(pairs, [("n48-b12", "n48-b12n")]);
    let differs: Vec<_> = found[0]
        .differences
        .iter()
        .map(|d| (d.size, (d.by() * 10.0).round() / 10.0, d.tell.clone()))
        .collect();
    assert_eq!(
        differs,
        [
            (Size::ColletLength, 6.0, Tell::Caliper),
            (Size::Grip, 7.2, Tell::Caliper),
            (Size::Teeth, 3.0, Tell::Count),
        ]
    );
    assert!(found[0].not_known.is_empty());
}

/// Two N8 that differ as `change` says.
fn copies(change: impl Fn(&mut NoseSet)) -> [NoseSet; 2] {
    let mut other = nose("n8").clone();
    other.id = "n8-other".to_owned();
    other.collet.number = "CR8-X".to_owned();
    other.anvil.number = "TB32-X".to_owned();
    other.housing.number = None;
    change(&mut other);
    [nose("n8").clone(), other]
}

fn only_tell(change: impl Fn(&mut NoseSet), caliper: Option<&Gauge>) -> (Size, Tell) {
    let pair = copies(change);
    let found = twins(&pair, caliper);
    let [one] = found.as_slice() else {
        panic!("{found:?}");
    };
    let [difference] = one.differences.as_slice() else {
        panic!("{one:?}");
    };
    (difference.size, difference.tell.clone())
}

#[test]
fn a_difference_within_twice_the_doubt_is_not_told_by_caliper() {
    // U = √(0.03² + 0.01²/3) = 0.03055 mm, so 0.0611 mm is the least that C-1 tells (by hand).
    let told = smallest_told_mm(caliper().doubt());
    assert!((told - 0.0611).abs() < 5e-5, "{told}");
    let longer = |by: f64| move |n: &mut NoseSet| n.collet.length_mm = Some(42.0 + by);
    let c = Some(caliper());
    assert_eq!(
        only_tell(longer(0.07), c),
        (Size::ColletLength, Tell::Caliper)
    );
    let (size, tell) = only_tell(longer(0.06), c);
    assert_eq!(size, Size::ColletLength);
    assert!(matches!(tell, Tell::Instead(m) if m.id == "tell-micrometer"));
    assert_eq!(
        only_tell(longer(0.07), None),
        (Size::ColletLength, Tell::NoCaliper)
    );
    let (_, tell) = only_tell(|n| n.anvil.throat_mm = Some(12.95), c);
    assert!(matches!(tell, Tell::Instead(m) if m.id == "tell-plug-gauge"));
    assert_eq!(only_tell(|n| n.collet.teeth = Some(6), c).1, Tell::Count);
}

#[test]
fn a_pitch_is_told_over_all_teeth() {
    // Five teeth: 0.02 mm a pitch add up to 0.08 mm, 0.01 mm to 0.04 mm.
    let pitch = |p: f64| move |n: &mut NoseSet| n.collet.pitch_mm = Some(p);
    let c = Some(caliper());
    assert_eq!(only_tell(pitch(1.62), c), (Size::Pitch, Tell::Caliper));
    let (_, tell) = only_tell(pitch(1.61), c);
    assert!(matches!(tell, Tell::Instead(m) if m.id == "tell-lens"));
}

#[test]
fn sets_that_look_different_are_no_twins() {
    type Change = fn(&mut NoseSet);
    let changes: [Change; 5] = [
        |n| n.thread.hand = calc::screw_stop::Hand::Left,
        |n| n.collet.form = shop::sheet::GrooveForm::Vee60,
        |n| n.collet.takes_mm = (8.8, 9.0),
        |n| n.anvil.takes_mm = (8.8, 9.0),
        |n| n.collet.outside_mm = Some(22.8),
    ];
    for (i, change) in changes.into_iter().enumerate() {
        let pair = copies(|n| {
            n.collet.length_mm = Some(38.8);
            change(n);
        });
        assert!(twins(&pair, Some(caliper())).is_empty(), "{i}");
    }
    assert!(
        twins(&copies(|_| {}), Some(caliper())).is_empty(),
        "nothing differs"
    );
}

#[test]
fn a_size_that_a_sheet_does_not_know_is_named() {
    let pair = copies(|n| n.collet.length_mm = None);
    let found = twins(&pair, Some(caliper()));
    assert_eq!(found[0].not_known, [Size::ColletLength]);
    assert!(found[0].differences.is_empty());
    // Of a part with the same number nothing is in doubt.
    let mut pair = copies(|n| n.collet.length_mm = None);
    pair[1].collet.number = pair[0].collet.number.clone();
    assert!(twins(&pair, Some(caliper())).is_empty());
}

#[test]
fn the_sheets_own_look_alikes_are_listed() {
    let found = look_alikes(noses(), Some(caliper()));
    let rows: Vec<_> = found
        .iter()
        .map(|l| (l.nose.id.as_str(), l.part.number.as_str()))
        .collect();
    assert_eq!(
        rows,
        [
            ("n26-d6", "AH21-15C"),
            ("n48-b12", "HP90-11"),
            ("n48-b12n", "HP90-11B"),
            ("n8", "CR8-S")
        ]
    );
    assert!(
        found.iter().all(|l| l.tell == Tell::Caliper),
        "1.5 mm and more"
    );
    let found = look_alikes(noses(), None);
    assert!(found.iter().all(|l| l.tell == Tell::NoCaliper));
}

proptest! {
    /// The doubt is that of one reading by JCGM 100, as everywhere else.
    #[test]
    fn twice_the_doubt_of_one_reading(expanded in 0.0..1.0f64, resolution in 0.0..1.0f64) {
        let doubt = GaugeDoubt { expanded, resolution };
        let one = repeated::mean(&[0.0], doubt).expect("a reading");
        let told = smallest_told_mm(doubt);
        prop_assert!((told - 2.0 * one.expanded).abs() < 1e-4 * (1.0 + told), "{told}");
        prop_assert_eq!(&working(doubt).steps[1].value, &format!("{told:.3}"));
    }

    /// Both ways round, in any order: the same pairs with the same differences.
    #[test]
    fn the_order_of_sheets_makes_no_twin(shuffled in Just(noses()).prop_shuffle()) {
        prop_assert_eq!(twins(noses(), Some(caliper())), twins(shuffled.clone(), Some(caliper())));
        prop_assert_eq!(look_alikes(noses(), None), look_alikes(shuffled, None));
    }
}
