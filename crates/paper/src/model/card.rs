//! The set-up card: what a crew tapes into the lid of the tool case.

use serde::Serialize;

use crate::joint::JointSketch;

use super::{
    Day, FastenerChoice, NoseChoice, PressureToSet, RecordHead, Setting, Shop, StickOut, Tool,
};

/// A set-up card.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SetupCard {
    /// Who issues it.
    pub shop: Shop,
    /// Job number.
    pub job: String,
    /// The tool.
    pub tool: Tool,
    /// The fastener that it is set for.
    pub fastener: FastenerChoice,
    /// The nose set that is on it.
    pub nose: NoseChoice,
    /// Stick-out; `None` where the fastener is not set by it.
    pub stick_out: Option<StickOut>,
    /// The setting.
    pub setting: Setting,
    /// The pressure; `None` for a battery tool, and where nobody knows it.
    pub pressure: Option<PressureToSet>,
    /// Which stick-out the turns hold for, and what one millimetre more asks for; empty where it says nothing.
    pub holds_for: String,
    /// Why it was signed off though not all that is asked for was there; empty if it was.
    pub waived: String,
    /// Limits of a good joint.
    pub limits: Vec<JointLimit>,
    /// What a good joint looks like, drawn on the back; `None` where the limits say nothing that can
    /// be drawn.
    #[serde(skip)]
    pub joint: Option<JointSketch>,
    /// Link that opens the crew's page for this tool and setting, printed as a code; `None` where the
    /// shop has no address for cards.
    #[serde(skip)]
    pub link: Option<String>,
    /// A joint is checked after this many.
    pub recheck_joints: u32,
    /// Who signed the set-up off.
    pub signed_by: String,
    /// When, as printed.
    pub signed_on: String,
    /// The record that stands behind it.
    pub record: RecordHead,
    /// Day of issue.
    #[serde(skip)]
    pub issued: Day,
}

/// A limit of a good joint.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct JointLimit {
    /// What is measured or looked at.
    pub what: String,
    /// Limits with unit, or what must be seen.
    pub limits: String,
    /// What it is read with.
    pub gauge: String,
}
