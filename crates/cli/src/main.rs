//! `setwright`: the program. It wires the parts together; what they do stands in their crates.

mod args;
mod backup;
mod calc;
mod check;
mod data_folder;
mod demo;
mod draws;
mod failure;
mod faults;
mod files;
mod inbox;
mod job;
mod lists;
mod nose_match;
mod print;
mod progress;
mod pulls;
mod serve;
mod setup;
mod sheets;
mod validate;

use std::process::ExitCode;

use clap::Parser;

use args::{Args, Command, FaultsCommand, PullsCommand, SetupCommand, SheetsCommand};
use failure::Failure;
use print::in_json;

fn main() -> ExitCode {
    let args = Args::parse();
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .enable_all()
        .build();
    let done = match runtime {
        Ok(runtime) => runtime.block_on(run(args.command)),
        Err(error) => Err(Failure::storage(error)),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            eprintln!("{failure}");
            failure.exit_code()
        }
    }
}

async fn run(command: Command) -> Result<(), Failure> {
    match command {
        Command::Demo(demo) => demo::run(demo).await,
        Command::Serve(serve) => serve::run(serve).await,
        Command::Job(args) => job::run(args.command).await,
        Command::Tools { text, print, store } => lists::tools(text, print.json, store).await,
        Command::Gauges {
            failed,
            print,
            store,
        } => match failed.as_deref() {
            Some([gauge, file]) => lists::gauge_failure(gauge, file.as_ref(), store).await,
            _ => lists::gauges(print.json, store).await,
        },
        Command::Match(args) => nose_match::run(args).await,
        Command::Find { text, print, store } => lists::find(&text, print.json, store).await,
        Command::Erase { name, print, store } => lists::erase(&name, print.json, store).await,
        Command::Sheets(sheets) => match sheets.command {
            SheetsCommand::Check { paths, print } => {
                in_json(print.json, sheets::check(&paths, print.json))
            }
            SheetsCommand::Load {
                paths,
                by,
                print,
                store,
            } => in_json(
                print.json,
                sheets::load(&paths, &by, print.json, store).await,
            ),
            SheetsCommand::List { print, store } => lists::sheets(print.json, store).await,
            SheetsCommand::Show {
                kind,
                id,
                revision,
                store,
            } => lists::sheet(&kind, &id, revision, store).await,
            SheetsCommand::Withdraw {
                kind,
                id,
                by,
                print,
                store,
            } => sheets::withdraw(&kind, &id, &by, print.json, store).await,
        },
        Command::Inbox(args) => inbox::run(args.command).await,
        Command::Pulls(args) => match args.command {
            PullsCommand::Read(args) => pulls::read(&args),
        },
        Command::Files(args) => files::run(args.command).await,
        Command::Backup {
            folder,
            print,
            store,
        } => backup::backup(&folder, print.json, store).await,
        Command::Restore {
            backup,
            keep_old,
            print,
            store,
        } => backup::restore(&backup, keep_old, print.json, store).await,
        Command::Verify { print, store } => check::verify(print.json, store).await,
        Command::Calc(args) => calc::run(args),
        Command::Validate(args) => validate::run(&args),
        Command::Faults(args) => match args.command {
            FaultsCommand::Simulate(args) => in_json(args.json, faults::simulate(&args)),
        },
        Command::Setup(args) => match args.command {
            SetupCommand::Simulate(args) => in_json(args.json, setup::simulate(&args)),
        },
        Command::Rebuild { print, store } => check::rebuild(print.json, store).await,
    }
}
