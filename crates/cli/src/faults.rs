//! `faults simulate`: what the advice of the job page is worth, measured on jobs with known causes.

mod page;
mod run;

use calc::Message;
use serde_json::json;
use shop::diagnosis::simulate::{FEW, Followed};
use shop::sheet::Drive;

use crate::args::FollowArgs;
use crate::demo;
use crate::failure::Failure;
use crate::print::{print_json, print_text, say, table};
use crate::sheets;
use run::{Job, Shop};

/// Head of a table of simulated jobs.
const HEAD: [&str; 8] = [
    "follow-drive",
    "follow-way",
    "follow-at-once",
    "follow-few",
    "follow-right",
    "follow-checks",
    "follow-looks",
    "follow-minutes",
];

/// Runs the simulation, or all that stand in the documentation.
pub fn simulate(args: &FollowArgs) -> Result<(), Failure> {
    let files = match args.sheets.as_slice() {
        [] => demo::sheet_files(),
        paths => sheets::files(paths)?,
    };
    let shop = Shop::of(sheets::read_all(&files)?, &files)?;
    if args.page {
        print_text(&page::markdown(&shop, args.jobs, args.seed)?);
        return Ok(());
    }
    let rows: Vec<(Drive, Job, Followed)> = shop
        .drives()
        .flat_map(|drive| Job::ALL.map(|job| (drive, job)))
        .map(|(drive, job)| (drive, job, shop.follow(drive, job, args.jobs, args.seed)))
        .collect();
    if args.json {
        let rows = rows.iter().map(|(drive, job, f)| {
            let (low, high) = interval(f.right, f.jobs)?;
            let (low_few, high_few) = interval(f.right_after_few, f.jobs)?;
            Ok(json!({
                "drive": drive.key(),
                "asked_and_tested": *job != Job::Reported,
                "pulls_recorded": matches!(job, Job::Recorded | Job::InOneGo),
                "looked_at_in_one_go": *job == Job::InOneGo,
                "jobs": f.jobs,
                "right_at_once_share": share(f.right_at_once, f.jobs),
                "right_after_few_share": share(f.right_after_few, f.jobs),
                "right_after_few_share_95_percent": [low_few, high_few],
                "few_checks": FEW,
                "right_share": share(f.right, f.jobs),
                "right_share_95_percent": [low, high],
                "checks_mean": share(f.checks, f.jobs),
                "looks_mean": share(f.looks, f.jobs),
                "minutes_mean": f.minutes / f.jobs as f64,
                "said_to_contradict_share": share(f.contradicted, f.jobs),
            }))
        });
        let rows: Result<Vec<_>, Failure> = rows.collect();
        return print_json(&json!({ "seed": args.seed, "rows": rows? }));
    }
    let cells: Result<Vec<Vec<String>>, Failure> = rows
        .iter()
        .map(|(drive, job, followed)| {
            let mut row = vec![drive.key().to_owned(), say(&job.name())];
            row.extend(numbers(followed)?);
            Ok(row)
        })
        .collect();
    table(&HEAD, cells?.into_iter());
    Ok(())
}

/// Right at once, after few checks and at the end with their intervals, checks, looks, minutes.
fn numbers(f: &Followed) -> Result<[String; 6], Failure> {
    let percent = |share: f64| format!("{:.1}", 100.0 * share);
    let with_interval = |count: usize| -> Result<String, Failure> {
        let (low, high) = interval(count, f.jobs)?;
        let text = Message::new("follow-share")
            .with("share", percent(share(count, f.jobs)))
            .with("low", percent(low))
            .with("high", percent(high));
        Ok(say(&text))
    };
    Ok([
        format!("{} %", percent(share(f.right_at_once, f.jobs))),
        with_interval(f.right_after_few)?,
        with_interval(f.right)?,
        format!("{:.1}", share(f.checks, f.jobs)),
        format!("{:.1}", share(f.looks, f.jobs)),
        format!("{:.0}", f.minutes / f.jobs as f64),
    ])
}

fn share(count: usize, of: usize) -> f64 {
    count as f64 / of.max(1) as f64
}

/// The 95 % interval of a share (Wilson's).
fn interval(count: usize, of: usize) -> Result<(f64, f64), Failure> {
    let found = calc::proportion::intervals(count as u64, of as u64, 0.95);
    let found = found.map_err(|error| Failure::refused(say(&error.message())))?;
    Ok(found.wilson)
}
