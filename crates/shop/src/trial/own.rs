//! The adjuster of this very tool: what its own past set-ups say of how it differs from the sheet's table.
//!
//! Each signed-off set-up with the same nose set and fastener is one point: how far from the table its
//! joints were set, and how far from the middle they read, on the mean. The table is the prior of the line.
//! A tool moves a little whenever its nose comes off, so the joints of one set-up count as one point.

use calc::Message;
use calc::line_posterior::{self, METHOD, Posterior, Prior};
use calc::repeated::Estimate;
use calc::screw_stop::to_step;
use calc::trial_loop::Read;
use calc::working::Working;
use jiff::Timestamp;

use super::{SPREAD_WORTH, led::Led, said};
use crate::crew::Inbox;
use crate::entry::{CrewJointsSent, OwnAdjuster, PastSetUp};
use crate::job::{Desk, Job, SetUpSheets, answer, method_of};
use crate::joint;
use crate::setting::SettingAnswer;
use crate::sheet::ToolModel;

/// Standard deviation, mm, of what taking a nose off and fitting it again moves. Common practice, no
/// source.
pub const REFIT_MM: f64 = 0.2;
/// Standard uncertainty of the pitch, as a share of it. Common practice, no source.
const PITCH_DOUBT: f64 = 0.02;

/// What earlier set-ups of the tool say for a set-up in hand.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Past {
    /// A point each, oldest first.
    pub points: Vec<PastSetUp>,
    /// Set-ups that say nothing any more: a part that moves the setting was renewed since, or the sheet
    /// states another adjuster now.
    pub left_out: usize,
}

/// What the ended jobs of the tool and its crews say for the set-up of `this` job to `sheets`: signed-off
/// set-ups with the same nose set and fastener, and what crews sent and the bench accepted.
pub fn past(
    ended: &[Job],
    this: Option<&Job>,
    inbox: &Inbox,
    sheets: &SetUpSheets,
    desk: &Desk,
) -> Past {
    let renewed = ended.iter().chain(this);
    let renewed = renewed.filter_map(|job| moved_last(job, desk)).max();
    let mut past = Past::default();
    let mut take = |at: Timestamp, point: Option<PastSetUp>| match point {
        Some(point) if renewed.is_none_or(|renewed| at > renewed) => past.points.push(point),
        _ => past.left_out += 1,
    };
    for job in ended {
        if let Some((at, point)) = of_job(job, sheets, desk) {
            take(at, point);
        }
    }
    for sent in inbox.accepted() {
        if is_same(&sent.body.nose_set.id, &sent.body.fastener.id, sheets)
            && let Some(point) = of_crew(&sent.body, sheets, desk)
        {
            take(sent.at, point);
        }
    }
    past
}

/// When a part that moves the setting was last renewed in `job`.
fn moved_last(job: &Job, desk: &Desk) -> Option<Timestamp> {
    let model = desk.shelf.model(&job.model_pin())?;
    let moves = |id: &str| model.part(id).is_some_and(|part| part.moves_setting);
    let renewed = job.replaced.iter().filter(|r| moves(&r.body.part));
    renewed.map(|r| r.at).max()
}

fn is_same(nose_set: &str, fastener: &str, sheets: &SetUpSheets) -> bool {
    nose_set == sheets.nose.id && fastener == sheets.fastener.id
}

/// The signed-off set-up of `job` for this nose set and fastener: when, and its point. `None` where it has
/// none with measured joints; no point where the adjuster of its sheet was another.
fn of_job(job: &Job, sheets: &SetUpSheets, desk: &Desk) -> Option<(Timestamp, Option<PastSetUp>)> {
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
    let then = job.model(desk);
    let stands = set_up.stick_out()?;
    let measured_mm = stands.mean_mm.or(stands.stroke_mm);
    let point = then
        .zip(measured_mm)
        .and_then(|(then, measured_mm)| point(sheets, &led, then, measured_mm, &read));
    Some((at, point))
}

/// What a crew sent; `None` where it does not tell what its pins measured.
fn of_crew(sent: &CrewJointsSent, sheets: &SetUpSheets, desk: &Desk) -> Option<Option<PastSetUp>> {
    let led = Led::by(sheets)?;
    let (measured_mm, turns) = sent.measured_mm.zip(sent.turns)?;
    let readings = sent.joints.iter().flat_map(|joint| &joint.readings);
    let of_led = readings.filter(|read| read.criterion == led.criterion.id);
    let read: Vec<(f64, f64)> = of_led.map(|read| (turns, read.value)).collect();
    if read.is_empty() {
        return None;
    }
    let then = desk.shelf.model(&(&sent.model).into());
    Some(then.and_then(|then| point(sheets, &led, then, measured_mm, &read)))
}

