//! Certificates of the bench proof.

use serde::{Deserialize, Serialize};

use super::{PersonKey, PinRecord, PullsDrawn};

/// A certificate was issued. It is never struck: a correction is a new one that names it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CertificateIssued {
    /// Its number, unique in the shop.
    pub number: String,
    /// Name and version of what it is made by.
    pub method: String,
    /// Versions of the entries that it rests on.
    pub rests_on: Vec<u32>,
    /// The sheets that it rests on: model, gauges, shop card, what the tool was set up for.
    pub sheets: Vec<PinRecord>,
    /// SHA-256 of what it says, lower-case hex.
    pub content: String,
    /// Temperature at the bench, °C.
    pub temperature_c: f64,
    /// What else there was to say of the conditions.
    pub conditions: String,
    /// Remarks.
    pub remarks: String,
    /// Who made it, and authorised it where no second person signs.
    pub author: PersonKey,
    /// The second person, who authorised it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub approver: Option<PersonKey>,
    /// Number of the certificate that it replaces.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub replaces: Option<String>,
    /// What was changed against that one.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub changed: String,
    /// Recorded pulls that stand on it; none on a certificate made by `bench-proof 1`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pulls: Vec<PullsDrawn>,
    /// Version of the entry by which it was prepared, where a second person authorised it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub prepared: Option<u32>,
    /// SHA-256 of the paper as it was issued, lower-case hex: its bytes are kept with the files. None on a certificate
    /// of `bench-proof 2` or before.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub paper: Option<String>,
    /// What of it was in doubt when it was prepared. None on a certificate of `bench-proof 3` or before.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub in_doubt: Vec<InDoubt>,
    /// Why it was made all the same, where something was; `author` says it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub doubt_reason: String,
}

/// An entry holds a reading in doubt: its gauge was found outside its limits, or the calibration that corrected it
/// counts no more.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct InDoubt {
    /// Version of the entry within its job.
    pub entry: u32,
    /// Id of the gauge.
    pub gauge: String,
    /// Number, at the gauge, of the calibration or check that throws the doubt.
    pub number: u32,
    /// Whether that is a calibration that was struck.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub struck: bool,
}

/// A certificate was prepared, where the shop asks for a second person: it is issued once another one authorises it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CertificatePrepared {
    /// What will be issued, but for who authorises it and the paper; `content` is that of this.
    pub certificate: CertificateIssued,
}
