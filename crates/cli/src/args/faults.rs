//! What can be typed about the fault-finder.

use std::path::PathBuf;

use clap::{Args as ClapArgs, Subcommand};

#[derive(ClapArgs)]
pub struct FaultsArgs {
    #[command(subcommand)]
    pub command: FaultsCommand,
}

#[derive(Subcommand)]
pub enum FaultsCommand {
    /// Work simulated jobs with known causes by the advice of the job page, and count what comes of them.
    #[command(
        before_help = "Examples:\n  setwright faults simulate --jobs 4\n  setwright faults simulate --jobs 2 --json"
    )]
    Simulate(FollowArgs),
}

#[derive(ClapArgs)]
pub struct FollowArgs {
    /// Files or folders with a fault model, tool models and a shop card; without any, the demo's.
    pub sheets: Vec<PathBuf>,
    /// Jobs on each drive.
    #[arg(long, default_value_t = 2000, value_parser = clap::value_parser!(u32).range(1..=1_000_000))]
    pub jobs: u32,
    /// The same seed gives the same numbers.
    #[arg(long, default_value_t = 1)]
    pub seed: u64,
    /// Print the tables of the documentation: plans, probabilities, jobs, and a shop that learns.
    #[arg(long, conflicts_with = "json")]
    pub page: bool,
    /// Print JSON.
    #[arg(long)]
    pub json: bool,
}
