//! Any bytes, and good files with something wrong in them: never a panic, never a fault that is passed over.

use calc::pull::recording::{Bounds, Fault, Reader, Recorded, RecordedPull, Rig, What, read};
use proptest::prelude::*;
use proptest::sample::Index;

use crate::KINDS;
use crate::generator::{Draw, Plan, csv, make};

/// A good file of `count` pulls, in lines.
fn lines(seed: u64, kind: usize, count: usize) -> Vec<String> {
    let plan = Plan {
        samples: 600,
        ..Plan::good(KINDS[kind % KINDS.len()])
    };
    let mut draw = Draw(seed);
    let made: Vec<_> = (0..count).map(|_| make(&plan, &mut draw)).collect();
    csv(&made).lines().map(str::to_owned).collect()
}

fn parts(recorded: Recorded) -> (Vec<Fault>, Vec<RecordedPull>, bool) {
    match recorded {
        Recorded::Sound(pulls) => (Vec::new(), pulls, true),
        Recorded::Doubtful { faults, pulls } => (faults, pulls, false),
        Recorded::Unreadable(faults) => (faults, Vec::new(), false),
    }
}

/// What holds for any file at all.
fn holds(bytes: &[u8], rig: &Rig) -> Result<(), TestCaseError> {
    let (faults, pulls, is_sound) = parts(read(bytes, rig));
    let lines = bytes.split(|b| *b == b'\n').count() as u64;
    prop_assert!(is_sound || !faults.is_empty(), "refused without a word");
    for fault in &faults {
        prop_assert!((1..=lines).contains(&fault.line), "{fault:?} of {lines}");
    }
    let mut before = 0;
    for pull in &pulls {
        let rows = pull.time_s.len();
        prop_assert!(rows == pull.stroke_mm.len() && rows == pull.force_kn.len());
        prop_assert!(before < pull.first_line && pull.first_line <= pull.last_line);
        prop_assert!(pull.last_line <= lines && rows as u64 <= lines);
        before = pull.last_line;
        let columns = [&pull.time_s, &pull.stroke_mm, &pull.force_kn];
        prop_assert!(columns.into_iter().flatten().all(|x| x.is_finite()));
        // What a pull is doubted for, the whole file is.
        for fault in &pull.faults {
            prop_assert!(faults.contains(fault), "{fault:?} is not told");
        }
    }
    // In pieces of any length it says the same, and holds no more than its bounds.
    let bounds = Bounds {
        pull_rows: 200,
        file_rows: 500,
        faults: 5,
    };
    let (mut reader, mut found) = (Reader::new(rig.clone(), bounds), Vec::new());
    for piece in bytes.chunks(97) {
        reader.feed(piece, &mut found);
    }
    let told = reader.finish(&mut found);
    prop_assert!(found.iter().all(|pull| pull.time_s.len() <= 200));
    prop_assert!(told.faults.len() <= 6 && told.rows <= 501);
    Ok(())
}

/// Words of logger's files, so that made-up bytes get further than the head.
fn scrap() -> impl Strategy<Value = Vec<u8>> {
    let word = prop::sample::select(vec![
        "Time (s)",
        "Force [kN]",
        "Stroke (mm)",
        "V",
        ";",
        ",",
        "\t",
        "\n",
        "\r\n",
        "0",
        "1,5",
        "-2.5e3",
        "NaN",
        "inf",
        "1e308",
        "\"",
        "\u{2212}1",
        "lbf",
        "in",
        "ms",
        "\u{feff}",
        "99999999999999999999",
        " ",
    ]);
    let piece = prop_oneof![
        6 => word.prop_map(|w| w.as_bytes().to_vec()),
        1 => prop::collection::vec(any::<u8>(), 1..6),
    ];
    prop::collection::vec(piece, 0..400).prop_map(|pieces| pieces.concat())
}

