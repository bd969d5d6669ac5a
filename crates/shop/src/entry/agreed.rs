//! Agreeing what is done and who pays.

use jiff::civil::{Date, Time};
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
    /// Some lines are covered, others are not: the lines say which.
    InPart,
}

/// The warranty verdict.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct WarrantyJudged {
    /// Verdict over all lines.
    pub cover: Cover,
    /// The term that decides.
    pub term: String,
    /// The evidence that it rests on, in words; empty where the entry says it.
    pub evidence: String,
    /// Version of the entry of this job that it rests on; `None` where words say it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub entry: Option<u32>,
    /// Verdict line by line; empty where one verdict holds for all there is.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub lines: Vec<LineJudged>,
    /// Conditions of the model sheet that void it and were found on this tool.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub voided: Vec<String>,
    /// Evidence that the terms require and that was at hand, as the model sheet words it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub at_hand: Vec<String>,
    /// What was required and not at hand when it was judged covered.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub without: Vec<String>,
    /// Why it was judged covered all the same.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub without_reason: String,
}

/// The warranty verdict on one part, or on the labour.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct LineJudged {
    /// Part id of the model sheet; empty for labour.
    pub part: String,
    /// Its part number, as quotes name it; empty for labour.
    pub number: String,
    /// Verdict: never in part.
    pub cover: Cover,
    /// The shop's warranty on its own earlier repair decides, not the maker's.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub own: bool,
    /// The term that decides.
    pub term: String,
    /// The evidence that it rests on, in words; empty where the entry says it.
    pub evidence: String,
    /// Version of the entry of this job that it rests on; `None` where words say it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub entry: Option<u32>,
}

/// A line of the quote.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct PriceLine {
    /// What.
    pub what: String,
    /// Part number; empty for labour.
    pub number: String,
    /// How many (labour: hours).
    pub count: Decimal,
    /// Price each.
    pub each: Decimal,
    /// Tax of this line, percent; left out, that of the quote.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tax_percent: Option<Decimal>,
    /// The option that it belongs to, counted from 0.
    #[serde(default, skip_serializing_if = "is_first")]
    pub option: usize,
}

fn is_first(option: &usize) -> bool {
    *option == 0
}

fn is_zero(revision: &u32) -> bool {
    *revision == 0
}

fn is_of_before(rule: &TaxRule) -> bool {
    *rule == TaxRule::default()
}

/// How the tax of a quote was reckoned.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum TaxRule {
    /// Once, on the sum of all lines: quotes stored before lines had their own tax.
    #[default]
    OnTheSum,
    /// Line by line, each rounded to the cent.
    PerLine,
}

/// What an option means for the work on the tool.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum OptionKind {
    /// The repair itself.
    Work,
    /// Only along with the repair.
    AddOn,
    /// In place of the repair.
    Instead,
}

/// Something that the customer can say yes or no to.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct QuoteOption {
    /// What it is called.
    pub name: String,
    /// What it means for the work.
    pub kind: OptionKind,
}

/// A discount on every line.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Discount {
    /// Percent.
    pub percent: Decimal,
    /// Why.
    pub reason: String,
}

/// How the quote compares the repair with a new tool.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum CompareRule {
    /// The whole repair on the year to come, against a new tool that does not wear.
    #[default]
    OfAYear,
    /// Both over the life of a new tool, with the wear of both; a new tool at the price of the sheet.
    OverALife,
    /// The same, with a new tool at the price at which the quote offers it, and what both pay alike left aside.
    AsOffered,
}

fn is_compared_as_before(rule: &CompareRule) -> bool {
    *rule == CompareRule::default()
}

/// Parts and labour, priced: one revision of the quote.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct EstimateMade {
    /// Lines.
    pub lines: Vec<PriceLine>,
    /// Tax where a line has none of its own, percent.
    pub tax_percent: Decimal,
    /// Currency, ISO 4217.
    pub currency: String,
    /// Remark.
    pub note: String,
    /// Revision, from 1; 0 where it was stored without one.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub revision: u32,
    /// How tax was reckoned.
    #[serde(default, skip_serializing_if = "is_of_before")]
    pub tax_rule: TaxRule,
    /// How the repair is compared with a new tool.
    #[serde(default, skip_serializing_if = "is_compared_as_before")]
    pub compare_rule: CompareRule,
    /// Options, in order; empty for the repair alone.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub options: Vec<QuoteOption>,
    /// Discount.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub discount: Option<Discount>,
    /// Last day on which it can be accepted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub valid_until: Option<Date>,
}

/// How an answer came.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum AnswerWay {
    /// Said at the counter.
    Counter,
    /// Said by telephone.
    Telephone,
    /// In writing.
    Writing,
}

/// The customer's answer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CustomerAnswered {
    /// Yes or no to the repair.
    pub yes: bool,
    /// Who said it, as typed.
    pub name: PersonKey,
    /// When.
    pub on: Date,
    /// Remark.
    pub note: String,
    /// The revision of the quote that was answered; 0 where it was stored without one.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub revision: u32,
    /// Yes or no to each option, in order; empty where the repair was all there was.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub options: Vec<bool>,
    /// How it came.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub way: Option<AnswerWay>,
    /// To whom it was said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub to: Option<PersonKey>,
    /// Time of day, where it was said by telephone.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<Time>,
}
