//! The tables of the documentation that say what the fault-finder is worth.

use std::fmt::Write as _;

use calc::Message;
use calc::error::CalcError;
use calc::fault_finder::measure::{Sizes, Way, approximation, plans};
use calc::fault_finder::{Effort, Faults};
use shop::diagnosis::simulate::Followed;

use super::numbers;
use super::run::{Job, Shop};
use crate::draws::uniforms;
use crate::failure::Failure;
use crate::print::say;

/// Sizes of the random models that have an exact plan: causes and checks, and how many.
const PLANS: [(usize, usize); 3] = [(4, 300), (5, 200), (6, 40)];
/// Sums of the priors of the models that every set of causes is weighed for.
const EXPECTED: [f64; 2] = [0.3, 1.2];
/// Shops that learn, and how far their rates lie from the sheet's.
const SHOPS: (u32, f64) = (24, 5.0);
/// Jobs of a lot: the jobs of a drive, divided by these; each lot doubles what was closed before.
const LOTS: [usize; 4] = [16, 16, 8, 4];
/// Jobs that each shop is measured by, in the same way.
const MEASURED: usize = 10;

/// The whole page.
pub fn markdown(shop: &Shop, jobs: u32, seed: u64) -> Result<String, Failure> {
    let made = Message::new("follow-page-made")
        .with("jobs", jobs.to_string())
        .with("seed", seed.to_string());
    let title = text("follow-page-title");
    let mut page = format!("# {title}\n\n{}\n", say(&made));
    plan_table(&mut page, seed)?;
    set_table(&mut page, seed)?;
    job_table(&mut page, shop, jobs, seed)?;
    learn_table(&mut page, shop, jobs, seed)?;
    Ok(page)
}

fn text(id: &'static str) -> String {
    say(&Message::new(id))
}

