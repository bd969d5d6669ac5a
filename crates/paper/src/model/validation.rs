//! The report of a validation run: every method against values from outside.

use serde::Serialize;

use super::Day;

/// A validation report.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ValidationReport {
    /// Program and version.
    pub program: String,
    /// Day of issue, as printed.
    pub issued_on: String,
    /// Day of issue.
    #[serde(skip)]
    pub issued: Day,
    /// How the cases ended, in a sentence.
    pub summary: String,
    /// Whether any failed.
    pub failed: bool,
    /// Every value, in the order of the run.
    pub lines: Vec<ValidationLine>,
    /// Where the expected values come from, one for each case.
    pub sources: Vec<ValidationSource>,
}

/// One value, or a case whose method is not there.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ValidationLine {
    /// Method.
    pub method: String,
    /// Case.
    pub case: String,
    /// Name of the word for the kind of source.
    pub kind: String,
    /// Name of the value; empty for a case whose method is not there.
    pub name: String,
    /// What it must be.
    pub expected: String,
    /// What came out, or why nothing did.
    pub computed: String,
    /// How near it must come, in signs.
    pub tolerance: String,
    /// Name of the verdict's word.
    pub verdict: String,
}

/// Where the values of a case come from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ValidationSource {
    /// Method.
    pub method: String,
    /// Case.
    pub case: String,
    /// Who says so.
    pub source: String,
    /// How that was checked.
    pub how_checked: String,
    /// What else a reader must know.
    pub note: String,
}