/// Joints (turns, value) as a point against the table that stands now, whichever stood then; `None` where
/// the turns of then are not those of now.
fn point(
    sheets: &SetUpSheets,
    led: &Led,
    then: &ToolModel,
    measured_mm: f64,
    read: &[(f64, f64)],
) -> Option<PastSetUp> {
    if then.adjuster.stop != sheets.model.adjuster.stop {
        return None;
    }
    let table = answer(sheets, &Estimate::exact(measured_mm)).ok()?.turns;
    let joints = read.len();
    let mean = |of: fn(&(f64, f64)) -> f64| read.iter().map(of).sum::<f64>() / joints as f64;
    Some(PastSetUp {
        turns_off: mean(|r| r.0) - table,
        value_off_mm: mean(|r| r.1) - led.window.middle_mm(),
        joints,
    })
}

/// The line of this tool after `past`: millimetres from the middle for turns from the table.
fn line(led: &Led, past: &[PastSetUp]) -> Option<(Prior, Posterior)> {
    let joints: usize = past.iter().map(|p| p.joints).sum();
    if joints == 0 {
        return None;
    }
    let each = joints as f64 / past.len() as f64;
    let prior = Prior {
        intercept: 0.0,
        slope: led.per_turn_mm,
        intercept_se: led.tools_differ_mm,
        slope_se: PITCH_DOUBT * led.per_turn_mm.abs(),
        spread: (led.spread_mm / each.sqrt()).hypot(REFIT_MM),
        spread_dof: SPREAD_WORTH,
    };
    let points: Vec<(f64, f64)> = past.iter().map(|p| (p.turns_off, p.value_off_mm)).collect();
    let line = line_posterior::posterior(&prior, &points).ok()?;
    Some((prior, line))
}

/// What the tool's own past says for a setting that the table puts at `table.turns`.
pub(crate) fn adjuster(
    sheets: &SetUpSheets,
    past: &[PastSetUp],
    table: &SettingAnswer,
) -> Option<OwnAdjuster> {
    let led = Led::by(sheets)?;
    let (_, line) = line(&led, past)?;
    let offset_mm = line.at(0.0);
    let offset_sd_mm = line.se_at(0.0).hypot(REFIT_MM);
    let turns = table.turns - offset_mm / line.slope;
    let model = sheets.model;
    let away = model.adjuster.stop.away_from_zero();
    let rounded = to_step(turns.max(0.0), model.adjuster.step_turns, away).ok();
    // Where the past lies where the adjuster may not stand, the table's setting is tried first: the loop
    // knows the offset all the same.
    let may_stand = |to: &f64| {
        let near = Some(table.turns);
        joint::may_turn_to(model, sheets.fastener, sheets.rule, near, *to).is_ok()
    };
    let set_turns = rounded.filter(may_stand).unwrap_or(table.set_turns);
    let own_doubt = 2.0 * offset_sd_mm / line.slope.abs();
    Some(OwnAdjuster {
        offset_mm,
        offset_sd_mm,
        turns,
        set_turns,
        expanded_turns: own_doubt.hypot(table.expanded_turns),
        past: past.to_vec(),
        method: method_of(METHOD),
    })
}

/// Whether the past lies so far from the table that something else may be wrong.
pub fn is_far(own: &OwnAdjuster, table_turns: f64) -> bool {
    joint::far_from_table(own.turns, Some(table_turns))
}

/// How the turns of this tool come about.
pub fn working(sheets: &SetUpSheets, own: &OwnAdjuster, table: &SettingAnswer) -> Option<Working> {
    let led = Led::by(sheets)?;
    let (prior, line) = line(&led, &own.past)?;
    let given = |what| Message::new(what);
    let reckoned = line_posterior::working(&prior, &line)
        .given("t₀", given("given-table-turns"), table.turns, 2, "turns")
        .given(
            "w_t",
            given("given-expanded"),
            table.expanded_turns,
            2,
            "turns",
        )
        .given("u", given("given-offset-doubt"), own.offset_sd_mm, 3, "mm")
        .step("t", "t₀ − a / b", own.turns, 2, "turns")
        .step(
            "w",
            "√((2 · u / b)² + w_t²)",
            own.expanded_turns,
            2,
            "turns",
        );
    Some(reckoned)
}
