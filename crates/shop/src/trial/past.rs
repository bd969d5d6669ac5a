//! The earlier set-ups of a tool as points of its own line: its signed-off ones, and what crews sent and the
//! bench accepted.
//!
//! A point tells how far from the table joints were set, and how far from the middle they read, on the mean.
//! The nose stays on between two sign-offs: what crews send meanwhile is the same set-up, and one point with
//! it.

use std::collections::{BTreeMap, BTreeSet};

use calc::repeated::Estimate;
use calc::trial_loop::Read;
use jiff::Timestamp;

use super::own::{PITCH_DOUBT, REFIT_MM};
use super::{led::Led, said};
use crate::crew::Inbox;
use crate::entry::{CrewJointsSent, PastSetUp, SetUpSignedOff};
use crate::job::{Desk, Job, SetUp, SetUpSheets, Stamped, answer};
use crate::joint::MOST_TURNS_OFF;
use crate::sheet::{Shelf, ToolModel};

/// A point so many standard deviations from what the table foretells tells of a slip of the pen, not of the
/// tool. Common practice, no source.
const MOST_SD_OFF: f64 = 4.0;

/// What earlier set-ups of the tool say for a set-up in hand.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Past {
    /// A point each, oldest first.
    pub points: Vec<PastSetUp>,
    /// Set-ups that say nothing, or of which a part does not.
    pub left_out: LeftOut,
}

/// How many set-ups say nothing, and why.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct LeftOut {
    /// A part that moves the setting was renewed since, or the sheet states another adjuster now.
    pub renewed: usize,
    /// What they were set for is not in the sheet's table, or its band, any more.
    pub not_in_table: usize,
    /// They lie further from the table than a tool can: something was misread or mistyped.
    pub odd: usize,
}

impl LeftOut {
    /// All of them.
    pub fn total(&self) -> usize {
        self.renewed + self.not_in_table + self.odd
    }
}

/// Why something says nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Why {
    Renewed,
    NotInTable,
    Odd,
}

/// What the `ended` jobs of the tool and its crews say for a set-up to `sheets`: signed-off set-ups with the
/// same nose set and fastener, and what crews sent and the bench accepted. `open` are the jobs in hand: a
/// part may have been renewed in them.
pub fn past(
    ended: &[Job],
    open: &[&Job],
    inbox: &Inbox,
    sheets: &SetUpSheets,
    desk: &Desk,
) -> Past {
    let all = || ended.iter().chain(open.iter().copied());
    let renewed = all().filter_map(|job| moved_last(job, sheets, desk)).max();
    let signed: Vec<Timestamp> = all()
        .flat_map(|job| &job.set_ups)
        .filter_map(|set_up| Some(set_up.signed_off.as_ref()?.at))
        .collect();
    // The nose comes off before every sign-off, whatever it is for.
    let fitting = |at: Timestamp| signed.iter().filter(|signed| **signed <= at).count();

    let mut kept: BTreeMap<usize, Vec<PastSetUp>> = BTreeMap::new();
    let mut left_out: BTreeSet<(Why, usize)> = BTreeSet::new();
    let mut take = |at: Timestamp, point: Result<PastSetUp, Why>| {
        let since = |point| match renewed {
            Some(renewed) if at <= renewed => Err(Why::Renewed),
            _ => Ok(point),
        };
        match point.and_then(since) {
            Ok(point) => kept.entry(fitting(at)).or_default().push(point),
            Err(why) => {
                left_out.insert((why, fitting(at)));
            }
        }
    };
    for job in ended {
        if let Some((at, point)) = of_job(job, sheets, desk) {
            take(at, point);
        }
    }
    for sent in inbox.accepted() {
        if is_same(&sent.body.nose_set.id, &sent.body.fastener.id, sheets)
            && let Some(point) = of_crew(&sent.body, sheets, desk.shelf)
        {
            take(sent.at, point);
        }
    }
    let count = |why| left_out.iter().filter(|(w, _)| *w == why).count();
    Past {
        points: kept.values().map(|points| merged(points)).collect(),
        left_out: LeftOut {
            renewed: count(Why::Renewed),
            not_in_table: count(Why::NotInTable),
            odd: count(Why::Odd),
        },
    }
}

