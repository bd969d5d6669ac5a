//! Sheets at the prompt: check, load, withdraw.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use calc::Message;
use jiff::Timestamp;
use serde_json::json;
use shop::diagnosis::alike;
use shop::entry::{Body, SHELF, SheetRevised, SheetWithdrawn};
use shop::sheet::{Drive, Kind, Mistake, Sheet, check_together, read};
use store::{AppendError, Request, Store};
use uuid::Uuid;

use crate::args::StoreArg;
use crate::data_folder::store_file;
use crate::failure::Failure;
use crate::print::{answer, print_line, say};

/// The file beside the demo sheets that tells the demo's jobs.
pub const JOBS: &str = "jobs.toml";

/// A sheet file: its name, its text, what it says.
pub struct File {
    /// Name, for messages.
    pub name: String,
    /// Text.
    pub text: String,
}

/// Reports every mistake of the files under `paths`.
pub fn check(paths: &[PathBuf], json: bool) -> Result<(), Failure> {
    let files = files(paths)?;
    let sheets = read_all(&files)?;
    let good = Message::new("prompt-sheets-good").with("count", sheets.len());
    let alike: Vec<Message> = sheets.iter().flat_map(not_told_apart).collect();
    let said: Vec<String> = alike.iter().map(say).collect();
    answer(
        json,
        &good,
        &json!({ "sheets": sheets.len(), "not_told_apart": said }),
    )?;
    if !json {
        said.iter().for_each(|line| print_line(line));
    }
    Ok(())
}

/// Causes of a fault model that none of its checks tells apart: no mistake, but good to know.
fn not_told_apart((file, sheet): &(String, Sheet)) -> Vec<Message> {
    let Sheet::FaultModel(faults) = sheet else {
        return Vec::new();
    };
    let pairs = Drive::ALL.into_iter().flat_map(|drive| {
        let pairs = alike(faults, drive).into_iter();
        pairs.map(move |pair| {
            let id = match pair.by_symptom {
                true => "sheet-alike",
                false => "sheet-alike-wholly",
            };
            Message::new(id)
                .with("file", file.as_str())
                .with("drive", drive.key())
                .with("one", pair.one.id.as_str())
                .with("other", pair.other.id.as_str())
        })
    });
    pairs.collect()
}

/// Loads the files under `paths` into the store.
pub async fn load(paths: &[PathBuf], by: &str, json: bool, store: StoreArg) -> Result<(), Failure> {
    let files = files(paths)?;
    let store = Store::open(&store_file(store.store)?).await?;
    let changed = put(&store, &files, by, Timestamp::now()).await?;
    let loaded = Message::new("prompt-sheets-loaded")
        .with("count", files.len())
        .with("changed", changed);
    store.close().await;
    let value = json!({ "sheets": files.len(), "changed": changed });
    answer(json, &loaded, &value)
}

/// Takes a sheet out of force.
pub async fn withdraw(
    kind: &str,
    id: &str,
    by: &str,
    json: bool,
    store: StoreArg,
) -> Result<(), Failure> {
    let store = Store::open(&store_file(store.store)?).await?;
    let known = Kind::parse(kind).filter(|k| store.shelf().newest(*k, id).is_some());
    if known.is_none() {
        let kinds: Vec<&str> = Kind::ALL.iter().map(|k| k.key()).collect();
        let none = Message::new("prompt-no-sheet-in-force")
            .with("kind", kind)
            .with("id", id)
            .with("kinds", kinds.join(", "));
        return Err(Failure::refused(say(&none)));
    }
    let withdrawn = SheetWithdrawn {
        kind: kind.to_owned(),
        id: id.to_owned(),
    };
    append(&store, vec![withdrawn.into()], by, Timestamp::now()).await?;
    let withdrawn = Message::new("prompt-withdrawn")
        .with("kind", kind)
        .with("id", id);
    store.close().await;
    answer(json, &withdrawn, &json!({ "kind": kind, "id": id }))
}