/// A section: its heading, what it says, and the head of its table.
fn section(page: &mut String, title: &'static str, about: &'static str, head: &[&'static str]) {
    let names: Vec<String> = head.iter().map(|id| text(id)).collect();
    write!(page, "\n## {}\n\n{}\n\n", text(title), text(about)).ok();
    writeln!(page, "| {} |", names.join(" | ")).ok();
    writeln!(page, "|{}", "---|".repeat(names.len())).ok();
}

fn row(page: &mut String, cells: &[String]) {
    writeln!(page, "| {} |", cells.join(" | ")).ok();
}

fn plan_table(page: &mut String, seed: u64) -> Result<(), Failure> {
    section(
        page,
        "follow-page-plans",
        "follow-page-plans-about",
        &[
            "follow-page-size",
            "follow-page-ahead",
            "follow-page-one-step",
            "follow-page-repairs",
            "follow-page-bits",
        ],
    );
    for (stream, (size, cases)) in (0..).zip(PLANS) {
        let sizes = Sizes {
            cases,
            causes: size,
            questions: size,
        };
        let rows = plans(sizes, Effort::default(), uniforms(seed, stream)).map_err(refused)?;
        let of = |way: Way| {
            let found = rows.iter().find(|row| row.way == way);
            found.map_or(String::new(), |row| {
                let (mean, most) = (100.0 * row.mean_excess, 100.0 * row.largest_excess);
                format!("{mean:.3} %, {most:.1} %")
            })
        };
        let size = Message::new("follow-page-models")
            .with("size", size)
            .with("cases", cases);
        let mut cells = vec![say(&size)];
        cells.extend(
            [
                Way::LookAhead,
                Way::OneStep,
                Way::RepairsAlone,
                Way::BitsPerCost,
            ]
            .map(of),
        );
        row(page, &cells);
    }
    Ok(())
}

fn set_table(page: &mut String, seed: u64) -> Result<(), Failure> {
    section(
        page,
        "follow-page-sets",
        "follow-page-sets-about",
        &[
            "follow-page-expected",
            "follow-page-one",
            "follow-page-two",
            "follow-page-three",
        ],
    );
    for (stream, expected) in (100..).zip(EXPECTED) {
        let sizes = Sizes {
            cases: 200,
            causes: 12,
            questions: 10,
        };
        let rows = approximation(sizes, expected, uniforms(seed, stream)).map_err(refused)?;
        let of = |faults: Faults| {
            let found = rows.iter().find(|row| row.faults == faults);
            found.map_or(String::new(), |row| {
                format!("{:.5}, {:.3}", row.mean_error, row.largest_error)
            })
        };
        let mut cells = vec![format!("{expected}")];
        cells.extend([Faults::One, Faults::Two, Faults::Three].map(of));
        row(page, &cells);
    }
    Ok(())
}

fn job_table(page: &mut String, shop: &Shop, jobs: u32, seed: u64) -> Result<(), Failure> {
    section(
        page,
        "follow-page-jobs",
        "follow-page-jobs-about",
        &super::HEAD,
    );
    for drive in shop.drives() {
        for job in Job::ALL {
            let mut cells = vec![drive.key().to_owned(), say(&job.name())];
            cells.extend(numbers(&shop.follow(drive, job, jobs, seed))?);
            row(page, &cells);
        }
    }
    Ok(())
}

fn learn_table(page: &mut String, shop: &Shop, jobs: u32, seed: u64) -> Result<(), Failure> {
    section(
        page,
        "follow-page-learn",
        "follow-page-learn-about",
        &[
            "follow-drive",
            "follow-page-closed",
            "follow-at-once",
            "follow-page-mended",
            "follow-page-checks-right",
            "follow-page-fewer",
            "follow-minutes",
            "follow-page-wrong",
        ],
    );
    let jobs = jobs as usize;
    let lots = LOTS.map(|share| jobs.div_ceil(share));
    for drive in shop.drives() {
        let shops = shop.learn(drive, SHOPS, (&lots, jobs.div_ceil(MEASURED)), seed);
        let mut closed = 0;
        for stage in 0..=lots.len() {
            let of_shops = || shops.iter().map(|stages| stages[stage]);
            let all = of_shops().fold(Followed::default(), Followed::and);
            let mean = |sum: f64| sum / all.jobs.max(1) as f64;
            let fewer = match stage {
                0 => String::new(),
                _ => fewer(&shops, stage)?,
            };
            let cells = [
                drive.key().to_owned(),
                closed.to_string(),
                format!("{:.1} %", 100.0 * mean(all.right_at_once as f64)),
                format!("{:.1} %", 100.0 * mean(all.mended as f64)),
                format!("{:.2}", mean(all.checks as f64)),
                fewer,
                format!("{:.1}", mean(all.minutes)),
                format!("{:.2}", mean(all.wrong_mendings as f64)),
            ];
            row(page, &cells);
            closed += lots.get(stage).copied().unwrap_or(0);
        }
    }
    Ok(())
}

/// How many checks fewer a job takes at `stage` than with the sheet alone, and the 95 % interval of that from the
/// spread between the shops (Student's t).
fn fewer(shops: &[Vec<Followed>], stage: usize) -> Result<String, Failure> {
    let mean = |f: &Followed| f.checks as f64 / f.jobs.max(1) as f64;
    let of_shop = |stages: &Vec<Followed>| mean(&stages[0]) - mean(&stages[stage]);
    let found: Vec<f64> = shops.iter().map(of_shop).collect();
    let moments = calc::moments::moments("checks", &found).map_err(refused)?;
    let factor = calc::student::coverage_factor(0.95, found.len() as f64 - 1.0).map_err(refused)?;
    let half = factor * moments.deviation() / (found.len() as f64).sqrt();
    let text = Message::new("follow-page-fewer-of")
        .number("mean", moments.mean, 2)
        .number("low", moments.mean - half, 2)
        .number("high", moments.mean + half, 2);
    Ok(say(&text))
}

fn refused(error: CalcError) -> Failure {
    Failure::refused(say(&error.message()))
}
