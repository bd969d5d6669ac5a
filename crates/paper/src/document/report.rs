//! The service report.

use calc::Message;
use calc::decision::Rule;
use words::{Term, Words};

use super::{Data, entry, pages};
use crate::PaperError;
use crate::model::{ServiceReport, TestResult};
use crate::typeset::pdf;

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
        rules: rules(report),
        ..Data::of(report, words, said)
    };
    let ident = format!("report {} {}", report.number, report.record.hash);
    pdf("/report.typ", &data, &ident, report.issued)
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
