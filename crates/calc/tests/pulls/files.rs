//! From the text of a file to what its pulls say.

use calc::pull::reading::{Fastener, Phase, Setup, read_pull};
use calc::pull::recording::{Bounds, Reader, Recorded, Rig, read};

use crate::KINDS;
use crate::generator::{Draw, Plan, csv, make};

#[test]
fn a_file_of_several_pulls_says_what_each_of_them_says() {
    let mut draw = Draw(41);
    for kind in KINDS {
        let made: Vec<_> = (0..4).map(|_| make(&Plan::good(kind), &mut draw)).collect();
        let Recorded::Sound(pulls) = read(csv(&made).as_bytes(), &Rig::default()) else {
            panic!("{kind:?}: not sound");
        };
        assert_eq!(pulls.len(), 4, "{kind:?}");
        for (pull, made) in pulls.iter().zip(&made) {
            let reading = read_pull(pull, &Setup::of(kind)).expect("a pull");
            let ends: Vec<_> = reading.phases.iter().map(|f| f.phase).collect();
            let wanted: Vec<_> = made.truth.ends.iter().map(|(phase, _)| *phase).collect();
            assert_eq!(ends, wanted);
            let energy = reading.features.energy_j.value;
            let off = energy - made.truth.energy_j;
            assert!(
                off.abs() < 0.01 * energy,
                "{kind:?}: {energy}, {off}, {:?}",
                reading.told
            );
        }
    }
}

/// From 50 to 50 000 samples a second.
#[test]
fn slow_and_fast_loggers_are_read_alike() {
    let mut draw = Draw(42);
    let kind = Fastener::BreakLockbolt;
    for (rate, near_mm) in [(50.0, 0.6), (500.0, 0.2), (50_000.0, 0.2)] {
        // 1.95 s from rest to rest.
        let plan = Plan {
            samples: (rate * 1.95) as usize,
            noise: 0.002,
            ..Plan::good(kind)
        };
        let made: Vec<_> = (0..2).map(|_| make(&plan, &mut draw)).collect();
        let Recorded::Sound(pulls) = read(csv(&made).as_bytes(), &Rig::default()) else {
            panic!("{rate}: not sound");
        };
        assert_eq!(pulls.len(), 2, "{rate}");
        for (pull, made) in pulls.iter().zip(&made) {
            let reading = read_pull(pull, &Setup::of(kind)).expect("a pull");
            assert!(
                (reading.told.rate_hz - rate).abs() < 0.01 * rate,
                "{:?}",
                reading.told
            );
            let (phase, end) = made.truth.ends[3];
            let clamp = reading.phases.iter().find(|f| f.phase == phase);
            let off = clamp.map_or(f64::INFINITY, |f| f.end_mm.value - end);
            assert!(
                phase == Phase::Clamp && off.abs() < near_mm,
                "{rate}: {off}"
            );
        }
    }
}

/// A long file is read in pieces: what is held at any time is one pull, not the file.
#[test]
fn a_long_file_is_read_in_bounded_memory() {
    let mut draw = Draw(43);
    let plan = Plan {
        samples: 2000,
        ..Plan::good(Fastener::RivetNut)
    };
    let made: Vec<_> = (0..4).map(|_| make(&plan, &mut draw)).collect();
    let text = csv(&made);
    let (head, rows) = text.split_once('\n').expect("a heading");
    let mut reader = Reader::new(Rig::default(), Bounds::default());
    let mut count = 0;
    reader.feed(format!("{head}\n").as_bytes(), &mut Vec::new());
    for _ in 0..50 {
        // The clock begins anew with each copy, as when recordings are put behind each other.
        for piece in rows.as_bytes().chunks(1 << 14) {
            let mut pulls = Vec::new();
            reader.feed(piece, &mut pulls);
            assert!(pulls.iter().all(|pull| pull.time_s.len() < 2500));
            count += pulls.len();
        }
    }
    let mut pulls = Vec::new();
    let told = reader.finish(&mut pulls);
    assert_eq!(
        (count + pulls.len(), told.rows),
        (200, 400_000),
        "{:?}",
        told.faults
    );
    assert_eq!(told.faults, []);
}

/// Noise, drift, slips and chatter neither split a pull nor make a sound file doubtful.
#[test]
fn rough_pulls_are_told_apart_all_the_same() {
    let mut draw = Draw(44);
    for kind in KINDS {
        let good = Plan {
            samples: 6000,
            ..Plan::good(kind)
        };
        let rough = [
            Plan {
                noise: 0.03,
                drift: 0.03,
                ..good
            },
            Plan {
                slips: 4,
                noise: 0.01,
                ..good
            },
            Plan { dry: 0.08, ..good },
            Plan {
                early: true,
                noise: 0.02,
                ..good
            },
            Plan {
                noise: 0.03,
                peak_kn: 4.0,
                ..good
            },
        ];
        for plan in rough {
            let made: Vec<_> = (0..6).map(|_| make(&plan, &mut draw)).collect();
            match read(csv(&made).as_bytes(), &Rig::default()) {
                Recorded::Sound(pulls) => assert_eq!(pulls.len(), 6, "{plan:?}"),
                Recorded::Doubtful { faults, pulls } => {
                    panic!("{plan:?}: {} {faults:?}", pulls.len())
                }
                Recorded::Unreadable(faults) => panic!("{plan:?}: {faults:?}"),
            }
        }
    }
}
