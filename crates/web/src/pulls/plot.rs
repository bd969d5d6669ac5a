//! The pulls of a recording as one drawing.

use calc::Message;
use calc::pull::envelope::{BandPoint, Envelope};
use calc::pull::reading::{Course, Phase, Reading};
use paper::PullPlot;
use paper::pull_plot::{BandEdge, CurveLook, Event, PhaseMark, PullCurve};
use shop::entry::{
    CurveDrawn, Outcome, PhaseDrawn, PullCounts, PullDrawing, PullRead, PullsRead, SlipDrawn,
};
use shop::pulls::OnePull;

use super::names;
use super::recording::Recording;
use crate::shell::Page;

/// Points of a curve that are drawn.
const MOST_POINTS: usize = 240;

/// The drawing; what counts by `read` stands out, with nothing counted yet all do.
pub(super) fn plot(p: &Page, recording: &Recording, read: Option<&PullsRead>) -> PullPlot {
    of(p, &drawing(recording, read), &recording.file.body.name)
}

/// The same in numbers, as a certificate keeps it.
pub(super) fn drawing(recording: &Recording, read: Option<&PullsRead>) -> PullDrawing {
    let readable = |pull: &OnePull| Some((pull.number, pull.reading.as_ref().ok()?.clone()));
    let all: Vec<(u32, Reading)> = recording.pulls.iter().filter_map(readable).collect();
    let to_stall = recording.fastener.is_empty();
    let counted = |number: u32| match read {
        Some(read) => read.pulls.iter().find(|pull| pull.number == number),
        None => None,
    };
    let counts = |number: u32| match (read, counted(number)) {
        (None, _) => PullCounts::Counts,
        (Some(_), None) => PullCounts::LeftOut,
        (Some(_), Some(pull)) if is_rejected(pull) => PullCounts::Rejected,
        (Some(_), Some(_)) => PullCounts::Counts,
    };
    let curves = all.iter().map(|(number, reading)| CurveDrawn {
        pull: *number,
        counts: counts(*number),
        points: points(&reading.course),
    });
    let first = all
        .iter()
        .find(|(number, _)| read.is_none() || counted(*number).is_some());
    let phases = first
        .filter(|_| !to_stall)
        .map(|(_, reading)| phases(reading));
    let slips = all.iter().flat_map(|(number, reading)| {
        reading.slips.iter().map(|slip| SlipDrawn {
            pull: *number,
            stroke_um: thousandths(slip.stroke_mm),
            force_n: thousandths(at(&reading.course, slip.stroke_mm)),
            drop_n: thousandths(slip.drop_kn.value),
        })
    });
    let band = recording.band.as_ref().zip(first);
    PullDrawing {
        curves: curves.collect(),
        phases: phases.unwrap_or_default(),
        slips: slips.collect(),
        band: band
            .map(|(good, (_, reading))| edges(&good.band, reading))
            .unwrap_or_default(),
    }
}

/// `drawn` of the recording `name` with its words.
pub(super) fn of(p: &Page, drawn: &PullDrawing, name: &str) -> PullPlot {
    let named = |number: u32| p.say(&Message::new("pull-name").with("number", number));
    let curves = drawn.curves.iter().map(|curve| PullCurve {
        name: named(curve.pull),
        points: curve
            .points
            .iter()
            .map(|(s, f)| (whole(*s), whole(*f)))
            .collect(),
        look: match curve.counts {
            PullCounts::Counts => CurveLook::Counts,
            PullCounts::Rejected => CurveLook::Rejected,
            PullCounts::LeftOut => CurveLook::LeftOut,
        },
    });
    let phases = drawn.phases.iter().map(|found| PhaseMark {
        name: p.t(names::phase(found.phase.into())),
        from_mm: whole(found.from_um),
        to_mm: whole(found.to_um),
    });
    let events = drawn.slips.iter().map(|slip| {
        let said = Message::new("pull-slip")
            .with("pull", named(slip.pull))
            .number("stroke", whole(slip.stroke_um), 1)
            .number("drop", whole(slip.drop_n), 2);
        Event {
            name: p.say(&said),
            stroke_mm: whole(slip.stroke_um),
            force_kn: whole(slip.force_n),
        }
    });
    let band = drawn.band.iter().map(|(stroke, lower, upper)| BandEdge {
        stroke_mm: whole(*stroke),
        lower_kn: whole(*lower),
        upper_kn: whole(*upper),
    });
    let label = Message::new("pull-plot-label")
        .with("count", drawn.curves.len())
        .with("name", name);
    PullPlot {
        band: band.collect(),
        events: events.collect(),
        phases: phases.collect(),
        axes: (p.t("pull-axis-stroke"), p.t("pull-axis-force")),
        label: p.say(&label),
        curves: curves.collect(),
    }
}

/// Millimetres in µm, kilonewtons in N: far finer than a drawing shows.
fn thousandths(value: f64) -> i32 {
    (value * 1000.0).round() as i32
}

fn whole(thousandths: i32) -> f64 {
    f64::from(thousandths) / 1000.0
}

fn is_rejected(pull: &PullRead) -> bool {
    let features = pull.features.iter().filter_map(|f| f.outcome);
    features.chain(pull.like).any(|o| o == Outcome::Reject)
}

/// The curve, of long ones every so manieth point; the last one always.
fn points(course: &Course) -> Vec<(i32, i32)> {
    let every = course.force_kn.len().div_ceil(MOST_POINTS).max(1);
    let last = course.force_kn.len().saturating_sub(1);
    let place = |i: usize| (i as f64 + 0.5) * course.step_mm;
    let all = course.force_kn.iter().enumerate();
    let kept = all.filter(|(i, _)| i % every == 0 || *i == last);
    kept.map(|(i, force)| (thousandths(place(i)), thousandths(force.max(0.0))))
        .collect()
}

fn at(course: &Course, stroke_mm: f64) -> f64 {
    let i = (stroke_mm / course.step_mm).max(0.0) as usize;
    let last = course.force_kn.len().saturating_sub(1);
    course.force_kn.get(i.min(last)).copied().unwrap_or(0.0)
}

/// Phases on the way out; the eject lies on the way back.
fn phases(reading: &Reading) -> Vec<PhaseDrawn> {
    let out = reading.phases.iter().filter(|f| f.phase != Phase::Eject);
    out.map(|found| PhaseDrawn {
        phase: found.phase.into(),
        from_um: thousandths(found.begin_mm.value),
        to_um: thousandths(found.end_mm.value),
    })
    .collect()
}

/// The band over the stroke of `reading`: it is known from the end of the take-up to the end.
fn edges(band: &Envelope, reading: &Reading) -> Vec<(i32, i32, i32)> {
    let take_up = reading.phases.iter().find(|f| f.phase == Phase::TakeUp);
    let begin = take_up.map_or(0.0, |found| found.end_mm.value);
    let course = &reading.course;
    let travel = course.step_mm * course.force_kn.len() as f64 - begin;
    let edge = |point: BandPoint| {
        let places = [begin + travel * point.share, point.lower_kn, point.upper_kn];
        let [stroke, lower, upper] = places.map(thousandths);
        (stroke, lower, upper)
    };
    band.band().into_iter().map(edge).collect()
}
