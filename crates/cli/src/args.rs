//! What can be typed at the prompt.

mod faults;
mod inbox;
mod pulls;

use std::path::PathBuf;

use clap::{Args as ClapArgs, Parser, Subcommand};

pub use faults::{FaultsArgs, FaultsCommand, FollowArgs};
pub use inbox::{InboxArgs, InboxCommand};
pub use pulls::{Pulled, PullsArgs, PullsCommand, ReadArgs};

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
    #[command(
        before_help = "Examples:\n  setwright serve --bench \"bench 2\"\n  setwright serve --recordings logger"
    )]
    Serve(ServeArgs),
    /// Jobs: list, show, send the forms of the job page, print papers.
    Job(JobArgs),
    /// List the tools that were here.
    #[command(before_help = "Example: setwright tools 7K-04")]
    Tools {
        /// Part of a serial, model or owner.
        text: Option<String>,
        #[command(flatten)]
        print: PrintArg,
        #[command(flatten)]
        store: StoreArg,
    },
    /// List the gauges, and whether they are in date; or print what one touched that failed.
    #[command(before_help = "Example: setwright gauges")]
    Gauges {
        /// Print instead every job and reading that this gauge touched when it last failed: its id, and the PDF.
        #[arg(long, num_args = 2, value_names = ["GAUGE", "FILE"], conflicts_with = "json")]
        failed: Option<Vec<String>>,
        #[command(flatten)]
        print: PrintArg,
        #[command(flatten)]
        store: StoreArg,
    },
    /// Nose match: what a tool can set, which nose set fits a fastener and why, what looks the same,
    /// what must be bought.
    #[command(
        before_help = "Examples:\n  setwright match tulvane-tb-32\n  setwright match tulvane-tb-32 --fastener marlstead-m8\n  setwright match tulvane-tb-32 --fastener drumhale-d6 --held n8 --json"
    )]
    Match(MatchArgs),
    /// Find a job or a tool, as the find box does.
    #[command(before_help = "Example: setwright find 7K-0412")]
    Find {
        /// Serial, job number, or part of a customer's name.
        text: String,
        #[command(flatten)]
        print: PrintArg,
        #[command(flatten)]
        store: StoreArg,
    },
    /// Erase a person's name; the record stays whole.
    #[command(before_help = "Example: setwright erase \"Fennholt, tool store\"")]
    Erase {
        /// The name, as it stands in the record.
        name: String,
        #[command(flatten)]
        print: PrintArg,
        #[command(flatten)]
        store: StoreArg,
    },
    /// What crews sent from the work place: list, accept, decline, renew the links on cards.
    Inbox(InboxArgs),
    /// Check, load, list and withdraw sheets.
    Sheets(SheetsArgs),
    /// Photos and files of a job: list, add, get.
    Files(FilesArgs),
    /// Pulls recorded on the bench: read a logger's file.
    Pulls(PullsArgs),
    /// Copy the store with its photos and files to a new folder, also while it is in use, and compare
    /// the copy.
    #[command(before_help = "Example: setwright backup backups/2026-11-25")]
    Backup {
        /// Folder that is not there yet.
        folder: PathBuf,
        #[command(flatten)]
        print: PrintArg,
        #[command(flatten)]
        store: StoreArg,
    },
    /// Make a store from a backup. A store that is there is never overwritten.
    #[command(
        before_help = "Example: setwright restore backups/2026-11-25 --store shop.setwright --keep-old"
    )]
    Restore {
        /// Folder of the backup.
        backup: PathBuf,
        /// Put the store that is there aside, whole, under another name.
        #[arg(long)]
        keep_old: bool,
        #[command(flatten)]
        print: PrintArg,
        #[command(flatten)]
        store: StoreArg,
    },
    /// Check the chain of the record, compare what is shown with what was written, and look at every
    /// photo and file.
    #[command(before_help = "Example: setwright verify")]
    Verify {
        #[command(flatten)]
        print: PrintArg,
        #[command(flatten)]
        store: StoreArg,
    },
    /// Reckon: list the methods, show one, or run one.
    #[command(
        before_help = "Examples:\n  setwright calc list\n  setwright calc torque-adapter\n  setwright calc torque-adapter --json '{\"torque_Nm\": 40, \"wrench_mm\": 320, \"adapter_mm\": 55}'"
    )]
    Calc(CalcArgs),
    /// Hold the methods against values from outside; exit code 1 if one fails.
    #[command(
        before_help = "Examples:\n  setwright validate\n  setwright validate --pdf validation.pdf\n  setwright validate my-checks.toml --json"
    )]
    Validate(ValidateArgs),
    /// The fault-finder: what its advice is worth.
    Faults(FaultsArgs),
    /// The trial loop of the set-up: what it is worth.
    Setup(SetupArgs),
    /// Make everything that is shown anew from what was written.
    #[command(before_help = "Example: setwright rebuild")]
    Rebuild {
        #[command(flatten)]
        print: PrintArg,
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
    #[command(flatten)]
    pub cards: CardsArg,
}

