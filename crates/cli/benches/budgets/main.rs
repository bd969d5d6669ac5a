//! The budgets of speed and memory, measured on the program as a user runs it.
//!
//! `cargo bench -p cli` prints a line for each and fails if one is missed. Times are taken at the
//! client, over loopback: the server's own time is less.

mod client;
mod program;
mod times;

use std::process::ExitCode;
use std::time::{Duration, Instant};

use client::Client;
use program::{Program, store_with_demo};
use times::Times;

/// Starts that are timed; the slowest counts.
const STARTS: usize = 5;
/// Requests for the job page.
const PAGES: usize = 200;
/// Requests for the report.
const REPORTS: usize = 50;
/// How long the program is left alone before its memory counts as idle.
const REST: Duration = Duration::from_secs(1);

/// One budget: what, measured, limit, unit.
struct Row(&'static str, f64, f64, &'static str);

impl Row {
    fn is_kept(&self) -> bool {
        self.1 <= self.2
    }
}

fn main() -> ExitCode {
    let rows = measured();
    println!("\n{:<44} {:>10} {:>10}", "budget", "measured", "limit");
    for row in &rows {
        let Row(what, measured, limit, unit) = row;
        let missed = if row.is_kept() { "" } else { "  MISSED" };
        println!("{what:<44} {measured:>7.1} {unit:<2} {limit:>7.0} {unit:<2}{missed}");
    }
    if rows.iter().all(Row::is_kept) {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    }
}

fn measured() -> Vec<Row> {
    let folder = tempfile::tempdir().expect("a folder for the store");
    let store = folder.path().join("bench.setwright");
    store_with_demo(&store);

    let starts = Times::of(STARTS, || {
        let begin = Instant::now();
        let program = Program::serve(&store);
        let status = Client::connect(&program.address).get("/").status;
        assert_eq!(status, 200, "the first page");
        begin.elapsed()
    });

    let program = Program::serve(&store);
    let mut client = Client::connect(&program.address);
    client.get("/");
    let idle = program.resident_megabytes(REST);

    let jobs = jobs(&mut client);
    let job = longest(&mut client, &jobs).expect("the demo shop has jobs");
    let page = Times::of(PAGES, || client.timed(&job));

    // In turn, so that the typesetter cannot give back what it has just set.
    let reports: Vec<String> = jobs
        .iter()
        .map(|job| format!("{job}/report.pdf"))
        .filter(|path| client.get(path).status == 200)
        .collect();
    println!("measured: {} reports", reports.len());
    let mut turn = reports.iter().cycle();
    let paper = Times::of(REPORTS, || {
        client.timed(turn.next().expect("a tool was handed back"))
    });

    let mut rows = vec![
        Row(
            "start to first page, slowest of 5",
            starts.slowest(),
            300.0,
            "ms",
        ),
        Row("job page, median of 200", page.median(), 10.0, "ms"),
        Row("job page, 99th percentile", page.percentile(99), 50.0, "ms"),
        Row(
            "service reports as PDF, in turn, median",
            paper.median(),
            100.0,
            "ms",
        ),
    ];
    let worked = program.resident_megabytes(REST);
    match (idle, worked) {
        (Some(idle), Some(worked)) => rows.extend([
            Row("idle memory after the first page", idle, 80.0, "MB"),
            Row("idle memory after pages and reports", worked, 80.0, "MB"),
        ]),
        _ => println!("memory: not measured, this machine has no /proc"),
    }
    rows
}

/// The path with the longest good answer. Asking for all of them also warms the server up.
fn longest(client: &mut Client, paths: &[String]) -> Option<String> {
    let answers = paths.iter().map(|path| (client.get(path), path));
    let good = answers.filter(|(answer, _)| answer.status == 200);
    let lengths = good.map(|(answer, path)| (answer.body.len(), path));
    let (length, path) = lengths.max()?;
    println!(
        "measured: {path}, the longest of {}, {length} bytes",
        paths.len()
    );
    Some(path.clone())
}

/// The addresses of all jobs.
fn jobs(client: &mut Client) -> Vec<String> {
    let list = client.get("/?all=true");
    let text = String::from_utf8_lossy(&list.body).into_owned();
    let mut jobs: Vec<String> = text
        .split("href=\"/jobs/")
        .skip(1)
        .filter_map(|rest| rest.split('"').next())
        .map(|number| format!("/jobs/{number}"))
        .collect();
    jobs.sort();
    jobs.dedup();
    jobs
}
