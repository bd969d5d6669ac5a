//! The text of a sheet file and the mistakes found in it so far.

use std::cell::RefCell;
use std::ops::Range;

use calc::Message;

use super::Mistake;

/// Longest piece of a file that a mistake quotes, in characters.
const QUOTED: usize = 48;

/// A sheet file while it is being read.
pub(super) struct Source<'a> {
    file: &'a str,
    text: &'a str,
    line_starts: Vec<usize>,
    mistakes: RefCell<Vec<Mistake>>,
}

impl<'a> Source<'a> {
    pub(super) fn new(file: &'a str, text: &'a str) -> Self {
        let newlines = text.match_indices('\n').map(|(at, _)| at + 1);
        Self {
            file,
            text,
            line_starts: std::iter::once(0).chain(newlines).collect(),
            mistakes: RefCell::new(Vec::new()),
        }
    }

    /// The line, from 1, that holds the byte `at`.
    pub(super) fn line(&self, at: usize) -> usize {
        // A place past the end (a file that stops too early) belongs to the last line with text.
        let at = at.min(self.text.trim_end().len());
        self.line_starts
            .partition_point(|start| *start <= at)
            .max(1)
    }

    pub(super) fn report(&self, span: Range<usize>, key: String, problem: Message) {
        let value = self.text.get(span.clone()).unwrap_or_default();
        self.report_value(span.start, key, shortened(value), problem);
    }

    pub(super) fn report_value(&self, at: usize, key: String, value: String, problem: Message) {
        self.mistakes.borrow_mut().push(Mistake {
            file: self.file.to_owned(),
            line: self.line(at),
            key,
            value,
            problem,
        });
    }

    /// Whether no mistake was found yet.
    pub(super) fn is_clean(&self) -> bool {
        self.mistakes.borrow().is_empty()
    }

    /// All mistakes in order of line.
    pub(super) fn into_mistakes(self) -> Vec<Mistake> {
        let mut mistakes = self.mistakes.into_inner();
        mistakes.sort_by_key(|mistake| mistake.line);
        mistakes
    }
}

/// The first line of `text`, cut to a length that fits beside a message.
fn shortened(text: &str) -> String {
    let line = text.trim().lines().next().unwrap_or_default().trim_end();
    if line.len() == text.trim().len() && line.chars().count() <= QUOTED {
        return line.to_owned();
    }
    line.chars().take(QUOTED - 1).chain(['…']).collect()
}