#[derive(ClapArgs)]
pub struct CardsArg {
    /// Address under which crews reach this server, like http://bench-2:4517. With it, the code on a
    /// set-up card opens the page for its tool at the work place.
    #[arg(long, value_name = "URL", env = "SETWRIGHT_ADDRESS_ON_CARDS")]
    pub address_on_cards: Option<String>,
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
    /// Folder that a logger writes its recordings into. What is whole there waits on the job page to be
    /// brought; nothing in the folder is changed.
    #[arg(long, value_name = "FOLDER")]
    pub recordings: Option<PathBuf>,
    #[command(flatten)]
    pub cards: CardsArg,
}

#[derive(ClapArgs)]
pub struct StoreArg {
    /// Store file; by default one in your data folder.
    #[arg(long, value_name = "FILE", env = "SETWRIGHT_STORE")]
    pub store: Option<PathBuf>,
}

#[derive(ClapArgs)]
pub struct MatchArgs {
    /// Id of the tool model's sheet.
    pub model: String,
    /// Id of the fastener's sheet.
    #[arg(long, value_name = "ID")]
    pub fastener: Option<String>,
    /// Ids of the nose sets that are held; without any, the whole shelf.
    #[arg(long, value_name = "NOSE", num_args = 1..)]
    pub held: Vec<String>,
    #[command(flatten)]
    pub print: PrintArg,
    #[command(flatten)]
    pub store: StoreArg,
}

#[derive(ClapArgs)]
pub struct CalcArgs {
    /// Name of a method, or list.
    pub method: String,
    /// Input as JSON (- for standard input); with list: print JSON.
    #[arg(long, value_name = "INPUT", num_args = 0..=1, default_missing_value = "")]
    pub json: Option<String>,
    /// Print the JSON Schema of what goes in and comes out.
    #[arg(long)]
    pub schema: bool,
}

#[derive(ClapArgs)]
pub struct ValidateArgs {
    /// Check files (- for standard input); without any, those in the program.
    pub files: Vec<PathBuf>,
    /// Print JSON.
    #[arg(long)]
    pub json: bool,
    /// Write a report to this file, too.
    #[arg(long, value_name = "FILE")]
    pub pdf: Option<PathBuf>,
}

#[derive(ClapArgs)]
pub struct SetupArgs {
    #[command(subcommand)]
    pub command: SetupCommand,
}

#[derive(Subcommand)]
pub enum SetupCommand {
    /// Set simulated tools up by the rule of the job page, and count joints and rejects.
    #[command(
        before_help = "Examples:\n  setwright setup simulate --set-ups 2000\n  setwright setup simulate --step-mm 0.125 --by-eye --set-ups 20 --json"
    )]
    Simulate(SimulateArgs),
}

