//! A tool is taken in.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use uuid::Uuid;

use super::{PersonKey, PinRecord};

/// What was written down at the counter.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Received {
    /// Job number.
    pub number: u32,
    /// Whose tool it is.
    pub customer: PersonKey,
    /// The tool.
    pub tool: Uuid,
    /// Its serial, as read from the plate.
    pub serial: String,
    /// Model sheet that the job is worked to.
    pub model: PinRecord,
    /// Fault model that the job is worked to.
    pub faults: PinRecord,
    /// Shop card that the job is worked to.
    pub shop: PinRecord,
    /// Pull counter; `None` if the tool has none or it cannot be read.
    pub counter: Option<u64>,
    /// What the counter showed at the tool's last visit at which it was read.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub counter_was: Option<u64>,
    /// Why the counter began anew since: changed or set back. `None` if it did not.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub counter_anew: Option<String>,
    /// Day of sale, if a paper shows it.
    pub sold: Option<Date>,
    /// Day on which it was first used, where the model's terms count from it and a paper shows it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub first_used: Option<Date>,
    /// Complaint in the customer's words.
    pub complaint: String,
    /// Symptoms picked, by id.
    pub symptoms: Vec<String>,
    /// What came with it.
    pub came: Vec<Came>,
    /// Battery pack that came along.
    pub pack: PackState,
    /// Make-safe ticks, by id.
    pub made_safe: Vec<String>,
    /// Promised for.
    pub due: Option<Date>,
}

/// One line of the list of what belongs to the tool.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Came {
    /// What.
    pub item: String,
    /// How many came.
    pub count: u32,
    /// How many belong to a complete tool.
    pub of: u32,
    /// An internal part that the warranty asks for.
    pub internal: bool,
}

/// State of a battery pack at the counter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum PackState {
    /// None came, or the tool has none.
    None,
    /// Sound.
    Sound,
    /// Swollen, wet, hot, dented or cracked.
    Damaged,
}

/// What was written down at the counter is put right. The entry that it names stays readable.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ReceiptAmended {
    /// Version of the entry that it puts right.
    pub version: u32,
    /// Pull counter.
    pub counter: Option<u64>,
    /// Why the counter began anew; `None` if it did not.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub counter_anew: Option<String>,
    /// Day of sale.
    pub sold: Option<Date>,
    /// Day on which it was first used, where the model's terms count from it and a paper shows it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub first_used: Option<Date>,
    /// Complaint in the customer's words.
    pub complaint: String,
    /// Promised for.
    pub due: Option<Date>,
    /// Why.
    pub reason: String,
}
