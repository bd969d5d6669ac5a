//! Agreeing what is done and who pays.

use jiff::civil::Date;
use rust_decimal::Decimal;
use serde::{Deserialize, Serialize};

use super::PersonKey;

/// Whether the warranty pays.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Cover {
    /// Covered.
    Covered,
    /// Not covered.
    NotCovered,
    /// Cannot tell.
    CannotTell,
}

/// The warranty verdict.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct WarrantyJudged {
    /// Verdict.
    pub cover: Cover,
    /// The term that decides.
    pub term: String,
    /// The evidence that it rests on.
    pub evidence: String,
}

/// A line of the estimate.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PriceLine {
    /// What.
    pub what: String,
    /// Part number; empty for labour.
    pub number: String,
    /// How many (labour: hours).
    pub count: Decimal,
    /// Price each.
    pub each: Decimal,
}

/// Parts and labour, priced.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct EstimateMade {
    /// Lines.
    pub lines: Vec<PriceLine>,
    /// Tax, percent.
    pub tax_percent: Decimal,
    /// Currency, ISO 4217.
    pub currency: String,
    /// Remark.
    pub note: String,
}

/// The customer's answer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CustomerAnswered {
    /// Yes or no.
    pub yes: bool,
    /// Who said it, as typed.
    pub name: PersonKey,
    /// When.
    pub on: Date,
    /// Remark.
    pub note: String,
}
