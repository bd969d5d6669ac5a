//! The lists at the prompt: tools, sheets, gauges, find, and the erasing of a name.

use std::path::Path;

use calc::Message;
use jiff::Timestamp;
use jiff::tz::TimeZone;
use serde_json::json;
use shop::gauge::State;
use shop::sheet::Kind;
use store::{Found, Store, ToolFilter};
use web::by_hand::{self, NotSent};

use crate::args::StoreArg;
use crate::data_folder::store_file;
use crate::failure::Failure;
use crate::job;
use crate::print::{answer, print_json, print_text, say, table, write_out};

/// Every tool that was here.
pub async fn tools(text: Option<String>, as_json: bool, store: StoreArg) -> Result<(), Failure> {
    let store = Store::open_to_read(&store_file(store.store)?).await?;
    let filter = ToolFilter {
        text: text.unwrap_or_default(),
        // A list at the prompt is whole: a program that reads it could not see that rows are missing.
        limit: u32::MAX,
        offset: 0,
    };
    let tools = store.tools(&filter).await?;
    let names = store.names().await?;
    let owner = |key| names.get(key).cloned().unwrap_or_default();
    if as_json {
        let rows = tools.iter().map(|t| {
            json!({
                "tool": t.tool.to_string(), "serial": t.serial, "model": t.model,
                "owner": owner(&t.owner), "counter": t.counter, "last_job": t.last_job,
            })
        });
        return print_json(&rows.collect());
    }
    let rows = tools.iter().map(|t| {
        vec![
            t.serial.clone(),
            t.model.clone(),
            owner(&t.owner),
            t.counter.map(|n| n.to_string()).unwrap_or_default(),
            t.last_job.map(|n| n.to_string()).unwrap_or_default(),
        ]
    });
    table(
        &[
            "column-serial",
            "column-model",
            "column-owner",
            "column-pulls",
            "column-last-job",
        ],
        rows,
    );
    Ok(())
}

/// Every sheet in force.
pub async fn sheets(as_json: bool, store: StoreArg) -> Result<(), Failure> {
    let store = Store::open_to_read(&store_file(store.store)?).await?;
    let shelf = store.shelf();
    let all = Kind::ALL.into_iter().flat_map(|kind| shelf.in_force(kind));
    if as_json {
        let rows = all.map(|r| {
            json!({
                "kind": r.sheet.kind().key(), "id": r.sheet.id(), "name": r.sheet.name(),
                "revision": r.number,
            })
        });
        return print_json(&rows.collect());
    }
    let rows = all.map(|r| {
        vec![
            r.sheet.kind().key().to_owned(),
            r.sheet.id().to_owned(),
            r.sheet.name().to_owned(),
            r.number.to_string(),
        ]
    });
    table(
        &["column-kind", "column-id", "column-name", "column-revision"],
        rows,
    );
    Ok(())
}

/// The text of a sheet, in its newest or an older revision.
pub async fn sheet(
    kind: &str,
    id: &str,
    revision: Option<usize>,
    store: StoreArg,
) -> Result<(), Failure> {
    let store = Store::open_to_read(&store_file(store.store)?).await?;
    let shelf = store.shelf();
    let history = Kind::parse(kind).map_or(&[][..], |kind| shelf.history(kind, id));
    let at = revision.unwrap_or(history.len());
    let found = at.checked_sub(1).and_then(|i| history.get(i));
    let found = found.ok_or_else(|| {
        let none = Message::new("prompt-no-sheet")
            .with("kind", kind)
            .with("id", id);
        Failure::refused(say(&none))
    })?;
    print_text(&found.text);
    Ok(())
}