#[derive(ClapArgs)]
pub struct SimulateArgs {
    /// How many tools are set up.
    #[arg(long, default_value_t = 100_000, value_parser = clap::value_parser!(u32).range(1..=100_000_000))]
    pub set_ups: u32,
    /// The same seed gives the same numbers.
    #[arg(long, default_value_t = 1)]
    pub seed: u64,
    /// What one step of the adjuster moves, mm.
    #[arg(long, default_value_t = 0.25)]
    pub step_mm: f64,
    /// Limits either side of the middle, mm.
    #[arg(long, default_value_t = 0.40)]
    pub window_mm: f64,
    /// Standard deviation between tools, mm; the rule expects 0.7.
    #[arg(long, default_value_t = 0.7)]
    pub tools_differ_mm: f64,
    /// Standard deviation between joints, mm; the rule expects 0.10.
    #[arg(long, default_value_t = 0.10)]
    pub spread_mm: f64,
    /// Probability of a good joint at which a setting is signed off.
    #[arg(long, default_value_t = 0.998)]
    pub target: f64,
    /// Joints set between two set-ups: a trial joint costs as much as one reject among so many.
    #[arg(long, default_value_t = 2000.0)]
    pub joints_between: f64,
    /// Joints are looked at and not measured.
    #[arg(long)]
    pub by_eye: bool,
    /// Print the page of the documentation: every table, each row from so many set-ups.
    #[arg(long, conflicts_with = "json")]
    pub page: bool,
    /// Print JSON.
    #[arg(long)]
    pub json: bool,
}

#[derive(ClapArgs)]
pub struct PrintArg {
    /// Print JSON.
    #[arg(long)]
    pub json: bool,
}

#[derive(ClapArgs)]
pub struct JobArgs {
    #[command(subcommand)]
    pub command: JobCommand,
}

#[derive(Subcommand)]
pub enum JobCommand {
    /// List the jobs on the bench.
    #[command(before_help = "Example: setwright job list --all")]
    List {
        /// Only those with this in number, serial, model, complaint or customer.
        text: Option<String>,
        /// Ended ones too.
        #[arg(long)]
        all: bool,
        /// Print JSON.
        #[arg(long)]
        json: bool,
        #[command(flatten)]
        store: StoreArg,
    },
    /// Show a job and its record.
    #[command(before_help = "Example: setwright job show 1001 --json")]
    Show {
        /// Number.
        number: u32,
        /// Print JSON.
        #[arg(long)]
        json: bool,
        #[command(flatten)]
        store: StoreArg,
    },
    /// List the forms that `job do` takes, or the fields of one as a job shows it now.
    #[command(before_help = "Examples:\n  setwright job forms\n  setwright job forms 1012 wait")]
    Forms {
        /// Number of the job.
        #[arg(requires = "form")]
        number: Option<u32>,
        /// Form.
        form: Option<String>,
        #[command(flatten)]
        print: PrintArg,
        #[command(flatten)]
        store: StoreArg,
    },
    /// Take a tool in.
    #[command(
        before_help = "Example: setwright job receive model=tulvane-tb-32 serial=7K-0500 customer=\"Fennholt Glasshouse Frames\" \\\n    complaint=slips made_safe=pack-out made_safe=trigger-pressed new_tool=yes \\\n    kit-1=1 kit-4=1 pack=none --who Ansa"
    )]
    Receive {
        /// name=value as on the page, or @FILE (@- for standard input) with JSON.
        #[arg(value_name = "FIELD")]
        fields: Vec<String>,
        /// Who writes.
        #[arg(long)]
        who: String,
        #[command(flatten)]
        print: PrintArg,
        #[command(flatten)]
        store: StoreArg,
    },
    /// Send a form of the job page.
    #[command(
        before_help = "Example: setwright job do 1012 wait for=parts note=\"pins on order\" --who Ansa"
    )]
    Do {
        /// Number.
        number: u32,
        /// Form; see `setwright job forms`.
        form: String,
        /// name=value as on the page, or @FILE (@- for standard input) with JSON.
        #[arg(value_name = "FIELD")]
        fields: Vec<String>,
        /// Who writes.
        #[arg(long)]
        who: String,
        #[command(flatten)]
        print: PrintArg,
        #[command(flatten)]
        store: StoreArg,
    },
    /// Print many set-up cards into one file: of the jobs named, or the one in force of every tool.
    #[command(
        before_help = "Examples:\n  setwright job cards cards.pdf 1004 1006\n  setwright job cards fennholt.pdf --of Fennholt\n  setwright job cards all.pdf"
    )]
    Cards {
        /// File (- for standard output).
        out: PathBuf,
        /// Numbers of the jobs; without any, the card in force of every tool.
        numbers: Vec<u32>,
        /// Only tools with this in serial, model or owner.
        #[arg(long, value_name = "TEXT", conflicts_with = "numbers")]
        of: Option<String>,
        #[command(flatten)]
        links: CardsArg,
        #[command(flatten)]
        store: StoreArg,
    },
    /// Print a paper: report, set-up-card, care-sheet, label, suspect-notice, quote, warranty-claim,
    /// return-note, certificate.
    #[command(before_help = "Example: setwright job paper 1001 report report.pdf")]
    Paper {
        /// Number.
        number: u32,
        /// Which.
        which: String,
        /// File (- for standard output).
        out: PathBuf,
        #[command(flatten)]
        links: CardsArg,
        #[command(flatten)]
        store: StoreArg,
    },
}

