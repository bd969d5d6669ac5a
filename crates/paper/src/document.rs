//! The documents: view model and words in, PDF out.

use std::collections::BTreeMap;

use calc::Message;
use calc::decision::Rule;
use calc::screw_stop::Rotation;
use serde::Serialize;
use words::{Term, Words};

use crate::PaperError;
use crate::model::{ServiceReport, SetupCard, TestResult};
use crate::turns::turn_arrow;
use crate::typeset::pdf;

/// What a template gets.
#[derive(Serialize)]
struct Data<'a, D> {
    doc: &'a D,
    /// Language tag, for hyphens and screen readers.
    lang: &'a str,
    /// Texts without values, by name.
    labels: BTreeMap<&'a str, String>,
    /// Texts with values.
    said: BTreeMap<&'static str, String>,
    /// Decision rules in use.
    rules: Vec<&'static str>,
    /// Drawings of the senses of turning, by the name of their word.
    arrows: BTreeMap<&'static str, String>,
}

/// The set-up card as PDF, A5 landscape.
///
/// # Errors
/// A day that is not in the calendar, or the typesetter refuses.
pub fn setup_card(card: &SetupCard, words: &Words) -> Result<Vec<u8>, PaperError> {
    let recheck = Message::new("paper-recheck-joints").with("joints", card.recheck_joints);
    let mut said = pages(words);
    said.insert("recheck", words.say(&recheck));
    said.insert("entry", entry(words, card.record.sequence));
    let data = Data {
        doc: card,
        lang: words.tag(),
        labels: labels(words),
        said,
        rules: Vec::new(),
        arrows: arrows(),
    };
    let ident = format!("card {} {}", card.job, card.record.hash);
    pdf("/card.typ", &data, &ident, card.issued)
}

/// The service report as PDF, A4.
///
/// # Errors
/// A day that is not in the calendar, or the typesetter refuses.
pub fn service_report(report: &ServiceReport, words: &Words) -> Result<Vec<u8>, PaperError> {
    let mut said = pages(words);
    said.insert("entry", entry(words, report.record.sequence));
    let end = Message::new("paper-end").with("number", report.number.as_str());
    said.insert("end", words.say(&end));
    let data = Data {
        doc: report,
        lang: words.tag(),
        labels: labels(words),
        said,
        rules: rules(report),
        arrows: arrows(),
    };
    let ident = format!("report {} {}", report.number, report.record.hash);
    pdf("/report.typ", &data, &ident, report.issued)
}

/// Starts of the names of texts that templates may use.
const LABELS: [&str; 8] = [
    "paper-",
    "verdict-",
    "rule-",
    "rotation-",
    "effect-",
    "zero-",
    "view-",
    "hand-",
];

/// The texts of paper that take no values; templates pick theirs by name.
fn labels(words: &Words) -> BTreeMap<&str, String> {
    words
        .ids()
        .filter(|id| LABELS.iter().any(|start| id.starts_with(start)))
        .map(|id| (id, words.text(id)))
        .filter(|(_, text)| !text.contains('⟦'))
        .collect()
}

/// "Page 1 of 3", with signs that the template replaces once it knows the numbers.
fn pages(words: &Words) -> BTreeMap<&'static str, String> {
    let page = Message::new("paper-page")
        .with("page", "⟨page⟩")
        .with("pages", "⟨pages⟩");
    BTreeMap::from([("page", words.say(&page))])
}

fn arrows() -> BTreeMap<&'static str, String> {
    [Rotation::Clockwise, Rotation::CounterClockwise]
        .into_iter()
        .map(|rotation| (rotation.id(), turn_arrow(rotation)))
        .collect()
}

fn entry(words: &Words, sequence: u64) -> String {
    words.say(&Message::new("paper-record-entry").with("sequence", sequence))
}

/// The decision rules that the report's readings were judged by.
fn rules(report: &ServiceReport) -> Vec<&'static str> {
    let tests = report.tests.iter().flat_map(|t| [&t.as_found, &t.as_left]);
    let tests = tests.flatten().filter_map(|result| match result {
        TestResult::Read(reading) => Some(reading),
        TestResult::Looked(_) => None,
    });
    let torques = report.torques.iter().filter_map(|t| t.reading.as_ref());
    let joints = report
        .joints
        .iter()
        .flat_map(|j| &j.readings)
        .map(|r| &r.reading);
    let used: Vec<Rule> = tests
        .chain(torques)
        .chain(joints)
        .map(|r| r.bar.rule)
        .collect();
    [Rule::Guarded, Rule::Simple]
        .into_iter()
        .filter(|rule| used.contains(rule))
        .map(Term::id)
        .collect()
}