/// Puts the sheets of `files` on the store's shelf, all or none; unchanged ones are left alone.
/// Gives how many changed.
pub async fn put(store: &Store, files: &[File], by: &str, at: Timestamp) -> Result<usize, Failure> {
    let shelf = store.shelf();
    let mut all: BTreeMap<(Kind, String), (String, Sheet)> = BTreeMap::new();
    // What is in force already counts when the new sheets are held against each other.
    for revision in Kind::ALL.into_iter().flat_map(|kind| shelf.in_force(kind)) {
        let sheet = revision.sheet.clone();
        let name = Message::new("prompt-sheet-stored")
            .with("kind", sheet.kind().key())
            .with("id", sheet.id());
        let name = say(&name);
        all.insert((sheet.kind(), sheet.id().to_owned()), (name, sheet));
    }
    let mut bodies: Vec<Body> = Vec::new();
    for (file, sheet) in files.iter().zip(read_each(files)?) {
        let (kind, id) = (sheet.kind(), sheet.id().to_owned());
        let history = shelf.history(kind, &id);
        let newest = history.last().filter(|_| !shelf.is_withdrawn(kind, &id));
        if newest.is_none_or(|r| r.text != file.text) {
            let revised = SheetRevised {
                kind: kind.key().to_owned(),
                id: id.clone(),
                revision: history.len() as u32 + 1,
                text: file.text.clone(),
            };
            bodies.push(revised.into());
        }
        all.insert((kind, id), (file.name.clone(), sheet));
    }
    let all: Vec<(String, Sheet)> = all.into_values().collect();
    report(check_together(&all))?;
    let changed = bodies.len();
    if changed > 0 {
        append(store, bodies, by, at).await?;
    }
    Ok(changed)
}

async fn append(store: &Store, bodies: Vec<Body>, by: &str, at: Timestamp) -> Result<(), Failure> {
    let by = store.person(by).await?;
    let version = store
        .entries(SHELF)
        .await?
        .last()
        .map_or(0, |l| l.entry.version);
    let request = Request {
        submission: Uuid::new_v4().to_string(),
        subject: SHELF,
        expected_version: version,
        by,
        at,
        serial: None,
    };
    let written = store
        .append(request, move |_| -> Result<_, std::convert::Infallible> {
            Ok(bodies.into_iter().map(|body| (SHELF, body)).collect())
        })
        .await;
    match written {
        Ok(_) => Ok(()),
        Err(AppendError::Store(error)) => Err(error.into()),
        Err(AppendError::Conflict { .. }) => Err(Failure::refused(say(&Message::new(
            "prompt-sheets-changed",
        )))),
        Err(AppendError::Refused(never)) => match never {},
    }
}

/// Every sheet file under `paths`, in order of name.
pub fn files(paths: &[PathBuf]) -> Result<Vec<File>, Failure> {
    let mut found = Vec::new();
    for path in paths {
        collect(path, true, &mut found)?;
    }
    if found.is_empty() {
        return Err(Failure::refused(say(&Message::new(
            "prompt-no-sheet-files",
        ))));
    }
    Ok(found)
}

fn collect(path: &Path, named: bool, found: &mut Vec<File>) -> Result<(), Failure> {
    let cannot = Failure::unreadable(path);
    if path.is_dir() {
        let mut inside: Vec<PathBuf> = fs::read_dir(path)
            .and_then(|entries| entries.map(|e| e.map(|e| e.path())).collect())
            .map_err(&cannot)?;
        inside.sort();
        for path in inside {
            collect(&path, false, found)?;
        }
    } else if named || path.extension().is_some_and(|e| e == "toml") {
        let text = fs::read_to_string(path).map_err(&cannot)?;
        // A copy of the demo's folder brings its jobs along: no sheet, and no mistake either.
        if !named && path.ends_with(JOBS) && text.contains("\n[[job]]") {
            return Ok(());
        }
        found.push(File {
            name: path.display().to_string(),
            text,
        });
    }
    Ok(())
}

pub fn read_all(files: &[File]) -> Result<Vec<(String, Sheet)>, Failure> {
    let sheets = read_each(files)?;
    let named: Vec<(String, Sheet)> = files.iter().map(|f| f.name.clone()).zip(sheets).collect();
    report(check_together(&named))?;
    Ok(named)
}

fn read_each(files: &[File]) -> Result<Vec<Sheet>, Failure> {
    let mut sheets = Vec::new();
    let mut mistakes = Vec::new();
    for file in files {
        match read(&file.name, &file.text) {
            Ok(sheet) => sheets.push(sheet),
            Err(more) => mistakes.extend(more),
        }
    }
    report(mistakes)?;
    Ok(sheets)
}

fn report(mistakes: Vec<Mistake>) -> Result<(), Failure> {
    if mistakes.is_empty() {
        return Ok(());
    }
    let lines: Vec<String> = mistakes
        .iter()
        .map(|m| {
            let value = if m.value.is_empty() {
                String::new()
            } else {
                format!(" = {}", m.value)
            };
            format!(
                "{}:{}: {}{value}: {}",
                m.file,
                m.line,
                m.key,
                say(&m.problem)
            )
        })
        .collect();
    let count = Message::new("prompt-sheet-mistakes").with("count", mistakes.len());
    let each = mistakes.iter().map(|m| {
        json!({
            "file": m.file, "line": m.line, "key": m.key, "value": m.value,
            "problem": say(&m.problem),
        })
    });
    let refused = json!({ "mistakes": each.collect::<Vec<_>>() });
    Err(Failure::refused(format!("{}\n{}", lines.join("\n"), say(&count))).with(refused))
}
