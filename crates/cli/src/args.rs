//! What can be typed at the prompt.

use std::path::PathBuf;

use clap::{Args as ClapArgs, Parser, Subcommand};

/// The bench record for hand-held fastener-setting tools: receive, diagnose, rebuild, set, prove.
#[derive(Parser)]
#[command(name = "setwright", version, after_help = EXIT_CODES, arg_required_else_help = true)]
pub struct Args {
    #[command(subcommand)]
    pub command: Command,
}

const EXIT_CODES: &str = "Exit codes: 0 done, 1 refused, 2 usage, 3 storage.";

#[derive(Subcommand)]
pub enum Command {
    /// Open the demo shop in a throw-away store.
    #[command(before_help = "Example: setwright demo")]
    Demo(DemoArgs),
    /// Open the shop's own store to the browser.
    #[command(before_help = "Example: setwright serve --bench \"bench 2\"")]
    Serve(ServeArgs),
    /// Check, load and withdraw sheets.
    Sheets(SheetsArgs),
    /// Check the chain of the record and compare what is shown with what was written.
    #[command(before_help = "Example: setwright verify")]
    Verify {
        #[command(flatten)]
        store: StoreArg,
    },
    /// Make everything that is shown anew from what was written.
    #[command(before_help = "Example: setwright rebuild")]
    Rebuild {
        #[command(flatten)]
        store: StoreArg,
    },
}

#[derive(ClapArgs)]
pub struct DemoArgs {
    /// Port on this machine; 0 for any that is free.
    #[arg(long, default_value_t = 0)]
    pub port: u16,
    /// Keep the demo store in this file instead of throwing it away.
    #[arg(long, value_name = "FILE")]
    pub keep: Option<PathBuf>,
}

#[derive(ClapArgs)]
pub struct ServeArgs {
    #[command(flatten)]
    pub store: StoreArg,
    /// Port on this machine.
    #[arg(long, default_value_t = 4517)]
    pub port: u16,
    /// What this bench is called.
    #[arg(long, default_value = "")]
    pub bench: String,
    /// Open to the shop's network under this name or address (may be given again). Needs a
    /// passphrase.
    #[arg(long, value_name = "HOST", requires = "passphrase_file")]
    pub lan: Vec<String>,
    /// File whose first line is the shop passphrase (- for standard input).
    #[arg(long, value_name = "FILE")]
    pub passphrase_file: Option<PathBuf>,
}

#[derive(ClapArgs)]
pub struct StoreArg {
    /// Store file; by default one in your data folder.
    #[arg(long, value_name = "FILE", env = "SETWRIGHT_STORE")]
    pub store: Option<PathBuf>,
}

#[derive(ClapArgs)]
pub struct SheetsArgs {
    #[command(subcommand)]
    pub command: SheetsCommand,
}

#[derive(Subcommand)]
pub enum SheetsCommand {
    /// Report every mistake in sheet files or folders, with file and line.
    #[command(before_help = "Example: setwright sheets check sheets/demo")]
    Check {
        /// Files or folders.
        #[arg(required = true)]
        paths: Vec<PathBuf>,
    },
    /// Load sheets into the store: changed ones become new revisions.
    #[command(before_help = "Example: setwright sheets load my-sheets --by Ansa")]
    Load {
        /// Files or folders.
        #[arg(required = true)]
        paths: Vec<PathBuf>,
        /// Who loads them.
        #[arg(long)]
        by: String,
        #[command(flatten)]
        store: StoreArg,
    },
    /// Take a sheet out of force; jobs that were worked to it keep it.
    #[command(before_help = "Example: setwright sheets withdraw gauge c-5 --by Ansa")]
    Withdraw {
        /// Kind, as in the first line of the sheet.
        kind: String,
        /// Id.
        id: String,
        /// Who withdraws it.
        #[arg(long)]
        by: String,
        #[command(flatten)]
        store: StoreArg,
    },
}
