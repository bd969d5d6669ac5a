//! Rows that were left out or are missing, counted over a whole pull.

use std::collections::VecDeque;

/// Runs that are kept apart; beyond, the two oldest become one.
const MOST: usize = 256;

/// Where rows were left out, and how many.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Run {
    pub(super) line: u64,
    pub(super) last_line: u64,
    pub(super) rows: u64,
}

/// Runs of them, in the order of the lines.
#[derive(Default)]
pub(super) struct LeftOut {
    runs: VecDeque<Run>,
}

impl LeftOut {
    /// `rows` that should stand at `line` or right before it.
    pub(super) fn add(&mut self, line: u64, rows: u64) {
        if rows == 0 {
            return;
        }
        if let Some(last) = self.runs.back_mut()
            && line <= last.last_line + 1
        {
            last.last_line = last.last_line.max(line);
            last.rows = last.rows.saturating_add(rows);
            return;
        }
        self.runs.push_back(Run {
            line,
            last_line: line,
            rows,
        });
        // Rather counted with a pull that begins between them than with none.
        if self.runs.len() > MOST
            && let Some(oldest) = self.runs.pop_front()
            && let Some(next) = self.runs.front_mut()
        {
            next.line = oldest.line;
            next.rows = next.rows.saturating_add(oldest.rows);
        }
    }

    pub(super) fn forget_before(&mut self, line: u64) {
        while self.runs.front().is_some_and(|run| run.last_line < line) {
            self.runs.pop_front();
        }
    }

    /// All that touch the lines from `first` to `last`, as one.
    pub(super) fn within(&self, first: u64, last: u64) -> Option<Run> {
        let touch = |run: &&Run| run.last_line >= first && run.line <= last;
        let all = self.runs.iter().filter(touch).copied();
        let one = all.reduce(|all, run| Run {
            line: all.line,
            last_line: run.last_line,
            rows: all.rows.saturating_add(run.rows),
        })?;
        Some(Run {
            line: one.line.max(first),
            last_line: one.last_line.min(last),
            ..one
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_is_counted_with_the_lines_that_it_touches() {
        let mut left_out = LeftOut::default();
        for (line, rows) in [(3, 1), (4, 1), (9, 2), (12, 0), (15, 5)] {
            left_out.add(line, rows);
        }
        let rows = |first, last| left_out.within(first, last).map_or(0, |run| run.rows);
        assert_eq!(
            (rows(1, 20), rows(1, 8), rows(5, 14), rows(10, 14)),
            (9, 2, 2, 0)
        );
        left_out.forget_before(9);
        let rest = left_out.within(1, 20);
        let wanted = Run {
            line: 9,
            last_line: 15,
            rows: 7,
        };
        assert_eq!(rest, Some(wanted));
    }

    #[test]
    fn however_many_none_is_lost_and_few_are_kept() {
        let mut left_out = LeftOut::default();
        (1..=10_000).for_each(|i| left_out.add(2 * i, 1));
        assert_eq!(left_out.runs.len(), MOST);
        let all = left_out.within(1, 20_000).expect("some");
        assert_eq!((all.line, all.last_line, all.rows), (2, 20_000, 10_000));
        let last = left_out.within(19_991, 20_000).expect("some");
        assert_eq!(last.rows, 5);
        left_out.forget_before(20_001);
        assert_eq!(left_out.within(1, 30_000), None);
    }
}
