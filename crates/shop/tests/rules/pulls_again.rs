//! Pulls that count are read again as they were read, and only good ones make a band.

use calc::pull::envelope::Envelope;
use calc::pull::reading::{Fastener, Reading, Setup, read_pull};
use jiff::Timestamp;
use jiff::civil::{Date, date};
use shop::entry::{Body, CalibrationPoint, CurveShape, Outcome, Phase, PullsRead};
use shop::gauge::{Doubt, GaugeCommand, Stands, decide};
use shop::job::{Desk, Job, Stamped};
use shop::pulls::{
    FEWEST, Good, GoodRecording, KnownBy, accepted, band, beside, known_by, recording_again,
    recording_of, setup, setup_again,
};
use shop::sheet::{Sheet, Shelf};

use crate::bench::{TODAY, desk, person, shelf};
use crate::entries::stored;
use crate::gauges::{CELL, bad, calibration, on, row, with, written};
use crate::pulls::{input, known_on, pull, pulls, takes, with_file};
use crate::pulls_by_gauge::{held, one, pulls_of, stall, taken};

fn now(shelf: &Shelf) -> Setup {
    let rig = shelf.rigs().next().expect("the demo's").1;
    setup(Some(rig), None, &on(shelf))
}

fn strike(shelf: Shelf, number: u32) -> Shelf {
    let reason = "points of another cell".to_owned();
    written(shelf, CELL, &GaugeCommand::Strike { number, reason })
}

/// The cell calibrated on `day` by points that `change` altered after they were written: as an older record may have them.
fn altered(day: Date, change: fn(&mut Vec<CalibrationPoint>)) -> Shelf {
    let mut shelf = shelf().clone();
    let command = GaugeCommand::Calibrate(Box::new(calibration(day)));
    for mut body in decide(CELL, &command, &on(&shelf)).expect("allowed") {
        if let Body::GaugeCalibrated(written) = &mut body {
            change(&mut written.points);
        }
        assert!(shelf.note_gauge(CELL, &body));
    }
    shelf
}

#[test]
fn points_without_a_curve_do_not_make_the_cell_exact() {
    // It indicated 10.2 at 10 and at 10.1: which of the two it was nobody knows.
    let shelf = altered(date(2026, 10, 1), |points| {
        let (nominal, left) = (10.1, 0.1);
        points.insert(
            1,
            CalibrationPoint {
                nominal,
                left,
                ..points[0]
            },
        );
        points[2].left = 0.4;
    });
    let pulls = (1..=5).map(|n| one(&held(20.5, 0.2), n, &shelf)).collect();
    let bodies = taken(&shelf, pulls, "").expect("taken");
    let read = pulls_of(&bodies);
    assert!(read.in_date, "the day is not what is wrong");
    assert_eq!(read.no_curve, [CELL]);
    assert_eq!(read.outcome, Some(Outcome::Undecided));
    let of = |feature: &str| {
        let mut all = read.pulls[0].features.iter();
        all.find(|f| f.feature == feature).expect("it is there")
    };
    // Nothing is taken off; the 0.4 that it was off at most is in the doubt, twice as expanded.
    assert!((of("peak").value - 20.5).abs() < 0.02, "{:?}", of("peak"));
    assert!(of("peak").expanded > 0.8, "{:?}", of("peak"));
    // The bench tests of them, of the pull and of what is lost in holding, decide as little.
    let tests = bodies.iter().filter_map(|body| match body {
        Body::BenchTestRead(test) => Some(test.outcome),
        _ => None,
    });
    let tests: Vec<Outcome> = tests.collect();
    assert_eq!(tests.len(), 2);
    assert!(tests.iter().all(|o| *o == Outcome::Undecided), "{tests:?}");
    let cell = shelf.gauge_in_force(CELL).expect("the cell");
    let has_curve = |shelf: &Shelf| {
        let history = shelf.gauge_history(CELL).expect("written");
        history.calibration(1).expect("the first").has_curve(cell)
    };
    assert!(!has_curve(&shelf));
    assert!(has_curve(&with(&[calibration(date(2026, 10, 1))])));
    // And read again it is the same.
    assert_eq!(setup_again(read, &shelf), now(&shelf));
}

