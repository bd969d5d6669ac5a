//! The shop's registers: tools and sheets.

use serde::{Deserialize, Serialize};

use super::{PersonKey, PinRecord};

/// A tool that the shop had not seen before.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ToolRegistered {
    /// Serial.
    pub serial: String,
    /// Model sheet.
    pub model: PinRecord,
    /// Owner when first seen.
    pub owner: PersonKey,
}

/// A sheet was loaded.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct SheetRevised {
    /// Kind of sheet.
    pub kind: String,
    /// Sheet id.
    pub id: String,
    /// Revision number, from 1.
    pub revision: u32,
    /// The file, whole.
    pub text: String,
}

/// A sheet was taken out of force; jobs that were worked to it keep it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct SheetWithdrawn {
    /// Kind of sheet.
    pub kind: String,
    /// Sheet id.
    pub id: String,
}
