//! Photos and files of a job at the prompt: list, add, get.

use std::fs::File;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use calc::Message;
use serde_json::{Value, json};
use shop::entry::{Body, Entry, FileAttached};
use store::{FileHash, Store};
use web::attachments::{self, NewFile};

use crate::args::{FilesCommand, StoreArg};
use crate::data_folder::store_file;
use crate::failure::Failure;
use crate::job::{app, failure, no_job};
use crate::print::{in_json, print_json, print_line, say, table};

/// Runs `setwright files …`.
pub async fn run(command: FilesCommand) -> Result<(), Failure> {
    match command {
        FilesCommand::List { job, print, store } => list(job, print.json, store).await,
        FilesCommand::Add {
            job,
            file,
            by,
            stage,
            note,
            name,
            print,
            store,
        } => {
            let name = name.unwrap_or_else(|| {
                let last = file.file_name().unwrap_or_default();
                last.to_string_lossy().into_owned()
            });
            let new = NewFile { name, stage, note };
            let added = add(job, &file, &by, new, print.json, store).await;
            in_json(print.json, added)
        }
        FilesCommand::Get {
            job,
            hash,
            out,
            store,
        } => get(job, &hash, out, store).await,
    }
}

/// A file of a job, with what the entry says.
struct Attached {
    entry: Entry,
    file: FileAttached,
    is_struck: bool,
}

async fn attached(store: &Store, job: u32) -> Result<Vec<Attached>, Failure> {
    let row = store.job_by_number(job).await?.ok_or_else(|| no_job(job))?;
    let logged = store.entries(row.job).await?;
    let struck: Vec<u32> = logged
        .iter()
        .filter_map(|l| match &l.entry.body {
            Body::Struck(struck) => Some(struck.version),
            _ => None,
        })
        .collect();
    let files = logged.into_iter().filter_map(|l| match &l.entry.body {
        Body::FileAttached(file) => Some(Attached {
            file: file.clone(),
            is_struck: struck.contains(&l.entry.version),
            entry: l.entry,
        }),
        _ => None,
    });
    Ok(files.collect())
}

async fn list(job: u32, json: bool, store: StoreArg) -> Result<(), Failure> {
    let store = Store::open_to_read(&store_file(store.store)?).await?;
    let files = attached(&store, job).await?;
    let names = store.names().await?;
    let by = |entry: &Entry| names.get(&entry.by).cloned().unwrap_or_default();
    if json {
        let rows: Vec<Value> = files
            .iter()
            .map(|a| {
                json!({
                    "version": a.entry.version, "stage": a.file.stage, "name": a.file.name,
                    "media_type": a.file.media_type, "bytes": a.file.bytes, "note": a.file.note,
                    "sha256": a.file.sha256, "at": a.entry.at.to_string(), "by": by(&a.entry),
                    "struck": a.is_struck,
                })
            })
            .collect();
        return print_json(&Value::from(rows));
    }
    let in_force = files.iter().filter(|a| !a.is_struck);
    let rows = in_force.map(|a| {
        vec![
            a.file.stage.clone(),
            a.file.name.clone(),
            a.file.bytes.to_string(),
            a.file.sha256[..a.file.sha256.len().min(16)].to_owned(),
            by(&a.entry),
            a.file.note.clone(),
        ]
    });
    table(
        &[
            "column-stage",
            "column-name",
            "column-bytes",
            "column-hash",
            "column-by",
            "column-caption",
        ],
        rows,
    );
    Ok(())
}

async fn add(
    job: u32,
    path: &Path,
    by: &str,
    new: NewFile,
    json: bool,
    store: StoreArg,
) -> Result<(), Failure> {
    let bytes: Box<dyn Read + Send> = if path == Path::new("-") {
        Box::new(io::stdin())
    } else {
        let opened = File::open(path);
        Box::new(opened.map_err(Failure::unreadable(path))?)
    };
    let store = Store::open(&store_file(store.store)?).await?;
    let sent = attachments::add(&app(store.clone()), by, job, new, bytes).await;
    let files = attached(&store, job).await;
    store.close().await;
    sent.map_err(failure)?;
    if let Some(added) = files?.last() {
        if json {
            let file = &added.file;
            return print_json(&json!({ "sha256": file.sha256, "name": file.name }));
        }
        print_line(&format!("{} {}", added.file.sha256, added.file.name));
    }
    Ok(())
}

async fn get(job: u32, hash: &str, out: Option<PathBuf>, store: StoreArg) -> Result<(), Failure> {
    let store = Store::open_to_read(&store_file(store.store)?).await?;
    let files = attached(&store, job).await?;
    // The beginning of a hash is enough where it fits one file only.
    let mut fitting: Vec<&FileAttached> = files.iter().map(|a| &a.file).collect();
    fitting.retain(|file| !hash.is_empty() && file.sha256.starts_with(hash));
    fitting.dedup_by_key(|file| file.sha256.clone());
    let refused = |id| {
        let message = Message::new(id)
            .with("hash", hash)
            .with("job", job.to_string());
        Failure::refused(say(&message))
    };
    let file = match fitting[..] {
        [one] => one,
        [] => return Err(refused("files-none")),
        _ => return Err(refused("files-several")),
    };
    let kept = FileHash::parse(&file.sha256).map(|hash| store.files().open(&hash));
    let kept = kept.transpose().map_err(Failure::storage)?.flatten();
    let mut kept = kept.ok_or_else(|| refused("files-lost"))?;
    let out = out.unwrap_or_else(|| PathBuf::from(&file.name));
    if out == Path::new("-") {
        let mut stdout = io::stdout().lock();
        return match io::copy(&mut kept, &mut stdout) {
            Err(error) if error.kind() != io::ErrorKind::BrokenPipe => Err(Failure::storage(error)),
            _ => Ok(()),
        };
    }
    let cannot = Failure::at(&out);
    // Nothing of the user's is overwritten.
    let mut to = File::create_new(&out).map_err(&cannot)?;
    io::copy(&mut kept, &mut to).map_err(&cannot)?;
    print_line(&out.display().to_string());
    Ok(())
}
