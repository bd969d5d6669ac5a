//! What can be wrong with a recording.

use std::collections::VecDeque;

use crate::Message;

use super::columns::{LoggedUnit, Role};

/// Something wrong, and where.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// Line of the file, from 1.
    pub line: u64,
    /// What.
    pub what: What,
}

/// What is wrong.
#[derive(Clone, Debug, PartialEq)]
pub enum What {
    /// It is no text; what its first bytes say that it is, where they say it.
    NotText(Option<&'static str>),
    /// No rows of numbers were found.
    NoNumbers,
    /// Which column holds this is not said in the file, nor by the rig.
    NoColumn(Role),
    /// Several columns may be this one: their numbers, from 1.
    SeveralColumns(Role, Vec<usize>),
    /// The unit of this is not said in the file, nor by the rig; volts need the rig's scale.
    NoUnit(Role),
    /// From here on this is in another unit than before.
    MixedUnits {
        /// Of what.
        role: Role,
        /// Unit before.
        before: LoggedUnit,
        /// Unit from here on.
        after: LoggedUnit,
    },
    /// This is no number; what stands there, shortened.
    NotANumber(Role, String),
    /// The row has not all columns.
    ShortRow,
    /// The file ends in the middle of a pull, or of a row.
    Truncated,
    /// The file begins in the middle of a pull: the zero is not known.
    StartsLoaded,
    /// Time goes backwards, by so many seconds.
    TimeBackwards(f64),
    /// So many samples are missing before this line.
    Dropped(u64),
    /// The force stands at its largest value, kN, for so many samples: the end of the cell or amplifier.
    Saturated {
        /// That value.
        at_kn: f64,
        /// How many samples.
        samples: usize,
    },
    /// Pulling reads as pushing; the sign was turned.
    ForceInverted,
    /// The stroke falls while the tool pulls; the sign was turned.
    StrokeInverted,
    /// Two pulls without rest between them; cut where the stroke turned.
    Merged,
    /// There is no pull in it.
    NoPull,
    /// More rows than are read: in one pull, or in the file.
    TooManyRows(u64),
    /// There are more faults than are named.
    More(u64),
}

/// Faults that are remembered for the pull that is going on.
const RECENT: usize = 32;

/// The faults of a file while it is read: the first ones named, the rest counted, so that a file of nothing but
/// faults takes no more room than another.
pub(super) struct Faults {
    named: Vec<Fault>,
    most: usize,
    unnamed: u64,
    /// The last ones, named or not: a pull is in doubt also where nobody counts any more.
    recent: VecDeque<Fault>,
}

impl Faults {
    /// Names at most so many.
    pub(super) fn naming(most: usize) -> Self {
        Self {
            named: Vec::new(),
            most,
            unnamed: 0,
            recent: VecDeque::with_capacity(RECENT),
        }
    }

    /// Takes one more.
    pub(super) fn tell(&mut self, line: u64, what: What) {
        let fault = Fault { line, what };
        if self.recent.len() == RECENT {
            self.recent.pop_front();
        }
        self.recent.push_back(fault.clone());
        if self.named.len() < self.most {
            self.named.push(fault);
        } else {
            self.unnamed += 1;
        }
    }

    /// How many there are.
    pub(super) fn count(&self) -> u64 {
        self.named.len() as u64 + self.unnamed
    }

    /// Takes back all after the first `count`.
    pub(super) fn take_back(&mut self, count: u64) {
        while self.count() > count {
            self.recent.pop_back();
            if self.unnamed > 0 {
                self.unnamed -= 1;
            } else {
                self.named.pop();
            }
        }
    }

    /// Those from `line` on, the last ones where there are many.
    pub(super) fn since(&self, line: u64) -> Vec<Fault> {
        let recent = self.recent.iter();
        recent.filter(|f| f.line >= line).cloned().collect()
    }

    /// All that are named, in the order of the lines, and how many are not.
    pub(super) fn all(mut self) -> Vec<Fault> {
        self.named.sort_by_key(|fault| fault.line);
        self.named.dedup();
        if self.unnamed > 0 {
            let line = self.named.last().map_or(1, |fault| fault.line);
            let what = What::More(self.unnamed);
            self.named.push(Fault { line, what });
        }
        self.named
    }
}

impl Fault {
    /// The fault as a catalogue text, with its line.
    pub fn message(&self) -> Message {
        let with_line = |id: &'static str| Message::new(id).with("line", self.line);
        let of = |message: Message, role: Role| message.with("role", role.message());
        match &self.what {
            What::NotText(None) => with_line("recording-not-text"),
            What::NotText(Some(kind)) => with_line("recording-not-text-but").with("kind", *kind),
            What::NoNumbers => with_line("recording-no-numbers"),
            What::NoColumn(role) => of(with_line("recording-no-column"), *role),
            What::SeveralColumns(role, columns) => {
                let columns: Vec<String> = columns.iter().map(usize::to_string).collect();
                let message = with_line("recording-several-columns");
                of(message, *role).with("columns", columns.join(", "))
            }
            What::NoUnit(role) => of(with_line("recording-no-unit"), *role),
            What::MixedUnits {
                role,
                before,
                after,
            } => of(with_line("recording-mixed-units"), *role)
                .with("before", before.symbol())
                .with("after", after.symbol()),
            What::NotANumber(role, text) => {
                of(with_line("recording-not-a-number"), *role).with("text", text.as_str())
            }
            What::ShortRow => with_line("recording-short-row"),
            What::Truncated => with_line("recording-truncated"),
            What::StartsLoaded => with_line("recording-starts-loaded"),
            What::TimeBackwards(by) => with_line("recording-time-backwards").number("by", *by, 6),
            What::Dropped(count) => with_line("recording-dropped").with("count", *count),
            What::Saturated { at_kn, samples } => with_line("recording-saturated")
                .number("force", *at_kn, 2)
                .with("count", *samples),
            What::ForceInverted => with_line("recording-force-inverted"),
            What::StrokeInverted => with_line("recording-stroke-inverted"),
            What::Merged => with_line("recording-merged"),
            What::NoPull => with_line("recording-no-pull"),
            What::TooManyRows(count) => with_line("recording-too-many-rows").with("count", *count),
            What::More(count) => with_line("recording-more").with("count", *count),
        }
    }
}
