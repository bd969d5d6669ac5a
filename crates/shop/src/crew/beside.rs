//! What a crew sent beside what it should be: a slip of the finger shows before it is accepted.

use calc::repeated::Estimate;

use crate::entry::{CrewJointsSent, GivenTurns};
use crate::job::{Job, SetUpSheets, answer};
use crate::setting::rule;
use crate::sheet::{SettingBasis, Shelf};
use crate::trial::own::{OddValue, odd_value, signed_off_last};

/// Fewest turns from the setting that was given at which a good report is refused. Common practice, no
/// source.
const LEAST_TURNS_FAR: f64 = 1.0;

/// What stands beside the turns that a crew sent.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beside {
    /// Turns by the sheet's table for the stick-out that was sent.
    pub table: Option<f64>,
    /// Turns of the newest signed-off set-up of the tool with this nose set and fastener.
    pub signed_off: Option<f64>,
    /// Whether the turns that were sent belong to these.
    pub belongs: bool,
    /// What is odd in the values, where the turns belong and the joints were called good.
    pub odd: Option<OddValue>,
}

impl GivenTurns {
    /// Whether `turns` lie further from it than its doubt.
    pub fn is_apart(&self, turns: f64) -> bool {
        (turns - self.turns).abs() > self.expanded
    }

    /// Whether they lie so far from it that one of the two is a slip.
    pub fn is_far(&self, turns: f64) -> bool {
        (turns - self.turns).abs() > self.expanded.max(LEAST_TURNS_FAR)
    }
}

/// What stands beside what a crew `sent`; `jobs` are all of the tool.
pub fn beside(sent: &CrewJointsSent, jobs: &[Job], shelf: &Shelf) -> Beside {
    let measured = sent.measured_mm.map(Estimate::exact);
    let table = sheets(sent, shelf)
        .zip(measured)
        .filter(|(sheets, _)| sheets.rule.is_some_and(|rule| rule.basis.is_by_turns()))
        .and_then(|(sheets, measured)| answer(&sheets, &measured).ok());
    let signed_off = signed_off_last(jobs, &sent.nose_set.id, &sent.fastener.id);
    let signed_off = signed_off.and_then(|signed| signed.body.turns);
    // Another tool of the model may differ from the table by more than the table's own doubt, and other
    // pins by more than nothing from those of the set-up.
    let loosely = |turns| GivenTurns {
        turns,
        expanded: LEAST_TURNS_FAR,
    };
    let by_record = || {
        let table = table.as_ref().map(|table| table.set_turns);
        table.or(signed_off).map(loosely)
    };
    let from = sent.given.or_else(by_record);
    let belongs = from
        .zip(sent.turns)
        .is_none_or(|(from, turns)| !from.is_apart(turns));
    let odd = sheets(sent, shelf).and_then(|sheets| odd_value(sent, &sheets));
    Beside {
        odd: odd.filter(|_| belongs && !sent.bad),
        table: table.map(|table| table.set_turns),
        signed_off,
        belongs,
    }
}

/// What ended the pull of the joints in `sent`; `None` where the sheets say nothing of it.
pub fn basis(sent: &CrewJointsSent, shelf: &Shelf) -> Option<SettingBasis> {
    Some(sheets(sent, shelf)?.rule?.basis)
}

fn sheets<'a>(sent: &CrewJointsSent, shelf: &'a Shelf) -> Option<SetUpSheets<'a>> {
    let model = shelf.model(&(&sent.model).into())?;
    let fastener = shelf.fastener(&(&sent.fastener).into())?;
    let nose = shelf.nose_set(&(&sent.nose_set).into())?;
    Some(SetUpSheets {
        model,
        fastener,
        code: fastener.codes.iter().find(|code| code.code == sent.code),
        nose,
        rule: rule(model, nose, fastener),
    })
}
