//! What a manager says of the numbers that the shop learns. Subject: [`super::LEARNING`].

use serde::{Deserialize, Serialize};

/// A number of a fault model that the shop's closed jobs change.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(tag = "what", rename_all = "kebab-case")]
pub enum LearntNumber {
    /// Share of the jobs on a drive, or on a model, in which the cause is there.
    Rate {
        /// Cause id, or that of something not in the list.
        cause: String,
        /// Key of the drive, or id of a model for which the sheet states a rate of its own.
        on: String,
    },
    /// Chance that a symptom is reported or seen when the cause alone is there.
    Shows {
        /// Cause id.
        cause: String,
        /// Symptom id.
        symptom: String,
    },
    /// Chance that a check is positive when the cause alone is there.
    Yes {
        /// Check id.
        check: String,
        /// Cause id.
        cause: String,
    },
    /// Chance that a check is positive when none of its causes is there.
    FalseAlarm {
        /// Check id.
        check: String,
    },
}

/// A number is held at a value: closed jobs do not move it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct NumberPinned {
    /// Fault model.
    pub faults: String,
    /// Which.
    pub number: LearntNumber,
    /// Its value, 0 to 1.
    pub value: f64,
    /// Why.
    pub reason: String,
}

/// A pinned number follows the closed jobs again.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct NumberReleased {
    /// Fault model.
    pub faults: String,
    /// Which.
    pub number: LearntNumber,
    /// Why.
    pub reason: String,
}

/// Jobs closed until now count no more.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CountsReset {
    /// Fault model.
    pub faults: String,
    /// For which number; `None` for all of the model's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub number: Option<LearntNumber>,
    /// Why.
    pub reason: String,
}
