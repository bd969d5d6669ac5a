//! Any bytes as a logger's file: read or refused, in pieces, and each pull of it read on.
//!
//! The first bytes say how long the pieces are and what was pulled; the rest is the file.

#![no_main]

use calc::pull::reading::{Fastener, Setup, read_pull};
use calc::pull::recording::{Bounds, Reader, Rig};
use libfuzzer_sys::fuzz_target;

const KINDS: [Fastener; 4] = [
    Fastener::BreakLockbolt,
    Fastener::StopLockbolt,
    Fastener::BlindRivet,
    Fastener::RivetNut,
];

const BOUNDS: Bounds = Bounds {
    pull_rows: 10_000,
    file_rows: 100_000,
    faults: 20,
};

fuzz_target!(|data: &[u8]| {
    let [length, kind, file @ ..] = data else {
        return;
    };
    let setup = Setup::of(KINDS[usize::from(kind % 4)]);
    // Half of the files come from a rig that knows how fast it samples.
    let rig = Rig {
        rate_hz: (kind & 4 == 0).then_some(1000.0),
        ..Rig::default()
    };
    let mut reader = Reader::new(rig, BOUNDS);
    let mut pulls = Vec::new();
    for piece in file.chunks(usize::from(*length) + 1) {
        reader.feed(piece, &mut pulls);
    }
    let told = reader.finish(&mut pulls);
    assert!(
        !pulls.is_empty() || !told.faults.is_empty(),
        "nothing is said of it"
    );
    assert!(told.faults.len() <= BOUNDS.faults + 1);
    for pull in &pulls {
        assert!(pull.time_s.len() <= BOUNDS.pull_rows);
        assert!(pull.first_line <= pull.last_line);
        assert!(pull.faults.is_empty() || !told.faults.is_empty());
        if let Ok(reading) = read_pull(pull, &setup) {
            assert!(reading.features.peak_kn.value.is_finite());
        }
    }
});
