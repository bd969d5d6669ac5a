//! The quote: options with their prices, how long they hold, room for yes and no.

use serde::Serialize;

use super::{Day, RecordHead, Shop, Tool};

/// One revision of a quote. Amounts come formatted.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Quote {
    /// Who issues it.
    pub shop: Shop,
    /// Number with its revision, such as "1047-Q2".
    pub number: String,
    /// Revision.
    pub revision: String,
    /// What replaced this revision, in words; empty for the revision in force.
    pub replaced: String,
    /// Job number.
    pub job: String,
    /// Customer.
    pub customer: String,
    /// The tool.
    pub tool: Tool,
    /// Complaint in the customer's words.
    pub complaint: String,
    /// What was found.
    pub found: Vec<String>,
    /// Day of issue, as printed.
    pub issued_on: String,
    /// Last day, as printed; empty where the quote names none.
    pub valid_until: String,
    /// What this revision changed against the one before; empty for the first.
    pub changed: Vec<String>,
    /// Options, the repair first.
    pub options: Vec<QuoteOption>,
    /// What the warranty verdict means for the price; empty if nothing is covered.
    pub warranty: String,
    /// What remains to be paid for the repair; empty if nothing is covered.
    pub to_pay: String,
    /// What a year costs with the repair and with a new tool.
    pub compared: Vec<String>,
    /// Remark.
    pub note: String,
    /// The answer on record; empty before there is one.
    pub answer: String,
    /// Where the record stood.
    pub record: RecordHead,
    /// Day of issue.
    #[serde(skip)]
    pub issued: Day,
}

/// Something to say yes or no to.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct QuoteOption {
    /// Letter.
    pub letter: String,
    /// Name.
    pub name: String,
    /// What it means for the work; empty for the repair.
    pub means: String,
    /// Lines.
    pub lines: Vec<QuoteLine>,
    /// Discount: what for, and the amount; empty for none.
    pub discount: (String, String),
    /// Before tax.
    pub net: String,
    /// Tax.
    pub tax: String,
    /// With tax and currency.
    pub total: String,
    /// The answer on record.
    pub answer: Option<bool>,
}

/// A line.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct QuoteLine {
    /// What.
    pub what: String,
    /// Part number.
    pub number: String,
    /// How many.
    pub count: String,
    /// Price each.
    pub each: String,
    /// Tax rate.
    pub tax: String,
    /// Price of the line.
    pub sum: String,
    /// Whether the warranty pays it.
    pub covered: bool,
}
