//! What can be typed about the reports of crews.

use clap::{Args as ClapArgs, Subcommand};

use super::{PrintArg, StoreArg};

#[derive(ClapArgs)]
pub struct InboxArgs {
    #[command(subcommand)]
    pub command: InboxCommand,
}

#[derive(Subcommand)]
pub enum InboxCommand {
    /// List what waits, or everything that came with one tool.
    #[command(
        before_help = "Examples:\n  setwright inbox list\n  setwright inbox list 7K-0412 --json"
    )]
    List {
        /// Serial of a tool.
        serial: Option<String>,
        #[command(flatten)]
        print: PrintArg,
        #[command(flatten)]
        store: StoreArg,
    },
    /// Send a crew's joints, as its page does.
    #[command(
        before_help = "Examples:\n  setwright inbox send 7K-0412 fastener=marlstead-m8 code=06 turns=6.75 value-reach=1.1 value-reach=1.0 \\\n    value-reach=1.2 name=\"Crew 7\" good=yes\n  setwright inbox send 7K-0412 fastener=marlstead-m8 code=06 turns=7 value-collar-diameter=13.0 \\\n    name=\"Crew 7\" good=yes\n  setwright inbox send 7K-0412 fastener=marlstead-m8 code=06 turns=6.75 good=no seen=lock-grooves \\\n    name=\"Crew 7\" note=\"third joint of the row\""
    )]
    Send {
        /// Serial of the tool.
        serial: String,
        /// name=value as on the page, or @FILE (@- for standard input) with JSON.
        #[arg(value_name = "FIELD")]
        fields: Vec<String>,
        #[command(flatten)]
        print: PrintArg,
        #[command(flatten)]
        store: StoreArg,
    },
    /// Accept what a crew sent: good joints count as evidence, bad ones are noted.
    #[command(before_help = "Example: setwright inbox accept 7K-0412 1 --who Ansa")]
    Accept {
        /// Serial of the tool.
        serial: String,
        /// Number in the inbox of the tool, as listed.
        entry: u32,
        /// Remark.
        #[arg(long, default_value = "")]
        note: String,
        /// Who accepts.
        #[arg(long)]
        who: String,
        #[command(flatten)]
        print: PrintArg,
        #[command(flatten)]
        store: StoreArg,
    },
    /// Decline what a crew sent, also after it was accepted: it counts for nothing.
    #[command(
        before_help = "Example: setwright inbox decline 7K-0412 2 --reason \"another tool\" --who Ansa"
    )]
    Decline {
        /// Serial of the tool.
        serial: String,
        /// Number in the inbox of the tool, as listed.
        entry: u32,
        /// Why.
        #[arg(long)]
        reason: String,
        /// Who declines.
        #[arg(long)]
        who: String,
        #[command(flatten)]
        print: PrintArg,
        #[command(flatten)]
        store: StoreArg,
    },
    /// Make the links on a tool's cards void; a card printed afterwards has a new one.
    #[command(
        before_help = "Example: setwright inbox renew-links 7K-0412 --reason \"card lost\" --who Ansa"
    )]
    RenewLinks {
        /// Serial of the tool.
        serial: String,
        /// Why.
        #[arg(long)]
        reason: String,
        /// Who renews them.
        #[arg(long)]
        who: String,
        #[command(flatten)]
        print: PrintArg,
        #[command(flatten)]
        store: StoreArg,
    },
}