/// The newest sign-off of a set-up with this nose set and fastener in `jobs`.
pub fn signed_off_last<'a>(
    jobs: impl IntoIterator<Item = &'a Job>,
    nose_set: &str,
    fastener: &str,
) -> Option<&'a Stamped<SetUpSignedOff>> {
    let set_ups = jobs.into_iter().flat_map(|job| &job.set_ups);
    let same = |set_up: &&SetUp| {
        let fitted = &set_up.fitted.body;
        fitted.nose_set.id == nose_set && fitted.fastener.id == fastener
    };
    let signed = set_ups.filter(same).filter_map(|s| s.signed_off.as_ref());
    signed.max_by_key(|signed| signed.at)
}

/// When a part that moves the setting was last renewed in `job`. The sheet of today knows best; a part that
/// no sheet knows may move it.
fn moved_last(job: &Job, sheets: &SetUpSheets, desk: &Desk) -> Option<Timestamp> {
    let then = desk.shelf.model(&job.model_pin());
    let moves = |id: &str| {
        let of_then = || then.and_then(|model| model.part(id));
        let part = sheets.model.part(id).or_else(of_then);
        part.is_none_or(|part| part.moves_setting)
    };
    let renewed = job.replaced.iter().filter(|r| moves(&r.body.part));
    renewed.map(|r| r.at).max()
}

fn is_same(nose_set: &str, fastener: &str, sheets: &SetUpSheets) -> bool {
    nose_set == sheets.nose.id && fastener == sheets.fastener.id
}

/// The signed-off set-up of `job` for this nose set and fastener: when, and its point. `None` where it has
/// none with measured joints.
fn of_job(
    job: &Job,
    sheets: &SetUpSheets,
    desk: &Desk,
) -> Option<(Timestamp, Result<PastSetUp, Why>)> {
    let set_up = job.set_up()?;
    let fitted = &set_up.fitted.body;
    if !is_same(&fitted.nose_set.id, &fitted.fastener.id, sheets) {
        return None;
    }
    let at = set_up.signed_off.as_ref()?.at;
    let led = Led::by(sheets)?;
    let read = set_up.joints.iter().filter_map(|joint| {
        let turns = joint.body.turns?;
        match said(&led, &joint.body, desk)? {
            Read::Measured { value_mm, .. } => Some((turns, value_mm)),
            _ => None,
        }
    });
    let read: Vec<(f64, f64)> = read.collect();
    if read.is_empty() {
        return None;
    }
    let stands = set_up.stick_out()?;
    let measured_mm = stands.mean_mm.or(stands.stroke_mm)?;
    Some((at, point(sheets, &led, job.model(desk), measured_mm, &read)))
}

/// What a crew sent; `None` where it does not tell what its pins measured.
fn of_crew(
    sent: &CrewJointsSent,
    sheets: &SetUpSheets,
    shelf: &Shelf,
) -> Option<Result<PastSetUp, Why>> {
    let led = Led::by(sheets)?;
    let then = shelf.model(&(&sent.model).into());
    let read = read_of(sent, &led)?;
    Some(point(sheets, &led, then, sent.measured_mm?, &read))
}

/// The joints that a crew sent, as (turns, value); `None` where none tells both.
fn read_of(sent: &CrewJointsSent, led: &Led) -> Option<Vec<(f64, f64)>> {
    let turns = sent.turns?;
    let readings = sent.joints.iter().flat_map(|joint| &joint.readings);
    let of_led = readings.filter(|read| read.criterion == led.criterion.id);
    let read: Vec<(f64, f64)> = of_led.map(|read| (turns, read.value)).collect();
    (!read.is_empty()).then_some(read)
}

