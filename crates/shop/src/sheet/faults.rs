//! The fault model: causes, the symptoms that they show, the checks that tell them apart.

use std::collections::BTreeMap;

use calc::decision::Side;

use super::{Drive, FastenerKind, Feature, SettingBasis};
use crate::entry::Seen;

/// A fault model sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct FaultModel {
    /// Id.
    pub id: String,
    /// What its numbers rest on, shown beside every result.
    pub basis: String,
    /// Chance that a symptom is reported though no cause shows it.
    pub leak: f64,
    /// Weight of "something not in the list", per 1000 jobs.
    pub unlisted_per_1000: f64,
    /// How much of its rate a fault keeps beside another one: most complaints have one cause.
    pub at_once: f64,
    /// How the shop's own closed jobs change its numbers.
    pub learning: Learning,
    /// What the shop made of its numbers; `None` as the sheet was read.
    pub own: Option<Own>,
    /// Symptoms.
    pub symptoms: Vec<Symptom>,
    /// Causes.
    pub causes: Vec<Cause>,
    /// Checks.
    pub checks: Vec<Check>,
}

/// What a shop made of the numbers of its fault model.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Own {
    /// Closed jobs that are in them.
    pub jobs: u32,
    /// Numbers that a manager holds.
    pub pins: u32,
}

/// How a shop's closed jobs change the numbers of its fault model.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Learning {
    /// A rate of the sheet counts as so many jobs.
    pub prior_jobs: f64,
    /// A chance of the sheet counts as so many answers.
    pub prior_answers: f64,
    /// A tool that comes back within so many days …
    pub come_back_days: u32,
    /// … or so many pulls speaks against the cause that was confirmed.
    pub come_back_pulls: u64,
}

/// Something that the customer reports or the bench sees.
#[derive(Clone, Debug, PartialEq)]
pub struct Symptom {
    /// Id.
    pub id: String,
    /// In plain words.
    pub text: String,
    /// Drives on which it occurs.
    pub drives: Vec<Drive>,
    /// It forbids putting energy on the tool until a named person clears it.
    pub forbids_energy: bool,
    /// What a joint that was read at the bench must show for the symptom to be seen on it.
    pub joints: Vec<Seen>,
    /// Kinds of fastener whose joints show it.
    pub fasteners: Vec<FastenerKind>,
    /// How the tool must set them for their joints to show it.
    pub set_by: Vec<SettingBasis>,
}

/// What can be wrong.
#[derive(Clone, Debug, PartialEq)]
pub struct Cause {
    /// Id.
    pub id: String,
    /// In plain words.
    pub text: String,
    /// Drives on which it occurs.
    pub drives: Vec<Drive>,
    /// Kinds of fastener at which it occurs.
    pub fasteners: Vec<FastenerKind>,
    /// How often among 1000 complaint jobs.
    pub per_1000: f64,
    /// The same on models that differ from others of their drive, by model id.
    pub per_1000_on: BTreeMap<String, f64>,
    /// What mends it.
    pub action: String,
    /// Hands-on minutes of mending; `None` where the route to its parts says it.
    pub minutes: Option<f64>,
    /// Parts that it needs, by part id of the fault model.
    pub parts: Vec<String>,
    /// Part whose wear beyond its limit it is, by part id of the fault model: what the tool's counter and readings
    /// say of it speaks for the cause or against it.
    pub worn: Option<String>,
    /// Symptoms that it shows and how likely.
    pub shows: Vec<(String, f64)>,
}

/// State the tool must be in for a check.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ToolState {
    /// The record alone.
    RecordOnly,
    /// No energy: pack out, air off and bled, pump off and lines at zero.
    NoEnergy,
    /// Stripped, no energy.
    StrippedNoEnergy,
    /// Energised, dry cycle.
    Energised,
    /// Energised, setting a joint or pulling against a load.
    EnergisedLoaded,
}

impl ToolState {
    /// Whether the check puts energy on the tool.
    pub fn energised(self) -> bool {
        matches!(self, Self::Energised | Self::EnergisedLoaded)
    }

    /// Whether hands come near a tool that must have no energy.
    pub fn hands_near(self) -> bool {
        matches!(self, Self::NoEnergy | Self::StrippedNoEnergy)
    }
}

/// A look or a test that tells causes apart.
#[derive(Clone, Debug, PartialEq)]
pub struct Check {
    /// Id.
    pub id: String,
    /// What to do.
    pub text: String,
    /// What is so if the answer is yes.
    pub yes: String,
    /// Kinds of fastener at which it can be made.
    pub fasteners: Vec<FastenerKind>,
    /// Hands-on minutes.
    pub minutes: f64,
    /// State of the tool.
    pub state: ToolState,
    /// Part that must be reached first, by part id of the fault model; `None` where any strip will do.
    pub stripped_to: Option<String>,
    /// Known-good parts that it takes, by part id of the fault model. They come off again: it uses none of them up.
    pub parts: Vec<String>,
    /// Chance of a yes when none of its causes is there.
    pub false_alarm: f64,
    /// Its causes.
    pub links: Vec<CheckLink>,
    /// What is read elsewhere and asks the same: its failure is a yes.
    pub asked_by: Option<AskedBy>,
    /// Hands go into the tool before the energy goes on: something is fitted or measured first.
    pub hands_first: bool,
    /// What the hands hold, or what runs, while it is made: checks of one visit are made in one go. `None` where it is
    /// made by itself.
    pub visit: Option<String>,
    /// A yes says that the tool's setting was wrong, or did not stand: joints set with it are in doubt.
    pub setting: bool,
}

/// A reading that answers a check.
#[derive(Clone, Debug, PartialEq)]
pub struct AskedBy {
    /// What is read.
    pub what: Asked,
    /// The limit beyond which it must fail; `None` where either will do.
    pub fails: Option<Side>,
}

/// What is read.
#[derive(Clone, Debug, PartialEq)]
pub enum Asked {
    /// A bench test of the model sheets, as found.
    Test(String),
    /// A criterion of the fastener sheets, on a joint as found.
    Criterion(String),
    /// A number of recorded pulls as found.
    Feature(Feature),
}

/// How a check answers to a cause.
#[derive(Clone, Debug, PartialEq)]
pub struct CheckLink {
    /// Cause id.
    pub cause: String,
    /// Chance of a yes when the cause is there.
    pub if_true: f64,
}

/// Stands for a cause that the model does not list. No cause has this id.
pub const UNLISTED: &str = "unlisted";

impl FaultModel {
    /// Whether `id` names a cause: one of the model, or one that it does not list.
    pub fn knows_cause(&self, id: &str) -> bool {
        id == UNLISTED || self.cause(id).is_some()
    }

    /// The symptom with this id.
    pub fn symptom(&self, id: &str) -> Option<&Symptom> {
        self.symptoms.iter().find(|s| s.id == id)
    }

    /// The cause with this id.
    pub fn cause(&self, id: &str) -> Option<&Cause> {
        self.causes.iter().find(|c| c.id == id)
    }

    /// The check with this id.
    pub fn check(&self, id: &str) -> Option<&Check> {
        self.checks.iter().find(|c| c.id == id)
    }
}
