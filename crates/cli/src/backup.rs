//! `backup` and `restore`.

use std::path::Path;

use calc::Message;
use jiff::Timestamp;
use serde_json::json;
use store::{BackupError, Difference, Manifest};

use crate::args::StoreArg;
use crate::data_folder::store_file;
use crate::failure::Failure;
use crate::print::{print_json, print_line, say, tell};
use crate::progress::Progress;

/// Backs the record up to a new folder.
pub async fn backup(into: &Path, json: bool, store: StoreArg) -> Result<(), Failure> {
    let record = store_file(store.store)?;
    let progress = Progress::new();
    let made = store::backup(&record, into, Timestamp::now(), &mut |step| {
        progress.step(step)
    })
    .await;
    drop(progress);
    let made = made.map_err(failure)?;
    if json {
        print_json(&json!({
            "backup": made.path.display().to_string(),
            "manifest": made.manifest,
            "faults": said(&made.faults),
        }))?;
    } else {
        let path = made.path.display().to_string();
        tell(&counted("backup-made", &made.manifest).with("path", path));
    }
    faults(&made.faults, "backup-faults", json)
}

/// Restores a backup to a record.
pub async fn restore(
    backup: &Path,
    keep_old: bool,
    json: bool,
    store: StoreArg,
) -> Result<(), Failure> {
    let record = store_file(store.store)?;
    let progress = Progress::new();
    let now = Timestamp::now();
    let show = &mut |step| progress.step(step);
    let restored = store::restore(backup, &record, keep_old, now, show).await;
    drop(progress);
    let restored = restored.map_err(failure)?;
    let path = record.display().to_string();
    let kept = restored.kept.map(|kept| kept.display().to_string());
    if json {
        print_json(&json!({
            "record": path,
            "kept": kept,
            "finished_earlier": restored.was_finished,
            "manifest": restored.manifest,
            "faults": said(&restored.faults),
        }))?;
    } else {
        if restored.was_finished {
            tell(&Message::new("restore-was-finished"));
        }
        tell(&counted("restore-done", &restored.manifest).with("path", path));
        if let Some(kept) = kept {
            tell(&Message::new("restore-kept").with("path", kept));
        }
    }
    faults(&restored.faults, "restore-faults", json)
}

/// What is in a backup, for a line.
fn counted(id: &'static str, manifest: &Manifest) -> Message {
    let last = manifest.heads.iter().find(|h| h.origin == manifest.origin);
    Message::new(id)
        .with("entries", manifest.entries)
        .with("seq", last.map_or(0, |h| h.seq))
        .with("files", manifest.files.len().saturating_sub(1))
        .with("made", format!("{:.0}", manifest.made))
}

/// Tells what is wrong with the record itself, if anything is.
fn faults(faults: &[Difference], id: &'static str, json: bool) -> Result<(), Failure> {
    if faults.is_empty() {
        return Ok(());
    }
    if !json {
        for fault in said(faults) {
            print_line(&fault);
        }
    }
    Err(Failure::refused(say(&Message::new(id))))
}

fn said(faults: &[Difference]) -> Vec<String> {
    faults.iter().map(|fault| say(&fault.message())).collect()
}

fn failure(error: BackupError) -> Failure {
    let text = say(&error.message());
    if error.is_refusal() {
        Failure::refused(text)
    } else {
        Failure::storage(text)
    }
}
