//! Recorded pulls as templates get them, on report and certificate.

use serde::Serialize;
use words::Term;

use crate::model::PullsPrinted;
use crate::pull_plot::pull_plot;

/// Recorded pulls with their drawing set.
#[derive(Serialize)]
pub(super) struct Pulls<'a> {
    title: &'a str,
    outcome: Option<&'static str>,
    lines: &'a [String],
    rows: &'a [[String; 4]],
    file: &'a str,
    hash: &'a str,
    plot: Option<Drawing<'a>>,
}

/// A drawing, and what it says for those who cannot see it.
#[derive(Serialize)]
pub(super) struct Drawing<'a> {
    pub svg: String,
    pub label: &'a str,
}

impl<'a> Pulls<'a> {
    pub fn of(printed: &'a PullsPrinted) -> Self {
        Self {
            title: &printed.title,
            outcome: printed.outcome.map(Term::id),
            lines: &printed.lines,
            rows: &printed.rows,
            file: &printed.file,
            hash: &printed.hash,
            plot: printed.plot.as_ref().map(|plot| Drawing {
                svg: pull_plot(plot),
                label: &plot.label,
            }),
        }
    }
}
