//! How a joint is read: the criteria of its fastener sheet and what the eye says. A joint as found
//! and a trial joint are read alike.

use calc::Message;
use calc::units::Unit;

use super::judge::each_alone;
use super::refusal::{Refusal, Refusals, refuse, refuse_all};
use super::{Desk, Measured, TypedValue};
use crate::entry::{JointReading, Outcome, Seen};
use crate::inches::{self, JOINT};
use crate::joint;
use crate::sheet::{Criterion, FastenerFamily};

/// What was typed of a joint.
#[derive(Clone, Debug, PartialEq)]
pub struct JointIn {
    /// Criterion id with its reading, in the order of the sheet; those not measured are left out.
    pub readings: Vec<(String, Measured)>,
    /// What the eye says; `None` if nothing was picked.
    pub seen: Option<Seen>,
    /// Remark.
    pub note: String,
}

/// A joint, read.
pub(super) struct JointRead {
    pub readings: Vec<JointReading>,
    pub seen: Seen,
    pub outcome: Outcome,
}

impl JointIn {
    /// Reads the joint against the sheet of its fastener.
    pub(super) fn read(
        &self,
        fastener: &FastenerFamily,
        desk: &Desk,
    ) -> Result<JointRead, Refusals> {
        let mut refusals = Refusals::new();
        if self.seen.is_none() {
            refusals.push(refuse("seen", Message::new("refuse-seen")));
        }
        let mut readings = Vec::new();
        for (id, measured) in &self.readings {
            match read_criterion(fastener, id, measured, desk) {
                Ok(read) => readings.extend(read),
                Err(more) => refusals.extend(more),
            }
        }
        let (Some(seen), true) = (self.seen, refusals.is_empty()) else {
            return Err(refusals);
        };
        let outcome = match joint::outcome(&readings, seen) {
            // A limit that was not read is not met, however good the joint looks.
            Outcome::Accept if unread(&readings, fastener).is_some() => Outcome::Undecided,
            read => read,
        };
        Ok(JointRead {
            readings,
            seen,
            outcome,
        })
    }
}

/// Criteria of the fastener sheet that a joint was not read for.
pub(super) fn unread(readings: &[JointReading], fastener: &FastenerFamily) -> Option<String> {
    let criteria = fastener.criteria.iter();
    let unread: Vec<&str> = criteria
        .filter(|c| readings.iter().all(|r| r.criterion != c.id))
        .map(|c| c.name.as_str())
        .collect();
    (!unread.is_empty()).then(|| unread.join(", "))
}

/// Every reading of the criterion, one for each place that was measured.
fn read_criterion(
    fastener: &FastenerFamily,
    id: &str,
    measured: &Measured,
    desk: &Desk,
) -> Result<Vec<JointReading>, Refusals> {
    let Some(criterion) = fastener.criterion(id) else {
        return refuse_all(Message::new("joint-no-criterion").with("criterion", id));
    };
    let slips: Refusals = measured
        .values
        .iter()
        .filter_map(|typed| in_inches(criterion, typed).or_else(|| slipped(criterion, typed)))
        .collect();
    if !slips.is_empty() {
        return Err(slips);
    }
    let readings = desk.readings(measured, criterion.unit, &criterion.gauges)?;
    let Some(judged) = each_alone(readings, criterion.limits, criterion.rule, desk) else {
        return Err(vec![refuse(
            &measured.gauge_field,
            Message::new("refuse-no-reading"),
        )]);
    };
    let read = judged.into_iter().map(|(reading, verdict)| JointReading {
        criterion: id.to_owned(),
        reading,
        outcome: verdict.into(),
    });
    Ok(read.collect())
}

/// No joint measures so many times its upper limit and so much more, mm: a digit was typed twice. Common
/// practice, no source.
const NO_JOINT: (f64, f64) = (2.0, 5.0);

/// A refusal of a value that no joint has.
fn slipped(criterion: &Criterion, typed: &TypedValue) -> Option<Refusal> {
    let upper = criterion
        .limits
        .upper()
        .filter(|_| criterion.unit == Unit::Millimetre)?;
    let most = NO_JOINT.0 * upper.abs() + NO_JOINT.1;
    let message = Message::new("refuse-no-joint")
        .number("typed", typed.value, 2)
        .number("upper", upper, 2);
    (typed.value.abs() > most).then(|| refuse(&typed.field, message))
}

/// A refusal of a value that was read in inches.
pub(crate) fn in_inches(criterion: &Criterion, typed: &TypedValue) -> Option<Refusal> {
    let is_length = criterion.unit == Unit::Millimetre;
    is_length
        .then(|| inches::refused(typed, &criterion.limits, JOINT))
        .flatten()
}
