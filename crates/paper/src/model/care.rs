//! The care sheet: what a crew does for its tool, and when.

use crate::axis::Axis;

use super::{Day, RecordHead, Shop, Tool};

/// A care sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct CareSheet {
    /// The shop that the crew calls.
    pub shop: Shop,
    /// Job number.
    pub job: String,
    /// Customer.
    pub customer: String,
    /// The tool.
    pub tool: Tool,
    /// Pull counter on the day of issue; `None` if the tool has none.
    pub counter: Option<u64>,
    /// Service tasks, in the order of the sheet.
    pub tasks: Vec<CareTask>,
    /// The parts along the axis; leave the list empty for none.
    pub axis: Axis,
    /// Lubricants.
    pub lubricants: Vec<CareLubricant>,
    /// Cautions.
    pub cautions: Vec<CareCaution>,
    /// Day of issue as printed.
    pub issued_on: String,
    /// The record that stands behind it.
    pub record: RecordHead,
    /// Day of issue.
    pub issued: Day,
}

/// A service task.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CareTask {
    /// What is done.
    pub what: String,
    /// At each shift.
    pub every_shift: bool,
    /// After so many pulls.
    pub every_pulls: Option<u64>,
    /// After so many days.
    pub every_days: Option<u32>,
    /// Pull counter when it was last done; `None` if that is not known.
    pub last_pulls: Option<u64>,
    /// Day on which it is next due, as printed; empty if not known.
    pub next_on: String,
}

impl CareTask {
    /// The pull count at which it is next due: an interval after it was last done. If that is not known, the
    /// newest multiple of the interval that the counter has come to, for nobody can say that it was done then, or
    /// the first one (common practice, no source). A count that the tool has come to means that it is due now.
    pub fn next_pulls(&self, counter: Option<u64>) -> Option<u64> {
        let every = self.every_pulls.filter(|every| *every > 0)?;
        match self.last_pulls {
            Some(last) => Some(last.saturating_add(every)),
            None => Some((counter? / every).max(1).saturating_mul(every)),
        }
    }
}

/// A lubricant and where it goes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CareLubricant {
    /// What it is.
    pub name: String,
    /// Where it goes.
    pub uses: Vec<LubricantUse>,
}

/// A place that is lubricated.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LubricantUse {
    /// Part id; its number on the drawing is printed if it stands on the axis.
    pub part: String,
    /// Name of the part.
    pub name: String,
    /// How much and how.
    pub amount: String,
}

/// A caution.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct CareCaution {
    /// What to do.
    pub text: String,
    /// Where it comes from.
    pub source: String,
}
