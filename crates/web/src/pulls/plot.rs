//! The pulls of a recording as one drawing.

use calc::Message;
use calc::pull::envelope::{BandPoint, Envelope};
use calc::pull::reading::{Course, Phase, Reading};
use paper::PullPlot;
use paper::pull_plot::{BandEdge, CurveLook, Event, PhaseMark, PullCurve};
use shop::entry::{Outcome, PullRead, PullsRead};
use shop::pulls::OnePull;

use super::names;
use super::recording::Recording;
use crate::shell::Page;

/// Points of a curve that are drawn.
const MOST_POINTS: usize = 240;

/// The drawing; what counts by `read` stands out, with nothing counted yet all do.
pub(super) fn plot(p: &Page, recording: &Recording, read: Option<&PullsRead>) -> PullPlot {
    let readable = |pull: &OnePull| Some((pull.number, pull.reading.as_ref().ok()?.clone()));
    let all: Vec<(u32, Reading)> = recording.pulls.iter().filter_map(readable).collect();
    let to_stall = recording.fastener.is_empty();
    let counted = |number: u32| match read {
        Some(read) => read.pulls.iter().find(|pull| pull.number == number),
        None => None,
    };
    let named = |number: u32| p.say(&Message::new("pull-name").with("number", number));
    let look = |number: u32| match (read, counted(number)) {
        (None, _) => CurveLook::Counts,
        (Some(_), None) => CurveLook::LeftOut,
        (Some(_), Some(pull)) if is_rejected(pull) => CurveLook::Rejected,
        (Some(_), Some(_)) => CurveLook::Counts,
    };
    let curves = all.iter().map(|(number, reading)| PullCurve {
        name: named(*number),
        points: points(&reading.course),
        look: look(*number),
    });
    let first = all
        .iter()
        .find(|(number, _)| read.is_none() || counted(*number).is_some());
    let phases = first
        .filter(|_| !to_stall)
        .map(|(_, reading)| phases(p, reading));
    let slips = all.iter().flat_map(|(number, reading)| {
        let name = named(*number);
        reading.slips.iter().map(move |slip| {
            let said = Message::new("pull-slip")
                .with("pull", name.as_str())
                .number("stroke", slip.stroke_mm, 1)
                .number("drop", slip.drop_kn.value, 2);
            Event {
                name: p.say(&said),
                stroke_mm: slip.stroke_mm,
                force_kn: at(&reading.course, slip.stroke_mm),
            }
        })
    });
    let band = recording.band.as_ref().zip(first);
    let label = Message::new("pull-plot-label")
        .with("count", all.len())
        .with("name", recording.file.body.name.as_str());
    PullPlot {
        band: band
            .map(|((band, _), (_, reading))| edges(band, reading))
            .unwrap_or_default(),
        events: slips.collect(),
        phases: phases.unwrap_or_default(),
        axes: (p.t("pull-axis-stroke"), p.t("pull-axis-force")),
        label: p.say(&label),
        curves: curves.collect(),
    }
}

fn is_rejected(pull: &PullRead) -> bool {
    let features = pull.features.iter().filter_map(|f| f.outcome);
    features.chain(pull.like).any(|o| o == Outcome::Reject)
}

/// The curve, of long ones every so manieth point; the last one always.
fn points(course: &Course) -> Vec<(f64, f64)> {
    let every = course.force_kn.len().div_ceil(MOST_POINTS).max(1);
    let last = course.force_kn.len().saturating_sub(1);
    let place = |i: usize| (i as f64 + 0.5) * course.step_mm;
    let all = course.force_kn.iter().enumerate();
    let kept = all.filter(|(i, _)| i % every == 0 || *i == last);
    kept.map(|(i, force)| (place(i), force.max(0.0))).collect()
}

fn at(course: &Course, stroke_mm: f64) -> f64 {
    let i = (stroke_mm / course.step_mm).max(0.0) as usize;
    let last = course.force_kn.len().saturating_sub(1);
    course.force_kn.get(i.min(last)).copied().unwrap_or(0.0)
}

/// Phases on the way out; the eject lies on the way back.
fn phases(p: &Page, reading: &Reading) -> Vec<PhaseMark> {
    let out = reading.phases.iter().filter(|f| f.phase != Phase::Eject);
    out.map(|found| PhaseMark {
        name: p.t(names::phase(found.phase)),
        from_mm: found.begin_mm.value,
        to_mm: found.end_mm.value,
    })
    .collect()
}

/// The band over the stroke of `reading`: it is known from the end of the take-up to the end.
fn edges(band: &Envelope, reading: &Reading) -> Vec<BandEdge> {
    let take_up = reading.phases.iter().find(|f| f.phase == Phase::TakeUp);
    let begin = take_up.map_or(0.0, |found| found.end_mm.value);
    let course = &reading.course;
    let travel = course.step_mm * course.force_kn.len() as f64 - begin;
    let edge = |point: BandPoint| BandEdge {
        stroke_mm: begin + travel * point.share,
        lower_kn: point.lower_kn,
        upper_kn: point.upper_kn,
    };
    band.band().into_iter().map(edge).collect()
}
