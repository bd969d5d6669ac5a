//! Files that are very long, and files of nothing but faults: what is held stays small.

use std::fmt::Write;

use calc::pull::recording::{Bounds, Reader, RecordedPull, Rig, Told, What};

const HEAD: &str = "Time (s);Stroke (mm);Force (kN)\n";

/// Feeds `blocks` in turn, each as often as it says; what was told, how many pulls there were, and the most rows that
/// one held.
fn fed(blocks: &[(&str, usize)]) -> (Told, usize, usize) {
    let mut reader = Reader::new(Rig::default(), Bounds::default());
    let (mut count, mut most) = (0, 0);
    let mut pulls: Vec<RecordedPull> = Vec::new();
    let mut let_go = |pulls: &mut Vec<RecordedPull>| {
        count += pulls.len();
        let longest = pulls.drain(..).map(|pull| pull.time_s.len()).max();
        most = most.max(longest.unwrap_or(0));
    };
    reader.feed(HEAD.as_bytes(), &mut pulls);
    for (block, times) in blocks {
        for _ in 0..*times {
            reader.feed(block.as_bytes(), &mut pulls);
            let_go(&mut pulls);
        }
    }
    let told = reader.finish(&mut pulls);
    let_go(&mut pulls);
    (told, count, most)
}

/// `count` rows, so many seconds apart: stroke and force of each. A clock that stands can be put behind itself.
fn rows(count: usize, step_s: f64, row: impl Fn(usize) -> (f64, f64)) -> String {
    (0..count).fold(String::new(), |mut text, i| {
        let (time, (stroke, force)) = (i as f64 * step_s, row(i));
        writeln!(text, "{time:.3};{stroke:.1};{force:.1}").expect("a string takes it");
        text
    })
}

/// 10 million rows in which nothing happens, but for one pull in their middle.
#[test]
fn ten_million_rows_are_read() {
    let rest = rows(10_000, 0.001, |_| (0.0, 0.0));
    let pull = rows(2000, 0.001, |i| {
        // At rest, there and back, at rest.
        let x = (i as f64 / 500.0 - 2.0).abs().min(1.0);
        (20.0 * (1.0 - x), 15.0 * (1.0 - x))
    });
    // The clock begins anew with each block, as when recordings are put behind each other.
    let (told, count, most) = fed(&[(&rest, 500), (&pull, 1), (&rest, 500)]);
    assert_eq!((told.rows, count), (10_002_000, 1), "{:?}", told.faults);
    assert_eq!(told.faults, []);
    assert!(most < 2000, "{most} rows in a pull of 1000");
}

/// 10 million rows under load: one pull without an end. It is cut at the bound, and that is named.
#[test]
fn a_pull_without_end_is_cut_and_named() {
    let rest = rows(1000, 0.0, |_| (0.0, 0.0));
    let loaded = rows(10_000, 0.0, |_| (12.0, 9.0));
    let (told, count, most) = fed(&[(&rest, 1), (&loaded, 1000)]);
    let bounds = Bounds::default();
    assert!(count == 1 && most <= bounds.pull_rows, "{count}, {most}");
    let cut = What::TooManyRows(bounds.pull_rows as u64);
    assert!(
        told.faults.iter().any(|fault| fault.what == cut),
        "{:?}",
        told.faults
    );
}

/// A file in which every pull has a fault: the first are named, all are counted, and none passes for sound.
#[test]
fn faults_without_end_are_counted() {
    let rest = rows(200, 0.0, |_| (0.0, 0.0));
    // The second pull begins before the first is home.
    let merged = rows(300, 0.0, |i| match i % 100 {
        at @ 0..60 => (at as f64 / 4.0, 10.0),
        at => ((100 - at) as f64 / 4.0, 0.0),
    });
    let mut reader = Reader::new(Rig::default(), Bounds::default());
    let mut pulls = Vec::new();
    reader.feed(HEAD.as_bytes(), &mut pulls);
    let (mut count, mut doubtful) = (0, 0);
    for _ in 0..4000 {
        for block in [&rest, &merged] {
            reader.feed(block.as_bytes(), &mut pulls);
            count += pulls.len();
            doubtful += pulls.drain(..).filter(|p| !p.faults.is_empty()).count();
        }
    }
    let told = reader.finish(&mut pulls);
    let named = Bounds::default().faults;
    assert!(count >= 8000, "{count}");
    assert!(told.faults.len() <= named + 1, "{}", told.faults.len());
    let Some(What::More { count: unnamed, .. }) = told.faults.last().map(|f| f.what.clone()) else {
        panic!("{:?}", told.faults.last());
    };
    assert!(unnamed > 1000, "{unnamed}");
    // The last ones are in doubt as the first ones are.
    assert!(doubtful >= 8000, "{doubtful} of {count}");
}
