//! How far long work has come: a line on a terminal, nothing elsewhere.

use std::time::Duration;

use calc::Message;
use indicatif::{ProgressBar, ProgressStyle};
use store::Step;

use crate::print::say;

/// How often the line moves.
const TICK: Duration = Duration::from_millis(100);

/// The line; gone when this is dropped. It stands on standard error, so results can be piped.
pub struct Progress(ProgressBar);

impl Progress {
    /// A line that says nothing yet.
    pub fn new() -> Self {
        let bar = ProgressBar::new_spinner();
        bar.enable_steady_tick(TICK);
        Self(bar)
    }

    /// A line for work whose end is not known.
    pub fn of(text: &'static str) -> Self {
        let progress = Self::new();
        progress.now(text);
        progress
    }

    /// Says what is done now.
    pub fn now(&self, text: &'static str) {
        self.0.set_style(ProgressStyle::default_spinner());
        self.0.set_message(say(&Message::new(text)));
    }

    /// Says how many of `of` are done.
    pub fn count(&self, n: usize, of: usize) {
        if let Ok(style) = ProgressStyle::with_template("{msg} {wide_bar} {pos}/{len}") {
            self.0.set_style(style);
        }
        self.0.set_length(of as u64);
        self.0.set_position(n as u64);
    }

    /// Says which step of a backup or a restore is being done.
    pub fn step(&self, step: Step) {
        self.0.set_style(ProgressStyle::default_spinner());
        self.0.set_message(say(&step.message()));
        if let Step::File { n, of } = step {
            self.count(n, of);
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.0.finish_and_clear();
    }
}