#[derive(ClapArgs)]
pub struct FilesArgs {
    #[command(subcommand)]
    pub command: FilesCommand,
}

#[derive(Subcommand)]
pub enum FilesCommand {
    /// List the photos and files of a job.
    #[command(before_help = "Example: setwright files list 1010")]
    List {
        /// Number of the job.
        job: u32,
        #[command(flatten)]
        print: PrintArg,
        #[command(flatten)]
        store: StoreArg,
    },
    /// Attach a photo or file to a job.
    #[command(
        before_help = "Example: setwright files add 1010 collet.jpg --by Ansa --note \"teeth worn flat\""
    )]
    Add {
        /// Number of the job.
        job: u32,
        /// File (- for standard input, with --name).
        file: PathBuf,
        /// Who attaches it.
        #[arg(long)]
        by: String,
        /// Stage; by default the one that the job is in.
        #[arg(long)]
        stage: Option<String>,
        /// Caption.
        #[arg(long, default_value = "")]
        note: String,
        /// Name, if other than the file's own.
        #[arg(long)]
        name: Option<String>,
        #[command(flatten)]
        print: PrintArg,
        #[command(flatten)]
        store: StoreArg,
    },
    /// Copy a photo or file of a job out of the store.
    #[command(before_help = "Example: setwright files get 1010 3f786850 copy.jpg")]
    Get {
        /// Number of the job.
        job: u32,
        /// Hash, or its beginning.
        hash: String,
        /// File (- for standard output); by default the name that it was attached under.
        out: Option<PathBuf>,
        #[command(flatten)]
        store: StoreArg,
    },
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
        #[command(flatten)]
        print: PrintArg,
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
        print: PrintArg,
        #[command(flatten)]
        store: StoreArg,
    },
    /// List the sheets in force.
    #[command(before_help = "Example: setwright sheets list")]
    List {
        #[command(flatten)]
        print: PrintArg,
        #[command(flatten)]
        store: StoreArg,
    },
    /// Print the text of a sheet.
    #[command(before_help = "Example: setwright sheets show gauge c-3")]
    Show {
        /// Kind.
        kind: String,
        /// Id.
        id: String,
        /// Revision; by default the newest.
        #[arg(long)]
        revision: Option<usize>,
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
        print: PrintArg,
        #[command(flatten)]
        store: StoreArg,
    },
}
