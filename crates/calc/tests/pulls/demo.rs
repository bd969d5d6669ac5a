//! The recordings of the demo shop: made here from their seeds, in the form of an invented logger.

use std::fmt::Write as _;
use std::path::Path;

use calc::pull::reading::Fastener;

use crate::generator::{Draw, Made, Plan, Series};

/// Samples of a pull: 400 a second.
const SAMPLES: usize = 780;
/// What the logger's amplifier shows for a volt, kN.
const KN_PER_VOLT: f64 = 5.0;

/// The logger's file of `pulls`: volts and millimetres with a decimal comma, one time for all.
fn logged(pulls: &[Made]) -> String {
    let mut text = "Bench logger 2, 400 Hz\nt;Ch1;Ch2\nms;V;mm\n".to_owned();
    let mut row = 0;
    let comma = |value: f64, places: usize| format!("{value:.places$}").replace('.', ",");
    for pull in pulls {
        for (force, stroke) in pull.force_kn.iter().zip(&pull.stroke_mm) {
            let time = comma(f64::from(row) * 2.5, 1);
            let (volts, stroke) = (comma(force / KN_PER_VOLT, 3), comma(*stroke, 2));
            let _ = writeln!(text, "{time};{volts};{stroke}");
            row += 1;
        }
    }
    text
}

/// Pulls of one D6 after the other on an AH-21; `change` makes them faulty.
fn d6(seed: u64, count: usize, change: fn(Plan) -> Plan) -> Vec<Made> {
    // The joint is the same in every recording, its pulls are not.
    let plan = Plan {
        peak_kn: 14.9,
        samples: SAMPLES,
        ..Plan::good(Fastener::BreakLockbolt)
    };
    let series = Series::new(&plan, &mut Draw(2106));
    let mut draw = Draw(seed);
    (0..count).map(|_| series.next(&mut draw, change)).collect()
}

fn to_stall(seed: u64, count: usize) -> Vec<Made> {
    let plan = Plan {
        peak_kn: 20.6,
        samples: SAMPLES,
        ..Plan::good(Fastener::StopLockbolt)
    };
    let mut draw = Draw(seed);
    let series = Series::new(&plan, &mut draw);
    (0..count)
        .map(|_| series.next(&mut draw, |plan| plan))
        .collect()
}

#[test]
fn the_demo_s_recordings_are_made_from_their_seeds() {
    let mut slipping = logged(&d6(12, 4, |plan| Plan { slips: 2, ..plan }));
    // A channel that dropped out for a row, as loggers write it.
    let at = slipping
        .match_indices('\n')
        .nth(1100)
        .expect("as many rows")
        .0;
    slipping.insert_str(at, "-,--");
    let files = [
        ("ah-1187-d6-as-left.csv", logged(&d6(11, 12, |plan| plan))),
        ("ah-1212-d6-as-found.csv", slipping),
        ("ah-1301-stall.csv", logged(&to_stall(13, 5))),
    ];
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sheets/demo/recordings");
    for (name, text) in files {
        let path = folder.join(name);
        if std::env::var_os("UPDATE_RECORDINGS").is_some() {
            std::fs::write(&path, &text).expect("written");
        }
        let kept = std::fs::read_to_string(&path).expect("it is kept");
        assert!(
            kept == text,
            "{name}: run with UPDATE_RECORDINGS=1 and look at the difference"
        );
    }
}
