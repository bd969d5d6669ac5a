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

use super::{SPREAD_WORTH, led::Led, said};
use crate::crew::Inbox;
use crate::entry::{CrewJointsSent, OwnAdjuster, PastSetUp};
use crate::job::{Desk, Job, SetUp, SetUpSheets, answer, method_of};
use crate::joint;
use crate::setting::{self, SettingAnswer};

/// Standard deviation, mm, of what taking a nose off and fitting it again moves. Common practice, no
/// source.
pub const REFIT_MM: f64 = 0.2;
/// Standard uncertainty of the pitch, as a share of it. Common practice, no source.
const PITCH_DOUBT: f64 = 0.02;

/// The signed-off set-up of `job` for this nose set and fastener, as a point; `None` where it has none with
/// measured joints.
pub fn past(job: &Job, nose_set: &str, fastener: &str, desk: &Desk) -> Option<PastSetUp> {
    let set_up = job.set_up()?;
    let fitted = &set_up.fitted.body;
    let same = fitted.nose_set.id == nose_set && fitted.fastener.id == fastener;
    if !same || set_up.signed_off.is_none() {
        return None;
    }
    let sheets = job.set_up_sheets(set_up, desk)?;
    point(&sheets, set_up, desk)
}

fn point(sheets: &SetUpSheets, set_up: &SetUp, desk: &Desk) -> Option<PastSetUp> {
    let led = Led::by(sheets)?;
    let table = set_up.stick_out()?.turns?;
    let read = set_up.joints.iter().filter_map(|joint| {
        let turns = joint.body.turns?;
        match said(&led, &joint.body, desk)? {
            Read::Measured { value_mm, .. } => Some((turns, value_mm)),
            _ => None,
        }
    });
    let read: Vec<(f64, f64)> = read.collect();
    let joints = read.len();
    let mean = |sum: f64| sum / joints as f64;
    (joints > 0).then(|| PastSetUp {
        turns_off: mean(read.iter().map(|r| r.0).sum()) - table,
        value_off_mm: mean(read.iter().map(|r| r.1).sum()) - led.window.middle_mm(),
        joints,
    })
}

/// What crews sent of the tool and the bench accepted, for this nose set and fastener: a point for each
/// sending that tells what its pins measured.
pub fn crews(inbox: &Inbox, nose_set: &str, fastener: &str, desk: &Desk) -> Vec<PastSetUp> {
    let same =
        |sent: &&CrewJointsSent| sent.nose_set.id == nose_set && sent.fastener.id == fastener;
    let accepted = inbox.accepted().filter(same);
    accepted.filter_map(|sent| of_crew(sent, desk)).collect()
}

fn of_crew(sent: &CrewJointsSent, desk: &Desk) -> Option<PastSetUp> {
    let shelf = desk.shelf;
    let model = shelf.model(&(&sent.model).into())?;
    let nose = shelf.nose_set(&(&sent.nose_set).into())?;
    let fastener = shelf.fastener(&(&sent.fastener).into())?;
    let sheets = SetUpSheets {
        model,
        fastener,
        code: fastener.code(&sent.code),
        nose,
        rule: setting::rule(model, nose, fastener),
    };
    let led = Led::by(&sheets)?;
    let table = answer(&sheets, &Estimate::exact(sent.measured_mm?))
        .ok()?
        .turns;
    let readings = sent.joints.iter().flat_map(|joint| &joint.readings);
    let of_led = readings.filter(|read| read.criterion == led.criterion.id);
    let values: Vec<f64> = of_led.map(|read| read.value).collect();
    let joints = values.len();
    (joints > 0).then(|| PastSetUp {
        turns_off: sent.turns.unwrap_or(table) - table,
        value_off_mm: values.iter().sum::<f64>() / joints as f64 - led.window.middle_mm(),
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
