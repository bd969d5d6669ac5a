//! The adjuster of this very tool: what its own past set-ups say of how it differs from the sheet's table.
//!
//! Each signed-off set-up with the same nose set and fastener is one point of [`Past`]. The table is the
//! prior of the line. A tool moves a little whenever its nose comes off, so the joints of one set-up count
//! as one point.

use calc::Message;
use calc::line_posterior::{self, METHOD, Posterior, Prior};
use calc::screw_stop::to_step;
use calc::working::Working;

use super::{SPREAD_WORTH, led::Led};
use crate::entry::{OwnAdjuster, PastSetUp};
use crate::job::{SetUpSheets, method_of};
use crate::joint;
use crate::setting::{SettingAnswer, TINY};
use crate::sheet::ToolModel;

pub use super::past::{LeftOut, OddValue, Past, odd_value, past, signed_off_last};

/// Standard deviation, mm, of what taking a nose off and fitting it again moves. Common practice, no
/// source.
pub const REFIT_MM: f64 = 0.2;
/// Standard uncertainty of the pitch, as a share of it. Common practice, no source.
pub(super) const PITCH_DOUBT: f64 = 0.02;

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
    // Less than no turn is none that hands can set.
    let step = model.adjuster.step_turns;
    let reached = (turns >= -step / 2.0).then_some(turns.max(0.0));
    let rounded = reached.and_then(|turns| to_step(turns, step, away).ok());
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

/// So many standard deviations between tools of a model away from the table, a tool is no longer one of
/// them: something else may be wrong. Common practice, no source.
const MOST_TOOLS_DIFFER: f64 = 2.0;

/// Whether the past lies so far from the table that something else may be wrong: further than tools of the
/// model differ, or by more turns than any joint is moved.
pub fn is_far(sheets: &SetUpSheets, own: &OwnAdjuster, table_turns: f64) -> bool {
    let beyond_others = |led: Led| own.offset_mm.abs() > MOST_TOOLS_DIFFER * led.tools_differ_mm;
    Led::by(sheets).is_some_and(beyond_others)
        || joint::far_from_table(own.turns, Some(table_turns))
}

/// Whether hands cannot set `turns`, the tool's own, so that the table's `set_turns` stand in for them.
pub fn is_fall_back(model: &ToolModel, set_turns: f64, turns: f64) -> bool {
    (set_turns - turns).abs() > model.adjuster.step_turns / 2.0 + TINY
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
