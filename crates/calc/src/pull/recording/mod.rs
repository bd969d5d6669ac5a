//! From a logger's file to separate pulls, piece by piece and in bounded memory.
//!
//! Delimiter, decimal mark, heading, columns and units are found in the file or told by the [`Rig`]. Whatever
//! is wrong is named with its line; what can be read all the same is offered beside it ([`Recorded`]) and
//! never passes for sound.
//!
//! # Validity
//! A row a sample, force and stroke in columns, time in a third or a known rate. A pull begins at rest: what the cell
//! shows there is its zero.
//!
//! # Source
//! Common practice, no source.

mod clock;
mod columns;
mod fault;
mod head;
mod left_out;
mod level;
mod number;
mod reader;
mod rows;
mod saturation;
mod split;
#[cfg(test)]
mod tests;
mod told;
mod turn;

pub use columns::{Column, LoggedUnit, Place, Rig, Role};
pub use fault::{Fault, What};
pub use head::Layout;
pub use reader::{Bounds, Reader, Told};

/// One pull as recorded: nothing filtered, units brought to kN, mm and s.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RecordedPull {
    /// Line of the file on which it begins.
    pub first_line: u64,
    /// Line on which it ends.
    pub last_line: u64,
    /// Time, s.
    pub time_s: Vec<f64>,
    /// Stroke, mm.
    pub stroke_mm: Vec<f64>,
    /// Force, kN, with what the cell shows at rest still in it.
    pub force_kn: Vec<f64>,
    /// What the cell shows without load, kN, where the rig knows it; else it is taken from the rest before the pull.
    pub zero_kn: Option<f64>,
    /// What is wrong within it. Empty where nothing is.
    pub faults: Vec<Fault>,
}

/// A file as read.
#[derive(Clone, Debug, PartialEq)]
pub enum Recorded {
    /// Nothing is wrong with it.
    Sound(Vec<RecordedPull>),
    /// Something is: these pulls are there to be looked at, not to be used unseen.
    Doubtful {
        /// What is wrong, in the order of the lines.
        faults: Vec<Fault>,
        /// What could be read.
        pulls: Vec<RecordedPull>,
    },
    /// No pull can be read.
    Unreadable(Vec<Fault>),
}

/// A whole file at once.
pub fn read(bytes: &[u8], rig: &Rig) -> Recorded {
    let mut pulls = Vec::new();
    let mut reader = Reader::new(rig.clone(), Bounds::default());
    reader.feed(bytes, &mut pulls);
    let told = reader.finish(&mut pulls);
    if pulls.is_empty() {
        Recorded::Unreadable(told.faults)
    } else if told.faults.is_empty() {
        Recorded::Sound(pulls)
    } else {
        Recorded::Doubtful {
            faults: told.faults,
            pulls,
        }
    }
}
