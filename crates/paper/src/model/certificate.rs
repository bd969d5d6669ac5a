//! The certificate of the bench proof: what was tested, how, and what it gave.

use serde::Serialize;

use super::{
    Day, FastenerChoice, Instrument, NoseChoice, PullsPrinted, RecordHead, Shop, Test, Tool,
};

/// A certificate.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Certificate {
    /// Who issues it.
    pub shop: Shop,
    /// Number, unique in the shop.
    pub number: String,
    /// Number of the certificate that it replaces, and what was changed; `None` for the first.
    pub replaces: Option<Replaces>,
    /// Job number.
    pub job: String,
    /// Customer.
    pub customer: String,
    /// The tool.
    pub tool: Tool,
    /// Day of receipt, as printed.
    pub received: String,
    /// Day or days of the tests, as printed.
    pub tested: String,
    /// Day of issue, as printed.
    pub issued_on: String,
    /// Model sheet with its revision.
    pub sheet: String,
    /// What the certificate is made by, with its version.
    pub method: String,
    /// Temperature at the bench, °C, as printed.
    pub temperature: String,
    /// Other conditions.
    pub conditions: String,
    /// What the tool was set up for; `None` where it was not.
    pub fastener: Option<FastenerChoice>,
    /// The nose set on it.
    pub nose: Option<NoseChoice>,
    /// The setting, as printed; empty for none.
    pub setting: String,
    /// Bench tests, as found and as left.
    pub tests: Vec<Test>,
    /// Recorded pulls.
    #[serde(skip)]
    pub pulls: Vec<PullsPrinted>,
    /// Why there are no as-found results, if there are none.
    pub not_run_as_found: String,
    /// Gauges that took the readings.
    pub instruments: Vec<Instrument>,
    /// What of the results is in doubt, a line each.
    pub doubts: Vec<String>,
    /// Who made it all the same.
    pub doubted_by: String,
    /// Why.
    pub doubt_reason: String,
    /// Remarks.
    pub remarks: Vec<String>,
    /// Why the proof was signed off although a test stayed undecided; empty if none did.
    pub proof_reason: String,
    /// Who made it, where another person authorised it; else empty.
    pub made_by: String,
    /// Who authorised it.
    pub authorised_by: String,
    /// Versions of the entries that it rests on, as printed.
    pub entries: String,
    /// SHA-256 of what it says.
    pub content: String,
    /// The entry that issued it.
    pub record: RecordHead,
    /// Day of issue.
    #[serde(skip)]
    pub issued: Day,
}

/// What a certificate replaces.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Replaces {
    /// Number of the one before.
    pub number: String,
    /// What was changed, and why.
    pub changed: String,
}
