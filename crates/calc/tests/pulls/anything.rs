//! Whatever is recorded is read or refused: nothing panics, nothing is NaN.

use calc::pull::reading::{Fastener, Filter, Reading, Setup, read_pull};
use calc::pull::recording::RecordedPull;
use proptest::prelude::*;

use crate::generator::{Draw, Plan, make};
use crate::{KINDS, recorded};

fn any_kind() -> impl Strategy<Value = Fastener> {
    (0usize..4).prop_map(|i| KINDS[i])
}

fn any_filter() -> impl Strategy<Value = Filter> {
    prop_oneof![
        Just(Filter::Usual),
        Just(Filter::None),
        (1usize..6, 1.0..3000.0f64)
            .prop_map(|(order, cutoff_hz)| Filter::Butterworth { order, cutoff_hz }),
        (1usize..60, 0usize..5)
            .prop_map(|(window, degree)| Filter::SavitzkyGolay { window, degree }),
    ]
}

/// Every number of a reading.
fn numbers(reading: &Reading) -> Vec<f64> {
    let f = &reading.features;
    let values = [
        f.break_kn,
        f.take_up_kn,
        f.plateau_kn,
        f.stiffness_kn_mm,
        f.release_kn,
        f.cycle_s,
        f.return_s,
        f.hysteresis_j,
        f.stick_slip_kn,
        f.slip_kn,
        f.hold.map(|h| h.loss_kn),
        Some(f.peak_kn),
        Some(f.stroke_mm),
        Some(f.energy_j),
    ];
    let mut all = vec![f.peak_raw_kn, f.stick_slip_per_mm];
    let slips = reading.slips.iter().map(|s| s.drop_kn);
    let phases = reading
        .phases
        .iter()
        .flat_map(|p| [p.begin_mm, p.end_mm, p.travel_mm, p.energy_j]);
    for value in values.into_iter().flatten().chain(slips).chain(phases) {
        all.extend([value.value, value.u]);
    }
    all.extend(reading.slips.iter().map(|s| s.lost_mm));
    all.extend(&reading.course.force_kn);
    all
}

fn holds(pull: &RecordedPull, setup: &Setup) {
    if let Ok(reading) = read_pull(pull, setup) {
        let numbers = numbers(&reading);
        assert!(numbers.iter().all(|x| x.is_finite()), "{reading:?}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn no_columns_make_it_panic(
        rows in prop::collection::vec((-1.0..3.0f64, -30.0..30.0f64, -5.0..20.0f64), 0..400),
        kind in any_kind(),
        filter in any_filter(),
        shape in 0usize..4,
    ) {
        let mut time = 0.0;
        let mut pull = RecordedPull::default();
        for (i, (step, force, stroke)) in rows.iter().enumerate() {
            time += if shape == 0 { *step } else { 0.001 };
            let x = i as f64 / rows.len() as f64;
            pull.time_s.push(time);
            pull.stroke_mm.push(match shape { 1 => x * 10.0, 2 => 0.0, _ => *stroke });
            pull.force_kn.push(match shape { 2 => x * force, 3 => force.round(), _ => *force });
        }
        holds(&pull, &Setup { filter, ..Setup::of(kind) });
    }

    #[test]
    fn no_part_of_a_pull_makes_it_panic(
        seed in any::<u64>(),
        kind in any_kind(),
        read_as in any_kind(),
        filter in any_filter(),
        samples in 60usize..1500,
        ends in (0.0..0.9f64, 0.1..1.0f64),
        slips in 0usize..5,
        dry in 0.0..0.3f64,
    ) {
        let plan = Plan { samples, slips, dry, noise: 0.05 * dry, ..Plan::good(kind) };
        let mut pull = recorded(&make(&plan, &mut Draw(seed)));
        let from = (ends.0 * samples as f64) as usize;
        let to = (from + (ends.1 * samples as f64) as usize).min(samples);
        for column in [&mut pull.time_s, &mut pull.stroke_mm, &mut pull.force_kn] {
            *column = column[from..to].to_vec();
        }
        holds(&pull, &Setup { filter, ..Setup::of(read_as) });
    }
}

#[test]
fn refusals() {
    let good = recorded(&make(&Plan::good(KINDS[0]), &mut Draw(51)));
    let setup = Setup::of(KINDS[0]);
    assert!(read_pull(&good, &setup).is_ok());
    let mut short = good.clone();
    short.force_kn.pop();
    let mut nan = good.clone();
    nan.stroke_mm[5] = f64::NAN;
    let mut still = good.clone();
    still.force_kn.fill(0.0);
    let mut frozen = good.clone();
    frozen.time_s.fill(1.0);
    for bad in [short, nan, still, frozen, RecordedPull::default()] {
        assert!(read_pull(&bad, &setup).is_err());
    }
    let too_high = Filter::Butterworth {
        order: 2,
        cutoff_hz: 1e6,
    };
    assert!(
        read_pull(
            &good,
            &Setup {
                filter: too_high,
                ..setup
            }
        )
        .is_err()
    );
}
