//! `verify` and `rebuild`.

use calc::Message;
use store::Store;
use words::Words;

use crate::args::StoreArg;
use crate::data_folder::store_file;
use crate::failure::Failure;

/// Checks the record; refuses with every difference.
pub async fn verify(arg: StoreArg) -> Result<(), Failure> {
    let file = store_file(arg.store)?;
    let store = Store::open_to_read(&file).await?;
    let report = store.verify().await?;
    if !report.orphans.is_empty() {
        let orphans = Message::new("verify-orphans").with("count", report.orphans.len());
        println!("{}", Words::english().say(&orphans));
        for orphan in &report.orphans {
            println!("  {orphan}");
        }
    }
    for difference in &report.differences {
        println!("{}", Words::english().say(&difference.message()));
    }
    if !report.is_clean() {
        return Err(Failure::refused(format!(
            "{} differences. The entries themselves are the truth: `setwright rebuild` makes the rest anew.",
            report.differences.len()
        )));
    }
    println!(
        "{} entries, {} rows, {} files, chain whole up to entry {}: {}",
        report.entries, report.rows, report.files, report.head.seq, report.head.hash
    );
    Ok(())
}

/// Makes the read tables anew.
pub async fn rebuild(arg: StoreArg) -> Result<(), Failure> {
    let store = Store::open(&store_file(arg.store)?).await?;
    let report = store.rebuild().await?;
    println!("{} jobs and {} tools made anew", report.jobs, report.tools);
    store.close().await;
    Ok(())
}