fn any_rig() -> impl Strategy<Value = Rig> {
    let rate = prop::option::of(50.0..50_000.0f64);
    let zero = prop::option::of(-2.0..2.0f64);
    let end = prop::option::of(1.0..40.0f64);
    (rate, zero, end).prop_map(|(rate_hz, zero_kn, cell_end_kn)| Rig {
        rate_hz,
        zero_kn,
        cell_end_kn,
        ..Rig::default()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn any_bytes_are_read_or_refused(
        bytes in prop::collection::vec(any::<u8>(), 0..3000),
        rig in any_rig(),
    ) {
        holds(&bytes, &rig)?;
    }

    #[test]
    fn any_words_of_loggers_are_read_or_refused(bytes in scrap(), rig in any_rig()) {
        holds(&bytes, &rig)?;
    }

    /// Bytes changed, put in, taken out, parts swapped: whatever is left is read or refused.
    #[test]
    fn a_good_file_that_was_mangled_is_read_or_refused(
        seed in any::<u64>(),
        kind in 0usize..4,
        wounds in prop::collection::vec((any::<Index>(), any::<Index>(), 0u8..4, any::<u8>()), 1..12),
        rig in any_rig(),
    ) {
        let mut bytes = lines(seed, kind, 2).join("\n").into_bytes();
        for (one, other, how, byte) in wounds {
            if bytes.len() < 4 {
                break;
            }
            let (a, b) = (one.index(bytes.len()), other.index(bytes.len()));
            let (from, to) = (a.min(b), a.max(b));
            match how {
                0 => bytes[from] = byte,
                1 => bytes.insert(from, byte),
                2 => drop(bytes.drain(from..to.min(from + 2000))),
                _ => bytes[from..to].rotate_left((to - from) / 2),
            }
        }
        holds(&bytes, &rig)?;
    }

    /// A cell that is no number is named with its line, wherever it stands, and the pull around it is in doubt.
    #[test]
    fn what_is_no_number_is_never_passed_over(
        seed in any::<u64>(),
        kind in 0usize..4,
        row in any::<Index>(),
        column in 0usize..3,
        text in prop::sample::select(vec!["NaN", "inf", "", "--", "#N/A", "1.2.3", "OVER", "1e400", "2 kg"]),
    ) {
        let mut lines = lines(seed, kind, 2);
        // Of the last row only its end may be missing; the first rows say what a row is.
        let row = 5 + row.index(lines.len() - 10);
        let mut cells: Vec<&str> = lines[row].split(',').collect();
        cells[column] = text;
        lines[row] = cells.join(",");
        let (faults, pulls, _) = parts(read((lines.join("\n") + "\n").as_bytes(), &Rig::default()));
        let line = row as u64 + 1;
        let named = |fault: &&Fault| fault.line == line && matches!(fault.what, What::NotANumber(..));
        prop_assert!(faults.iter().any(|fault| named(&fault)), "{line}: {faults:?}");
        for pull in pulls {
            let within = (pull.first_line..=pull.last_line).contains(&line);
            prop_assert!(!within || !pull.faults.is_empty(), "{line} is in {:?}", pull.first_line);
        }
    }

    /// A file that ends under load is named as such, wherever it breaks off.
    #[test]
    fn a_file_that_breaks_off_under_load_is_never_sound(
        seed in any::<u64>(),
        kind in 0usize..4,
        share in 0.0..1.0f64,
    ) {
        let lines = lines(seed, kind, 1);
        let force = |line: &String| line.rsplit(',').next().and_then(|f| f.parse::<f64>().ok());
        let loaded: Vec<usize> = (1..lines.len()).filter(|i| force(&lines[*i]).is_some_and(|f| f > 5.0)).collect();
        let at = loaded[(share * (loaded.len() - 1) as f64) as usize];
        let text = lines[..=at].join("\n") + "\n";
        let (faults, pulls, is_sound) = parts(read(text.as_bytes(), &Rig::default()));
        prop_assert!(!is_sound, "{} of {} lines: {}", at, lines.len(), pulls.len());
        let says = |fault: &Fault| matches!(fault.what, What::Truncated | What::NoPull);
        prop_assert!(faults.iter().any(says), "{faults:?}");
    }
}

/// What is packed is never unfolded: it is called by its name on the first line, and nothing of it is read.
#[test]
fn packed_files_are_refused_by_their_content() {
    // RFC 1952 section 2.3; a local file header and an empty archive of ZIP.
    let packed: [(&[u8], &str); 3] = [
        (b"\x1f\x8b\x08\0\0\0\0\0\0\x03\xed\xc1\x01\x0d", "gzip"),
        (b"PK\x03\x04\x14\0\0\0\x08\0", "zip"),
        (b"PK\x05\x06\0\0\0\0", "zip"),
    ];
    for (head, kind) in packed {
        // However long it goes on.
        let mut reader = Reader::new(Rig::default(), Bounds::default());
        let mut pulls = Vec::new();
        reader.feed(head, &mut pulls);
        for _ in 0..1000 {
            reader.feed(&[0x5a; 1000], &mut pulls);
        }
        let told = reader.finish(&mut pulls);
        assert_eq!((pulls.len(), told.rows), (0, 0));
        let named = matches!(told.faults[..], [Fault { line: 1, what: What::NotText(Some(k)), .. }] if k == kind);
        assert!(named, "{kind}: {:?}", told.faults);
    }
}
