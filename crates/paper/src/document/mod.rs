//! The documents: view model and words in, PDF out.

mod card;
mod care;
mod certificate;
mod claim;
mod gauge_failure;
mod pulls;
mod quote;
mod report;
mod suspect;
mod validation;

use std::collections::BTreeMap;

use calc::Message;
use calc::decision::Rule;
use calc::screw_stop::Rotation;
use serde::Serialize;
use words::{Term, Words};

use crate::model::{Test, TestResult};
use crate::turns::turn_arrow;

pub use card::{setup_card, setup_cards};
pub use care::care_sheet;
pub use certificate::certificate;
pub use claim::{return_note, warranty_claim};
pub use gauge_failure::gauge_failure;
pub use quote::quote;
pub use report::service_report;
pub use suspect::suspect_notice;
pub use validation::validation_report;

/// What a template gets.
#[derive(Serialize)]
struct Data<'a, D> {
    doc: D,
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

impl<'a, D> Data<'a, D> {
    fn of(doc: D, words: &'a Words, said: BTreeMap<&'static str, String>) -> Self {
        Self {
            doc,
            lang: words.tag(),
            labels: labels(words),
            said,
            rules: Vec::new(),
            arrows: arrows(),
        }
    }
}

/// Starts of the names of texts that templates may use.
const LABELS: [&str; 10] = [
    "paper-",
    "verdict-",
    "validation-",
    "rule-",
    "rotation-",
    "effect-",
    "zero-",
    "view-",
    "hand-",
    "sketch-",
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

/// The decision rules that `tests` were judged by.
fn rules_of(tests: &[Test]) -> Vec<&'static str> {
    let results = tests.iter().flat_map(|t| [&t.as_found, &t.as_left]);
    let used: Vec<Rule> = results
        .flatten()
        .filter_map(|result| match result {
            TestResult::Read(reading) => Some(reading.bar.rule),
            TestResult::Looked(_) => None,
        })
        .collect();
    [Rule::Guarded, Rule::Simple]
        .into_iter()
        .filter(|rule| used.contains(rule))
        .map(Term::id)
        .collect()
}

fn entry(words: &Words, sequence: u64) -> String {
    words.say(&Message::new("paper-record-entry").with("sequence", sequence))
}