/// Joints of a crew that read further from what their turns foretell than a tool can.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OddValue {
    /// What they read, mm, on the mean.
    pub read_mm: f64,
    /// What joints at these turns read on a tool of the model, mm.
    pub foretold_mm: f64,
    /// How far from it a tool can lie, mm.
    pub most_off_mm: f64,
}

/// What is odd in what a crew `sent`; `None` where nothing is, or nobody can tell. Turns that lie too far from
/// the table are odd by themselves: here it is the values.
pub fn odd_value(sent: &CrewJointsSent, sheets: &SetUpSheets) -> Option<OddValue> {
    let led = Led::by(sheets)?;
    let read = read_of(sent, &led)?;
    let point = off_table(sheets, &led, sent.measured_mm?, &read)?;
    let (off_mm, most_off_mm) = off(&led, &point);
    let is_odd = point.turns_off.abs() <= MOST_TURNS_OFF && off_mm.abs() > most_off_mm;
    is_odd.then(|| OddValue {
        read_mm: led.window.middle_mm() + point.value_off_mm,
        foretold_mm: led.foretold_mm(point.turns_off),
        most_off_mm,
    })
}

/// Joints (turns, value) as a point against the table that stands now, whichever stood `then`.
fn point(
    sheets: &SetUpSheets,
    led: &Led,
    then: Option<&ToolModel>,
    measured_mm: f64,
    read: &[(f64, f64)],
) -> Result<PastSetUp, Why> {
    if then.is_none_or(|then| then.adjuster.stop != sheets.model.adjuster.stop) {
        return Err(Why::Renewed);
    }
    let point = off_table(sheets, led, measured_mm, read).ok_or(Why::NotInTable)?;
    if is_odd(led, &point) {
        Err(Why::Odd)
    } else {
        Ok(point)
    }
}

/// How far joints lie from the table and its middle; `None` where the table has no such row.
fn off_table(
    sheets: &SetUpSheets,
    led: &Led,
    measured_mm: f64,
    read: &[(f64, f64)],
) -> Option<PastSetUp> {
    let table = answer(sheets, &Estimate::exact(measured_mm)).ok()?;
    let joints = read.len();
    let mean = |of: fn(&(f64, f64)) -> f64| read.iter().map(of).sum::<f64>() / joints as f64;
    Some(PastSetUp {
        turns_off: mean(|r| r.0) - table.turns,
        value_off_mm: mean(|r| r.1) - led.window.middle_mm(),
        joints,
    })
}

/// Whether a point cannot be of this tool with its adjuster where it was said to stand.
fn is_odd(led: &Led, point: &PastSetUp) -> bool {
    let (off_mm, most_off_mm) = off(led, point);
    point.turns_off.abs() > MOST_TURNS_OFF || off_mm.abs() > most_off_mm
}

/// How far a point reads from what its turns foretell, and how far a tool can, mm.
fn off(led: &Led, point: &PastSetUp) -> (f64, f64) {
    let foretold_mm = led.per_turn_mm * point.turns_off;
    let of_pitch_mm = PITCH_DOUBT * foretold_mm;
    let of_joints_mm = led.spread_mm / (point.joints as f64).sqrt();
    let sd_mm = led
        .tools_differ_mm
        .hypot(REFIT_MM)
        .hypot(of_joints_mm)
        .hypot(of_pitch_mm);
    (point.value_off_mm - foretold_mm, MOST_SD_OFF * sd_mm)
}

/// Points of one fitting of the nose as one, each weighed by its joints.
fn merged(points: &[PastSetUp]) -> PastSetUp {
    let joints: usize = points.iter().map(|p| p.joints).sum();
    let mean = |of: fn(&PastSetUp) -> f64| {
        let sum: f64 = points.iter().map(|p| of(p) * p.joints as f64).sum();
        sum / joints as f64
    };
    PastSetUp {
        turns_off: mean(|p| p.turns_off),
        value_off_mm: mean(|p| p.value_off_mm),
        joints,
    }
}
