//! Bands of good pulls: good ones stay in, faulty ones do not.

use calc::CalcError;
use calc::decision::Verdict;
use calc::pull::envelope::Envelope;
use calc::pull::reading::{Fastener, Reading, Setup};

use crate::generator::{Draw, Plan, Series};
use crate::{KINDS, read};

fn readings(series: &Series, kind: Fastener, count: usize, draw: &mut Draw) -> Vec<Reading> {
    (0..count)
        .map(|_| read(&series.next(draw, |plan| plan), kind))
        .collect()
}

fn envelope(of: &[Reading], share: f64) -> Envelope {
    let of: Vec<&Reading> = of.iter().collect();
    Envelope::of(&of, share).expect("enough pulls")
}

#[test]
fn about_the_share_that_is_told_lies_inside() {
    let mut draw = Draw(31);
    let (mut inside, mut all, mut told) = (0, 0, 0.0);
    for i in 0..16 {
        let kind = KINDS[i % 4];
        let plan = Plan {
            samples: 2000,
            ..Plan::good(kind)
        };
        let series = Series::new(&plan, &mut draw);
        let band = envelope(&readings(&series, kind, 19, &mut draw), 0.9);
        assert!((band.share - 0.9).abs() < 1e-9 && band.count() == 19);
        told += band.share;
        for reading in readings(&series, kind, 20, &mut draw) {
            let compared = band.compare(&reading, &Setup::of(kind)).expect("a pull");
            all += 1;
            inside += usize::from(compared.deviation <= band.k);
        }
    }
    let (share, told) = (f64::from(inside as u32) / f64::from(all), told / 16.0);
    println!("{share} of {told}");
    // 320 pulls in 16 bands: a standard deviation of about 0.025 between and within.
    assert!((share - told).abs() < 0.075, "{share} {told}");
}

#[test]
fn faulty_pulls_lie_outside() {
    let mut draw = Draw(32);
    for kind in KINDS {
        let plan = Plan {
            samples: 4000,
            ..Plan::good(kind)
        };
        let series = Series::new(&plan, &mut draw);
        let band = envelope(&readings(&series, kind, 25, &mut draw), 0.95);
        let faults: [fn(Plan) -> Plan; 4] = [
            |plan| Plan {
                air_mm: 2.0,
                ..plan
            },
            |plan| Plan {
                early: true,
                ..plan
            },
            |plan| Plan { slips: 3, ..plan },
            |plan| Plan { dry: 0.08, ..plan },
        ];
        for (i, fault) in faults.iter().enumerate() {
            let mut out = 0;
            for _ in 0..10 {
                let reading = read(&series.next(&mut draw, fault), kind);
                let compared = band.compare(&reading, &Setup::of(kind)).expect("a pull");
                out += usize::from(compared.verdict == Verdict::Reject);
                assert!(compared.verdict != Verdict::Reject || compared.deviation > band.k);
            }
            println!("{kind:?} {i}: {out} of 10");
            assert!(out >= 9, "{kind:?}, fault {i}: {out} of 10");
        }
    }
}

#[test]
fn an_unsure_gauge_leaves_it_undecided() {
    let mut draw = Draw(33);
    let kind = Fastener::BreakLockbolt;
    let plan = Plan {
        samples: 2000,
        ..Plan::good(kind)
    };
    let series = Series::new(&plan, &mut draw);
    let band = envelope(&readings(&series, kind, 20, &mut draw), 0.9);
    let reading = read(&series.next(&mut draw, |plan| plan), kind);
    let unsure = Setup {
        force_u_share: 0.2,
        ..Setup::of(kind)
    };
    let compared = band.compare(&reading, &unsure).expect("a pull");
    assert_eq!(compared.verdict, Verdict::Undecided);
    let sheet = band.working(&compared);
    assert_eq!(sheet.steps[1].value, format!("{:.2}", compared.deviation));
}

#[test]
fn the_band_is_drawn_about_its_mean_and_refuses_too_few() {
    let mut draw = Draw(34);
    let kind = Fastener::RivetNut;
    let plan = Plan {
        samples: 1500,
        ..Plan::good(kind)
    };
    let series = Series::new(&plan, &mut draw);
    let all = readings(&series, kind, 6, &mut draw);
    let band = envelope(&all, 0.95);
    // Six pulls cannot show more than six sevenths.
    assert!((band.share - 6.0 / 7.0).abs() < 1e-12);
    assert!(
        band.band()
            .iter()
            .all(|p| p.lower_kn < p.mean_kn && p.mean_kn < p.upper_kn)
    );
    let few: Vec<&Reading> = all.iter().take(4).collect();
    assert!(matches!(
        Envelope::of(&few, 0.9),
        Err(CalcError::TooFew { need: 5, .. })
    ));
    let six: Vec<&Reading> = all.iter().collect();
    assert!(Envelope::of(&six, 1.0).is_err() && Envelope::of(&six, f64::NAN).is_err());
}