#[test]
fn pulls_are_read_again_as_they_were_whatever_was_written_of_their_gauges_since() {
    let known = with(&[calibration(date(2026, 6, 1))]);
    let bodies = taken(&known, vec![one(&stall(20.5), 1, &known)], "").expect("taken");
    let read = pulls_of(&bodies);
    let then = now(&known);
    assert!(!then.force_deviations.is_exact() && then.force_u_kn > 0.0);
    assert_eq!(setup_again(read, &known), then);

    // A newer sheet of the cell, which speaks for itself and reaches less far.
    let mut newer = known.clone();
    let mut sheet = newer.gauge_in_force(CELL).expect("the cell").clone();
    sheet.calibrated = date(2026, 11, 1);
    sheet.due = date(2027, 11, 1);
    sheet.range.1 = 30.0;
    newer.put(Sheet::Gauge(sheet), "newer".to_owned());
    assert_ne!(now(&newer), then);
    assert_eq!(setup_again(read, &newer), then);
    let rig = known.rigs().next().expect("the demo's").1;
    assert_eq!(
        recording_again(read, &newer),
        recording_of(rig, &on(&known))
    );
    assert_ne!(
        recording_again(read, &newer),
        recording_of(rig, &on(&newer))
    );

    // A calibration brought later, of a day before the pulls.
    let mut late = calibration(date(2026, 9, 1));
    late.rows[1] = row(1, 30.0, 0.1, None);
    let late = with(&[calibration(date(2026, 6, 1)), late]);
    assert_ne!(now(&late), then);
    assert_eq!(setup_again(read, &late), then);

    // Its own calibration struck: it stays what it was, in doubt.
    let struck = strike(known, 1);
    assert_ne!(now(&struck), then);
    assert_eq!(setup_again(read, &struck), then);
    let [doubted] = &struck.doubted_pulls(read, TODAY)[..] else {
        panic!("the cell alone");
    };
    assert_eq!(doubted.doubt, Doubt::Struck(1));
}

/// Twelve D6 as left on a job that is proved and gone, read on the day of the test by what `shelf` knows.
fn proved(shelf: &Shelf, change: impl Fn(&mut PullsRead)) -> Job {
    let made: Vec<_> = (0..12)
        .map(|i| pull(14.8 + 0.04 * f64::from(i % 5), true, &[]))
        .collect();
    let mut input = input(pulls(&made, Fastener::BreakLockbolt), Some("drumhale-d6"));
    input.phase = Phase::AsFound;
    input.known_by = known_on(shelf);
    let desk = Desk { shelf, ..desk() };
    let bodies = shop::job::decide(&with_file().job(), takes(input), &desk).expect("taken");
    let mut read = pulls_of(&bodies).clone();
    read.phase = Phase::AsLeft;
    for pull in &mut read.pulls {
        pull.features.retain(|f| f.feature == "break");
        assert_eq!(pull.features[0].outcome, Some(Outcome::Accept));
    }
    read.outcome = Some(Outcome::Accept);
    change(&mut read);
    let mut job = with_file().job();
    let at = desk.now;
    job.pulls = vec![stamped(read, at)];
    let ends: Vec<Body> = stored()
        .filter(|(kind, _)| ["proof-signed-off", "returned"].contains(kind))
        .map(|(kind, json)| Body::from_json(kind, 1, json).expect("reads"))
        .collect();
    for body in ends {
        match body {
            Body::ProofSignedOff(proof) => job.proof = Some(stamped(proof, at)),
            Body::Returned(returned) => job.returned = Some(stamped(returned, at)),
            other => panic!("{other:?}"),
        }
    }
    job
}

fn stamped<T>(body: T, at: Timestamp) -> Stamped<T> {
    Stamped {
        version: 2,
        at,
        by: person("Joren"),
        body,
    }
}

fn good(job: &Job, shelf: &Shelf) -> usize {
    let rig = shelf.rigs().next().expect("the demo's").1;
    accepted(job, "drumhale-d6", rig, shelf, |_| TODAY).count()
}

