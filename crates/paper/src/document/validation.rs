//! The report of a validation run.

use serde::Serialize;
use words::Words;

use super::{Data, pages};
use crate::PaperError;
use crate::model::{ValidationLine, ValidationReport, ValidationSource};
use crate::typeset::pdf;

/// What the template gets: what was run, what could not be, where the values come from.
#[derive(Serialize)]
struct Validation<'a> {
    program: &'a str,
    issued_on: &'a str,
    summary: &'a str,
    failed: bool,
    methods: Vec<Group<'a, &'a ValidationLine>>,
    missing: Vec<Group<'a, &'a str>>,
    sources: Vec<Group<'a, &'a ValidationSource>>,
}

/// What belongs to one method.
#[derive(Serialize)]
struct Group<'a, T> {
    name: &'a str,
    items: Vec<T>,
}

/// Neighbours with the same method as one group.
fn grouped<'a, T>(items: impl Iterator<Item = (&'a str, T)>) -> Vec<Group<'a, T>> {
    let mut groups: Vec<Group<T>> = Vec::new();
    for (name, item) in items {
        match groups.last_mut() {
            Some(group) if group.name == name => group.items.push(item),
            _ => groups.push(Group {
                name,
                items: vec![item],
            }),
        }
    }
    groups
}

/// The validation report as PDF, A4 landscape.
///
/// # Errors
/// A day that is not in the calendar, or the typesetter refuses.
pub fn validation_report(report: &ValidationReport, words: &Words) -> Result<Vec<u8>, PaperError> {
    let (run, missing): (Vec<_>, Vec<_>) = report.lines.iter().partition(|l| !l.name.is_empty());
    let doc = Validation {
        program: &report.program,
        issued_on: &report.issued_on,
        summary: &report.summary,
        failed: report.failed,
        methods: grouped(run.into_iter().map(|l| (l.method.as_str(), l))),
        missing: grouped(missing.iter().map(|l| (l.method.as_str(), l.case.as_str()))),
        sources: grouped(report.sources.iter().map(|s| (s.method.as_str(), s))),
    };
    let data = Data::of(&doc, words, pages(words));
    let ident = format!("validation {} {}", report.program, report.issued_on);
    pdf("/validation.typ", &data, &ident, report.issued)
}
