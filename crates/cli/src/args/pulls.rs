//! What can be typed about recorded pulls.

use std::path::PathBuf;

use clap::{Args as ClapArgs, Subcommand, ValueEnum};

#[derive(ClapArgs)]
pub struct PullsArgs {
    #[command(subcommand)]
    pub command: PullsCommand,
}

#[derive(Subcommand)]
pub enum PullsCommand {
    /// Read a logger's file: what is wrong with it by line, the pulls in it, their phases and numbers.
    /// It needs no store.
    #[command(
        before_help = "Examples:\n  setwright pulls read d6.csv --rig my-sheets/rigs/bench-1.toml\n  setwright pulls read stall.csv --rig my-sheets/rigs/bench-1.toml --pulled stall --json"
    )]
    Read(ReadArgs),
}

#[derive(ClapArgs)]
pub struct ReadArgs {
    /// The logger's file; - reads standard input.
    pub file: PathBuf,
    /// Sheet of the rig that wrote it; without one the file's headings must name columns and units.
    #[arg(long)]
    pub rig: Option<PathBuf>,
    /// What was pulled: its phases follow from it.
    #[arg(long, value_enum, default_value_t = Pulled::BreakLockbolt)]
    pub pulled: Pulled,
    /// Print JSON.
    #[arg(long)]
    pub json: bool,
}

/// What was pulled.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Pulled {
    /// A lockbolt whose tail breaks off.
    BreakLockbolt,
    /// A lockbolt set by stroke or force.
    StopLockbolt,
    /// A blind rivet or blind bolt.
    BlindRivet,
    /// A rivet nut.
    RivetNut,
    /// Nothing: to stall against a load cell.
    Stall,
}