/// Every gauge, and whether it is in date.
pub async fn gauges(as_json: bool, store: StoreArg) -> Result<(), Failure> {
    let store = Store::open_to_read(&store_file(store.store)?).await?;
    let shelf = store.shelf();
    let today = Timestamp::now()
        .to_zoned_datetime(TimeZone::system())
        .date();
    let standing = |g: &shop::sheet::Gauge| shelf.standing(g, today, None);
    let state = |g: &shop::sheet::Gauge| match standing(g).state {
        State::InDate => "gauge-in-date",
        State::OutOfDate => "gauge-stale",
        State::Failed => "gauge-failed",
    };
    let certificate = |g: &shop::sheet::Gauge| match standing(g).calibration {
        Some(c) => c.certificate.clone(),
        None => g.certificate.clone(),
    };
    if as_json {
        let rows = shelf.gauges().map(|(pin, g)| {
            json!({
                "id": g.id, "name": g.name, "revision": pin.revision, "unit": g.unit.symbol(),
                "expanded_uncertainty": shelf.expanded(g, today), "due": standing(g).due.to_string(),
                "in_date": standing(g).is_in_date(), "failed": standing(g).state == State::Failed,
                "calibrated": standing(g).calibrated.to_string(), "certificate": certificate(g),
                "points": standing(g).calibration.map_or(0, |c| c.points.len()),
            })
        });
        return print_json(&rows.collect());
    }
    let rows = shelf.gauges().map(|(_, g)| {
        vec![
            g.id.clone(),
            g.name.clone(),
            format!("± {} {}", shelf.expanded(g, today), g.unit.symbol()),
            certificate(g),
            standing(g).due.to_string(),
            say(&Message::new(state(g))),
        ]
    });
    table(
        &[
            "column-id",
            "column-name",
            "column-uncertainty",
            "column-certificate",
            "column-due",
            "column-state",
        ],
        rows,
    );
    Ok(())
}

/// What a gauge touched when it was last found outside its limits, as PDF.
pub async fn gauge_failure(id: &str, out: &Path, store: StoreArg) -> Result<(), Failure> {
    let app = job::app(Store::open_to_read(&store_file(store.store)?).await?);
    let bytes = match by_hand::gauge_failure(&app, id).await {
        Err(NotSent::NotThere) => {
            let none = Message::new("prompt-no-gauge-failure").with("id", id);
            return Err(Failure::refused(say(&none)));
        }
        made => made.map_err(job::failure)?,
    };
    write_out(out, &bytes)
}

/// What the find box finds.
pub async fn find(text: &str, as_json: bool, store: StoreArg) -> Result<(), Failure> {
    let store = Store::open_to_read(&store_file(store.store)?).await?;
    let found = store.find(text).await?;
    let row = |hit: &Found| match hit {
        Found::Job(j) => ("job", j.number.to_string(), j.serial.clone()),
        Found::Tool(t) => ("tool", t.serial.clone(), t.model.clone()),
    };
    if as_json {
        let rows = found
            .iter()
            .map(row)
            .map(|(what, id, more)| json!({ "what": what, "id": id, "more": more }));
        return print_json(&rows.collect());
    }
    if found.is_empty() {
        let nothing = Message::new("prompt-nothing-found").with("text", text);
        return Err(Failure::refused(say(&nothing)));
    }
    table(
        &["column-what", "column-id", ""],
        found
            .iter()
            .map(row)
            .map(|(what, id, more)| vec![what.to_owned(), id, more]),
    );
    Ok(())
}

/// Erases a person's name. The record stays whole: it holds a salted hash only.
pub async fn erase(name: &str, json: bool, store: StoreArg) -> Result<(), Failure> {
    let store = Store::open(&store_file(store.store)?).await?;
    let names = store.names().await?;
    let Some(key) = names
        .iter()
        .find(|(_, n)| *n == name)
        .map(|(key, _)| key.clone())
    else {
        let nobody = Message::new("prompt-nobody").with("name", name);
        return Err(Failure::refused(say(&nobody)));
    };
    store.erase_person(&key).await?;
    store.close().await;
    let erased = Message::new("prompt-erased").with("name", name);
    answer(json, &erased, &json!({ "erased": name }))
}
