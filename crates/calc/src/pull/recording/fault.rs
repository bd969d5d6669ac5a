//! What can be wrong with a recording.

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