#[test]
fn only_pulls_in_date_inside_their_limits_and_without_a_doubt_make_a_band() {
    let known = with(&[calibration(date(2026, 6, 1))]);
    let with_change = |change: fn(&mut PullsRead)| good(&proved(&known, change), &known);
    assert_eq!(with_change(|_| ()), 1);
    assert_eq!(with_change(|read| read.in_date = false), 0);
    assert_eq!(with_change(|read| read.phase = Phase::AsFound), 0);
    assert_eq!(with_change(|read| read.pulls[3].spoiled = true), 0);
    let undecided = |read: &mut PullsRead| {
        read.outcome = Some(Outcome::Undecided);
        read.pulls[3].features[0].outcome = Some(Outcome::Undecided);
    };
    assert_eq!(with_change(undecided), 0);
    // Undecided beside an older band alone: without it, each band would be narrower than the one before.
    let beside = |read: &mut PullsRead| {
        read.outcome = Some(Outcome::Undecided);
        read.pulls[3].like = Some(Outcome::Undecided);
    };
    assert_eq!(with_change(beside), 1);
    // The calibration struck, and the cell found outside its limits afterwards.
    let job = proved(&known, |_| ());
    assert_eq!(good(&job, &strike(known.clone(), 1)), 0);
    let command = GaugeCommand::Calibrate(Box::new(bad(TODAY)));
    assert_eq!(good(&job, &written(known, CELL, &command)), 0);
}

/// A band of good pulls, the last recording known by `cell`.
fn band_of(recordings: &[(&str, &[KnownBy])], at: &Setup) -> Good {
    let fastener = Fastener::BreakLockbolt;
    let setup = Setup {
        fastener,
        ..at.clone()
    };
    let readings: Vec<Reading> = (0..FEWEST as u32)
        .map(|i| pull(14.8 + 0.04 * f64::from(i % 5), true, &[]))
        .map(|made| read_pull(&made, &setup).expect("a pull"))
        .collect();
    let all: Vec<&Reading> = readings.iter().collect();
    let band: Envelope = band(&all).expect("enough");
    let recordings = recordings.iter().map(|(sha256, known_by)| GoodRecording {
        sha256: (*sha256).to_owned(),
        known_by: known_by.to_vec(),
    });
    Good {
        band,
        recordings: recordings.collect(),
    }
}

#[test]
fn beside_pulls_of_another_calibration_what_the_gauges_are_wrong_by_counts() {
    let known = with(&[calibration(date(2026, 6, 1))]);
    let now = now(&known);
    let same = [KnownBy::Calibration(1), KnownBy::Sheet(1)];
    let other = [KnownBy::Sheet(1), KnownBy::Sheet(1)];
    let held = |recordings: &[(&str, &[KnownBy])]| {
        let good = band_of(recordings, &now);
        // Out of the band made narrow, by less than the cell's doubt.
        let made = pulls(&[pull(14.72, true, &[])], Fastener::BreakLockbolt);
        let mut input = input(made, Some("drumhale-d6"));
        input.band = Some(good);
        input.known_by = known_on(&known);
        let bodies = shop::job::decide(&with_file().job(), takes(input), &on(&known));
        let bodies = bodies.expect("taken");
        let read = pulls_of(&bodies).clone();
        assert_eq!(known_by(&read), same);
        let used = read.band.expect("it is named");
        (used.counts_gauges, read.pulls[0].like)
    };
    let own = held(&[("a", &same), ("b", &same)]);
    assert!(!own.0);
    let (counts, like) = held(&[("a", &same), ("b", &other)]);
    assert!(counts);
    assert_eq!(like, Some(Outcome::Undecided));
    assert_ne!(own.1, like, "by the same calibration it is told apart");
    // Of a difference of two, each as unsure as the other.
    let across = beside(&now, true);
    assert!((across.force_u_kn - 2_f64.sqrt() * now.force_u_kn).abs() < 1e-12);
    assert!((across.stroke_u_mm - 2_f64.sqrt() * now.stroke_u_mm).abs() < 1e-12);
    assert_eq!(beside(&now, false), now.among_its_own());
}

