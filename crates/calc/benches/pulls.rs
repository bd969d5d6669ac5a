//! How long pulls take from their files to a verdict, on two threads: `cargo bench -p calc --bench pulls`.
//!
//! Makes 1000 files of one pull with 10 000 samples each (`SETWRIGHT_BENCH_PULLS` sets another number), reads each to its
//! phases, features, slips, its place in the band of good pulls and a verdict on the break load. Prints the time and
//! fails beyond the budget. The files stay for `pulls.py`, which does the same with common libraries.

#[path = "../tests/pulls/generator.rs"]
#[allow(dead_code, reason = "the tests use more of it")]
mod generator;

use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::time::{Duration, Instant};
use std::{env, fs, thread};

use calc::decision::{Limits, Rule, Verdict, judge};
use calc::pull::envelope::Envelope;
use calc::pull::reading::{Fastener, Reading, Setup, read_pull};
use calc::pull::recording::{Recorded, RecordedPull, Rig, read};
use generator::{Draw, Plan, Series, csv};

/// Seconds for 1000 pulls.
const BUDGET: Duration = Duration::from_millis(1500);
const THREADS: usize = 2;
const KIND: Fastener = Fastener::BreakLockbolt;
/// Every fifth pull is a faulty one.
const FAULTY: usize = 5;

/// Makes the files, unless they are there.
fn make_files(folder: &Path, count: usize) -> Vec<PathBuf> {
    fs::create_dir_all(folder).expect("a folder");
    let mut draw = Draw(2026);
    let plan = Plan {
        noise: 0.01,
        drift: 0.01,
        ..Plan::good(KIND)
    };
    let series = Series::new(&plan, &mut draw);
    let path = |i: usize| folder.join(format!("{i:04}.csv"));
    for i in 0..count {
        let faults: [fn(Plan) -> Plan; 4] = [
            |plan| Plan { slips: 2, ..plan },
            |plan| Plan {
                air_mm: 2.0,
                ..plan
            },
            |plan| Plan {
                early: true,
                ..plan
            },
            |plan| Plan { dry: 0.06, ..plan },
        ];
        let made = match i % FAULTY {
            0 => series.next(&mut draw, faults[i / FAULTY % 4]),
            _ => series.next(&mut draw, |plan| plan),
        };
        fs::write(path(i), csv(&[made])).expect("written");
    }
    (0..count).map(path).collect()
}

/// The pulls of a file; what is doubtful about a made one is not wanted.
fn pulls_of(path: &Path) -> Vec<RecordedPull> {
    let bytes = fs::read(path).expect("a file");
    match read(&bytes, &Rig::default()) {
        Recorded::Sound(pulls) => pulls,
        Recorded::Doubtful { faults, .. } | Recorded::Unreadable(faults) => {
            panic!("{}: {faults:?}", path.display())
        }
    }
}

fn reading(pull: &RecordedPull, setup: &Setup) -> Reading {
    read_pull(pull, setup).expect("a pull")
}

/// How many of `paths` were accepted, undecided, rejected.
fn judged(paths: &[PathBuf], setup: &Setup, band: &Envelope, limits: Limits) -> [usize; 3] {
    let mut counts = [0; 3];
    for path in paths {
        for pull in pulls_of(path) {
            let reading = reading(&pull, setup);
            let compared = band.compare(&reading, setup).expect("beyond its take-up");
            let break_load = match reading.features.break_kn {
                Some(load) => {
                    judge(load.value, load.expanded(), limits, Rule::Guarded).expect("finite")
                }
                None => Verdict::Reject,
            };
            let slipped = if reading.slips.is_empty() {
                Verdict::Accept
            } else {
                Verdict::Reject
            };
            counts[compared.verdict.max(break_load).max(slipped) as usize] += 1;
        }
    }
    counts
}

/// Processor time used so far by all threads, s, where the system tells it: hundredths in fields 14 and 15.
fn processor_s() -> Option<f64> {
    let stat = fs::read_to_string("/proc/self/stat").ok()?;
    let mut fields = stat.rsplit(')').next()?.split_whitespace().skip(11);
    let mut next = || fields.next()?.parse::<f64>().ok();
    Some((next()? + next()?) / 100.0)
}

fn main() -> ExitCode {
    let count = env::var("SETWRIGHT_BENCH_PULLS")
        .ok()
        .and_then(|n| n.parse().ok());
    let count: usize = count.unwrap_or(1000).max(40);
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("pulls");
    let paths = make_files(&folder, count);
    let bytes: u64 = paths
        .iter()
        .map(|p| fs::metadata(p).expect("there").len())
        .sum();
    let setup = Setup {
        force_u_share: 0.002,
        stroke_u_mm: 0.02,
        ..Setup::of(KIND)
    };
    let good = paths
        .iter()
        .enumerate()
        .filter(|(i, _)| i % FAULTY != 0)
        .take(30);
    let accepted: Vec<Reading> = good
        .map(|(_, path)| reading(&pulls_of(path)[0], &setup))
        .collect();
    let band = Envelope::of(&accepted.iter().collect::<Vec<_>>(), 0.95).expect("enough");
    let limits = Limits::new(Some(22.0), Some(26.0)).expect("in order");
    let mut best = Duration::MAX;
    for _ in 0..5 {
        let (begin, before) = (Instant::now(), processor_s());
        let share = paths.len().div_ceil(THREADS);
        let counts = thread::scope(|scope| {
            let parts = paths.chunks(share);
            let all: Vec<_> = parts
                .map(|part| scope.spawn(|| judged(part, &setup, &band, limits)))
                .collect();
            all.into_iter().fold([0; 3], |sum, one| {
                let one = one.join().expect("read");
                [sum[0] + one[0], sum[1] + one[1], sum[2] + one[2]]
            })
        });
        let took = begin.elapsed();
        best = best.min(took);
        let used = processor_s()
            .zip(before)
            .map(|(after, before)| after - before);
        println!(
            "{count} pulls, {:.0} MB: {:.3} s on {THREADS} threads, {:.2} s of processor; accepted, undecided, rejected: {counts:?}",
            bytes as f64 / 1e6,
            took.as_secs_f64(),
            used.unwrap_or(f64::NAN),
        );
    }
    let budget = BUDGET * count as u32 / 1000;
    println!("files stay in {}", folder.display());
    if best > budget {
        println!("over the budget of {budget:?}");
        return ExitCode::FAILURE;
    }
    ExitCode::SUCCESS
}
