//! A thousand set-up cards in one file: `cargo bench -p paper`.
//!
//! Prints the seconds and fails beyond the budget. `cargo bench -p paper -- 100` sets a hundred.

use std::process::ExitCode;
use std::time::Instant;

use paper::model::SetupCard;
use words::Words;

#[path = "../tests/documents/sample.rs"]
#[allow(dead_code, missing_docs)]
mod sample;

/// Cards in one file, and the seconds that they may take on two cores.
const CARDS: usize = 1000;
const BUDGET_S: f64 = 20.0;

/// Cards that differ in job, serial and joints, as those of a fleet do.
fn cards(count: usize) -> Vec<SetupCard> {
    (0..count)
        .map(|at| {
            let mut card = sample::card();
            card.job = (1000 + at).to_string();
            card.tool.serial = format!("7K-{at:04}");
            card.joint = Some(sample::joint_sketch());
            card
        })
        .collect()
}

fn main() -> ExitCode {
    let count = std::env::args().find_map(|arg| arg.parse().ok());
    let count = count.unwrap_or(CARDS);
    let cards = cards(count);
    let begin = Instant::now();
    let pdf = paper::setup_cards(&cards, Words::english()).expect("the cards set");
    let seconds = begin.elapsed().as_secs_f64();
    let megabytes = pdf.len() as f64 / 1e6;
    println!("{count} set-up cards, two sides each: {seconds:.2} s, {megabytes:.1} MB");
    if seconds > BUDGET_S {
        println!("over the budget of {BUDGET_S} s");
        return ExitCode::FAILURE;
    }
    ExitCode::SUCCESS
}