#[test]
fn a_verdict_stands_only_with_the_doubt_of_what_was_found_in_it() {
    // By hand: 20.5 shown, deviation 0.2 at 10.2 to 1.614 at 31.614, so 0.88 and 19.62; limit 19.5. The verdict's own ± 0.1
    // or the finding's ± 0.1 alone would leave it clear, ± 0.14 does not.
    let june = calibration(date(2026, 6, 1));
    let known = with(std::slice::from_ref(&june));
    let bodies = taken(&known, vec![one(&stall(20.5), 1, &known)], "").expect("taken");
    let stands = |expanded: f64, found: f64| {
        let mut failed = bad(date(2026, 10, 1));
        failed.rows[1] = row(1, 30.0, 1.614, Some(0.1));
        failed.rows.iter_mut().for_each(|r| r.expanded = found);
        let shelf = with(&[june.clone(), failed]);
        let mut body = bodies[0].clone();
        let Body::PullsRead(read) = &mut body else {
            panic!("pulls");
        };
        let features = &mut read.pulls[0].features;
        features.retain(|f| f.feature == "peak");
        (features[0].lower, features[0].upper) = (Some(19.5), Some(22.0));
        (features[0].expanded, features[0].outcome) = (expanded, Some(Outcome::Accept));
        let day = date(2026, 8, 1);
        let doubt = shelf.doubted(&body, day)[0].doubt;
        let job = with_file().job();
        job.would_stand(&body, CELL, &doubt, day, &on(&shelf))
    };
    assert_eq!(stands(0.1, 0.1), Stands::Unknown);
    assert_eq!(stands(0.1, 0.01), Stands::Yes);
    assert_eq!(stands(0.01, 0.1), Stands::Yes);
}

#[test]
fn what_older_records_lack_is_empty_in_them_and_newer_ones_keep_it() {
    let lines = stored().filter(|(kind, _)| *kind == "pulls-read");
    for (kind, json) in lines {
        let Ok(Body::PullsRead(mut read)) = Body::from_json(kind, 1, json) else {
            panic!("{json}");
        };
        assert!(read.no_curve.is_empty());
        assert!(read.band.as_ref().is_none_or(|band| !band.counts_gauges));
        assert!(!json.contains("no_curve") && !json.contains("counts_gauges"));
        read.no_curve = vec![CELL.to_owned()];
        if let Some(band) = &mut read.band {
            band.counts_gauges = true;
        }
        let body = Body::from(read);
        let again = Body::from_json(kind, 1, &body.to_json());
        assert_eq!(again.expect("reads"), body);
    }
}

#[test]
fn beside_good_pulls_of_another_calibration_each_gauge_is_unsure_twice() {
    let own = Setup {
        force_u_kn: 0.1,
        force_u_share: 0.01,
        stroke_u_mm: 0.02,
        ..Setup::of(Fastener::RivetNut)
    };
    let among = beside(&own, false);
    assert_eq!(
        (among.force_u_kn, among.force_u_share, among.stroke_u_mm),
        (0.0, 0.0, 0.0)
    );
    // A difference of two as unsure: √2 of one.
    let other = beside(&own, true);
    for (found, expected) in [
        (other.force_u_kn, 0.141_421_356),
        (other.force_u_share, 0.014_142_136),
        (other.stroke_u_mm, 0.028_284_271),
    ] {
        assert!((found - expected).abs() < 1e-9, "{found} {expected}");
    }
}

#[test]
fn a_cell_is_as_unsure_to_pulls_as_where_its_curve_is_least_sure() {
    // A parabola through seven points: less sure at its ends than in its middle.
    let mut input = calibration(date(2026, 10, 1));
    input.shape = CurveShape::Parabola;
    let off = [0.1, 0.32, 0.38, 0.44, 0.4, 0.47, 0.42];
    let rows = off.into_iter().enumerate();
    input.rows = rows
        .map(|(i, off)| row(i, 7.0 * (i + 1) as f64, off, None))
        .collect();
    let shelf = with(&[input]);
    let at = |kn: f64| {
        let readings = crate::gauges::read(&shelf, &[kn]);
        on(&shelf).mean_of(&readings).expect("one").standard
    };
    let (least, most) = (at(28.4), at(49.42).max(at(7.1)));
    assert!(most > 1.05 * least, "{most} {least}");
    let found = now(&shelf).force_u_kn;
    assert!((found - most).abs() < 1e-6, "{found} {most}");
}
