//! The label that is stuck on a tool or its case.

use crate::Code;

use super::Day;

/// A label. What is empty is left out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Label {
    /// What a scanner finds.
    pub code: Code,
    /// Job number.
    pub job: String,
    /// Model.
    pub model: String,
    /// Serial.
    pub serial: String,
    /// Customer, short.
    pub customer: String,
    /// When the tool is due, as printed.
    pub due: String,
    /// Day of issue.
    pub issued: Day,
}
