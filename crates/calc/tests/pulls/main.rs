//! Pulls made with their truth: what is read from them is held against it.

mod anything;
mod budgets;
mod clock;
mod covered;
mod cut_off;
mod demo;
mod envelopes;
mod features;
mod files;
mod generator;
mod hostile;
mod long;
mod phases;
mod run_together;
mod sizes;
mod slips;

use calc::pull::reading::{Fastener, Reading, Setup, read_pull};
use calc::pull::recording::RecordedPull;
use generator::Made;

/// All kinds.
const KINDS: [Fastener; 4] = [
    Fastener::BreakLockbolt,
    Fastener::StopLockbolt,
    Fastener::BlindRivet,
    Fastener::RivetNut,
];

fn recorded(made: &Made) -> RecordedPull {
    RecordedPull {
        first_line: 1,
        last_line: made.time_s.len() as u64,
        time_s: made.time_s.clone(),
        stroke_mm: made.stroke_mm.clone(),
        force_kn: made.force_kn.clone(),
        ..RecordedPull::default()
    }
}

fn read(made: &Made, fastener: Fastener) -> Reading {
    read_pull(&recorded(made), &Setup::of(fastener)).expect("a pull")
}
