//! What can be wrong with a recording.

use crate::Message;

use super::columns::{LoggedUnit, Role};

/// Something wrong, and where.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// Line of the file, from 1, on which it begins.
    pub line: u64,
    /// Line on which it ends: the same, or a later one where neighbouring rows have it alike.
    pub last_line: u64,
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
    /// The row has more numbers than there are headings, or than the first rows had: decimal commas between commas,
    /// most likely.
    MoreNumbers {
        /// How many.
        numbers: usize,
        /// How many there should be.
        headings: usize,
    },
    /// The recording ends in the middle of a pull, or of a row: with the file, or where another one begins.
    Truncated,
    /// The recording begins in the middle of a pull: the zero is not known.
    StartsLoaded,
    /// The recording begins in the middle of a pull. The zero is known, where the stroke began is not.
    StartsOut,
    /// Time goes backwards, by so many seconds.
    TimeBackwards(f64),
    /// The clock stands still: these samples have the same time.
    TimeStands,
    /// So many samples are missing before this line.
    Dropped(u64),
    /// So many rows of the pull are left out or missing in all, each run of them short.
    LeftOut(u64),
    /// The force stands at its largest value, kN, for so many samples: the end of the cell or amplifier.
    Saturated {
        /// That value.
        at_kn: f64,
        /// How many samples.
        samples: usize,
    },
    /// The force stands at its top, kN, while the stroke goes on: maybe it is cut off there. The peak may be right, so it
    /// does not spoil.
    MaybeCutOff(f64),
    /// The force is far more than the cell bears, or where no cell is known, than any hand-held tool pulls.
    Implausible {
        /// The force as recorded, kN.
        force_kn: f64,
        /// What the cell bears, kN.
        cell_kn: Option<f64>,
    },
    /// Pulling reads as pushing; the sign was turned.
    ForceInverted,
    /// The stroke falls while the tool pulls; the sign was turned.
    StrokeInverted,
    /// Two pulls run into each other, without rest between them: cut where the stroke turned, if it is sure that they are two.
    Merged,
    /// There is no pull in it.
    NoPull,
    /// More rows than are read: in one pull, or in the file.
    TooManyRows(u64),
    /// There are more faults than are named.
    More {
        /// How many.
        count: u64,
        /// Whether one of them spoils a pull.
        spoils: bool,
    },
}

/// Missing samples of a pull that hide nothing that matters, in a row or in all. Common practice, no source.
pub(super) const FEW_MISSING: u64 = 3;

impl What {
    /// Whether `next` says the same of the next row.
    fn is_alike(&self, next: &Self) -> bool {
        match (self, next) {
            (Self::NotANumber(role, _), Self::NotANumber(other, _)) => role == other,
            (Self::MoreNumbers { .. }, Self::MoreNumbers { .. }) => true,
            (Self::ShortRow | Self::MixedUnits { .. }, _) => self == next,
            _ => false,
        }
    }

    /// Rows of the pull that are not there, of a fault that spoils it by their number alone.
    pub(super) fn rows_left_out(&self) -> u64 {
        match self {
            Self::NotANumber(..) | Self::ShortRow => 1,
            Self::Dropped(count) => *count,
            _ => 0,
        }
    }
}

impl Fault {
    /// A fault of one line.
    pub fn at(line: u64, what: What) -> Self {
        Self {
            line,
            last_line: line,
            what,
        }
    }

    /// Takes in `next`, if it is the same and stands on the next line.
    pub(super) fn goes_on(&mut self, next: &Self) -> bool {
        let goes_on = next.line == self.last_line + 1 && self.what.is_alike(&next.what);
        if goes_on {
            self.last_line = next.last_line;
        }
        goes_on
    }

    /// Whether the numbers of a pull with it can decide nothing: its peak, its zero or its course is not known. Few
    /// rows that were left out, or a sign that was turned, leave them.
    pub fn spoils(&self) -> bool {
        match &self.what {
            What::ForceInverted | What::StrokeInverted | What::MaybeCutOff(_) => false,
            What::More { spoils, .. } => *spoils,
            What::NotANumber(..) | What::ShortRow => self.last_line - self.line >= FEW_MISSING,
            What::Dropped(count) => *count > FEW_MISSING,
            _ => true,
        }
    }

    /// The fault as a catalogue text, with its line or lines.
    pub fn message(&self) -> Message {
        let with_line = |id: &'static str| Message::new(id).with("line", self.line);
        let rows = |one: &'static str, several: &'static str| match self.last_line > self.line {
            true => with_line(several).with("last", self.last_line),
            false => with_line(one),
        };
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
            } => of(
                rows("recording-mixed-units", "recording-mixed-units-rows"),
                *role,
            )
            .with("before", before.symbol())
            .with("after", after.symbol()),
            What::NotANumber(role, text) => {
                let message = rows("recording-not-a-number", "recording-not-a-number-rows");
                of(message, *role).with("text", text.as_str())
            }
            What::ShortRow => rows("recording-short-row", "recording-short-row-rows"),
            What::MoreNumbers { numbers, headings } => {
                rows("recording-more-numbers", "recording-more-numbers-rows")
                    .with("count", *numbers)
                    .with("headings", *headings)
            }
            What::Truncated => with_line("recording-truncated"),
            What::StartsLoaded => with_line("recording-starts-loaded"),
            What::StartsOut => with_line("recording-starts-out"),
            What::TimeBackwards(by) => with_line("recording-time-backwards").number("by", *by, 6),
            What::TimeStands => with_line("recording-time-stands").with("last", self.last_line),
            What::Dropped(count) => with_line("recording-dropped").with("count", *count),
            What::LeftOut(count) => with_line("recording-left-out")
                .with("last", self.last_line)
                .with("count", *count),
            What::Saturated { at_kn, samples } => with_line("recording-saturated")
                .number("force", *at_kn, 2)
                .with("count", *samples),
            What::MaybeCutOff(at_kn) => with_line("recording-maybe-cut-off")
                .with("last", self.last_line)
                .number("force", *at_kn, 2),
            What::Implausible {
                force_kn,
                cell_kn: Some(cell_kn),
            } => with_line("recording-beyond-cell")
                .number("force", *force_kn, 1)
                .number("cell", *cell_kn, 1),
            What::Implausible { force_kn, .. } => {
                with_line("recording-beyond-tools").number("force", *force_kn, 1)
            }
            What::ForceInverted => with_line("recording-force-inverted"),
            What::StrokeInverted => with_line("recording-stroke-inverted"),
            What::Merged => rows("recording-merged", "recording-merged-rows"),
            What::NoPull => with_line("recording-no-pull"),
            What::TooManyRows(count) => with_line("recording-too-many-rows").with("count", *count),
            What::More { count, spoils } => {
                let id = match spoils {
                    true => "recording-more-spoil",
                    false => "recording-more",
                };
                with_line(id).with("count", *count)
            }
        }
    }
}
