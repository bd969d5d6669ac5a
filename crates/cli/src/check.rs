//! `verify` and `rebuild`.

use calc::Message;
use serde_json::json;
use store::Store;

use crate::args::StoreArg;
use crate::data_folder::store_file;
use crate::failure::Failure;
use crate::print::{answer, print_json, print_line, say, tell};
use crate::progress::Progress;

/// Checks the record; refuses with every difference.
pub async fn verify(json: bool, arg: StoreArg) -> Result<(), Failure> {
    let file = store_file(arg.store)?;
    let store = Store::open_to_read(&file).await?;
    let progress = Progress::of("progress-verify");
    let report = store.verify().await;
    drop(progress);
    let report = report?;
    if json {
        let differences = report.differences.iter().map(|d| say(&d.message()));
        print_json(&json!({
            "entries": report.entries, "rows": report.rows, "files": report.files,
            "head": { "seq": report.head.seq, "hash": report.head.hash },
            "orphans": report.orphans, "differences": differences.collect::<Vec<_>>(),
        }))?;
    } else if !report.orphans.is_empty() {
        let orphans = Message::new("verify-orphans").with("count", report.orphans.len());
        tell(&orphans);
        for orphan in &report.orphans {
            print_line(&format!("  {orphan}"));
        }
    }
    for difference in report.differences.iter().filter(|_| !json) {
        tell(&difference.message());
    }
    if !report.is_clean() {
        let differ = Message::new("prompt-differences").with("count", report.differences.len());
        return Err(Failure::refused(say(&differ)));
    }
    if json {
        return Ok(());
    }
    let verified = Message::new("prompt-verified")
        .with("entries", report.entries.to_string())
        .with("rows", report.rows.to_string())
        .with("files", report.files.to_string())
        .with("seq", report.head.seq.to_string())
        .with("hash", report.head.hash);
    tell(&verified);
    Ok(())
}

/// Makes the read tables anew.
pub async fn rebuild(json: bool, arg: StoreArg) -> Result<(), Failure> {
    let store = Store::open(&store_file(arg.store)?).await?;
    let progress = Progress::of("progress-rebuild");
    let report = store.rebuild().await;
    drop(progress);
    store.close().await;
    let report = report?;
    let rebuilt = Message::new("prompt-rebuilt")
        .with("jobs", report.jobs)
        .with("tools", report.tools);
    let value = json!({ "jobs": report.jobs, "tools": report.tools });
    answer(json, &rebuilt, &value)
}
