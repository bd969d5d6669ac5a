//! What crews sent from the work place, at the prompt.

use calc::Message;
use calc::working::fixed;
use serde_json::{Value, json};
use shop::crew::{Beside, Inbox, Sent, SentState, basis, beside, inbox_of};
use shop::entry::Entry;
use shop::job::Job;
use shop::sheet::{SettingBasis, Shelf};
use shop::tables::ToolRow;
use store::{Names, Store};
use web::by_hand;
use web::forms::Typed;

use crate::args::{InboxCommand, StoreArg};
use crate::data_folder::store_file;
use crate::failure::Failure;
use crate::job::{app, failure, typed};
use crate::print::{answer, in_json, print_json, say, table};

/// One subcommand.
pub async fn run(command: InboxCommand) -> Result<(), Failure> {
    match command {
        InboxCommand::List {
            serial,
            print,
            store,
        } => in_json(print.json, list(serial, print.json, store).await),
        InboxCommand::Send {
            serial,
            fields,
            print,
            store,
        } => in_json(print.json, send(&serial, &fields, print.json, store).await),
        InboxCommand::Accept {
            serial,
            entry,
            note,
            who,
            print,
            store,
        } => {
            let form = entry_form(entry).with("note", note);
            let done = settle(&serial, "accept", &form, &who, print.json, store).await;
            in_json(print.json, done)
        }
        InboxCommand::Decline {
            serial,
            entry,
            reason,
            who,
            print,
            store,
        } => {
            let form = entry_form(entry).with("reason", reason);
            let done = settle(&serial, "decline", &form, &who, print.json, store).await;
            in_json(print.json, done)
        }
        InboxCommand::RenewLinks {
            serial,
            reason,
            who,
            print,
            store,
        } => {
            let form = Typed::new().with("reason", reason);
            let done = settle(&serial, "renew-links", &form, &who, print.json, store).await;
            in_json(print.json, done)
        }
    }
}

fn entry_form(entry: u32) -> Typed {
    Typed::new().with("entry", entry.to_string())
}

/// What waits, or all that came with one tool.
async fn list(serial: Option<String>, as_json: bool, store: StoreArg) -> Result<(), Failure> {
    let store = Store::open_to_read(&store_file(store.store)?).await?;
    let (names, shelf) = (store.names().await?, store.shelf());
    let mut rows = Vec::new();
    match serial {
        Some(serial) => {
            let tool = tool(&store, &serial).await?;
            let inbox = inbox(&store, &tool).await?;
            let jobs = by_hand::jobs_of_tool(&store, tool.tool).await?;
            let listed = |sent| Listed::of(&tool, &jobs, sent, &shelf);
            rows.extend(inbox.sent.into_iter().map(listed));
        }
        None => {
            for row in store.inboxes_waiting().await? {
                if let Some(tool) = store.tool(row.tool).await? {
                    let inbox = inbox(&store, &tool).await?;
                    let jobs = by_hand::jobs_of_tool(&store, tool.tool).await?;
                    let waiting = inbox.to_look_at().into_iter().cloned();
                    rows.extend(waiting.map(|sent| Listed::of(&tool, &jobs, sent, &shelf)));
                }
            }
            rows.sort_by_key(|row| !row.sent.body.bad);
        }
    }
    if as_json {
        let rows = rows.iter().map(|row| in_full(row, &names));
        return print_json(&rows.collect());
    }
    let rows = rows.iter().map(|row| {
        let (tool, sent, beside) = (&row.tool, &row.sent, &row.beside);
        let turns = |turns: Option<f64>| turns.map(paper::fraction).unwrap_or_default();
        let belongs = Message::new(match (beside.belongs, beside.odd) {
            (false, _) => "inbox-apart",
            (true, Some(_)) => "inbox-odd",
            (true, None) => "inbox-belongs",
        });
        let measured = sent.body.measured_mm.map(|mm| fixed(mm, 2));
        vec![
            tool.serial.clone(),
            sent.version.to_string(),
            state(sent).to_owned(),
            sent.body.fastener.id.clone(),
            sent.body.code.clone(),
            verdict(sent).to_owned(),
            measured.unwrap_or_default(),
            turns(sent.body.turns),
            turns(beside.table),
            turns(beside.signed_off),
            say(&belongs),
            sent.body.joints.len().to_string(),
            names.get(&sent.by).cloned().unwrap_or_default(),
            sent.at.to_string(),
        ]
    });
    table(
        &[
            "column-serial",
            "column-entry",
            "column-state",
            "column-fastener",
            "column-code",
            "column-joints-are",
            "column-measured",
            "column-turns",
            "column-table",
            "column-signed-off",
            "column-belongs",
            "column-joints",
            "column-by",
            "column-at",
        ],
        rows,
    );
    Ok(())
}

/// A sending with what stands beside it.
struct Listed {
    tool: ToolRow,
    sent: Sent,
    beside: Beside,
    basis: Option<&'static str>,
}

impl Listed {
    fn of(tool: &ToolRow, jobs: &[Job], sent: Sent, shelf: &Shelf) -> Self {
        let basis = basis(&sent.body, shelf).map(|basis| match basis {
            SettingBasis::StickOut => "stick-out",
            SettingBasis::Stroke => "stroke",
            SettingBasis::FullStroke => "full-stroke",
            SettingBasis::Force => "force",
        });
        Self {
            tool: tool.clone(),
            beside: beside(&sent.body, jobs, shelf),
            sent,
            basis,
        }
    }
}

/// As programs read it.
fn state(sent: &Sent) -> &'static str {
    match sent.state {
        SentState::Waiting => "waiting",
        SentState::Accepted { .. } => "accepted",
        SentState::Declined { .. } => "declined",
    }
}

/// What the crew says of its joints, as programs read it.
fn verdict(sent: &Sent) -> &'static str {
    if sent.body.bad { "bad" } else { "good" }
}

fn in_full(row: &Listed, names: &Names) -> Value {
    let (tool, sent, beside) = (&row.tool, &row.sent, &row.beside);
    let joints = sent.body.joints.iter().map(|joint| {
        let readings = joint.readings.iter().map(|r| {
            json!({
                "criterion": r.criterion, "value": r.value, "unit": r.unit,
                "expanded": r.expanded, "outcome": r.outcome,
            })
        });
        readings.collect::<Value>()
    });
    json!({
        "serial": tool.serial, "entry": sent.version, "state": state(sent),
        "at": sent.at.to_string(), "by": names.get(&sent.by),
        "model": sent.body.model.id, "fastener": sent.body.fastener.id, "code": sent.body.code,
        "nose_set": sent.body.nose_set.id, "set_by": row.basis, "turns": sent.body.turns,
        "given_turns": sent.body.given.map(|given| given.turns),
        "table_turns": beside.table, "signed_off_turns": beside.signed_off, "belongs": beside.belongs,
        "odd_value": beside.odd.map(|odd| json!({
            "read_mm": odd.read_mm, "foretold_mm": odd.foretold_mm, "most_off_mm": odd.most_off_mm,
        })),
        "measured_mm": sent.body.measured_mm, "verdict": verdict(sent), "seen": sent.body.seen,
        "joints": joints.collect::<Value>(), "note": sent.body.note,
        "why": match &sent.state {
            SentState::Declined { reason, .. } => Some(reason),
            _ => None,
        },
    })
}

async fn inbox(store: &Store, tool: &ToolRow) -> Result<Inbox, Failure> {
    let logged = store.entries(inbox_of(tool.tool)).await?;
    let entries: Vec<Entry> = logged.into_iter().map(|l| l.entry).collect();
    Ok(Inbox::fold(tool.tool, &entries))
}

/// The one tool with this serial.
async fn tool(store: &Store, serial: &str) -> Result<ToolRow, Failure> {
    let mut tools = store.tools_by_serial(serial).await?;
    match (tools.pop(), tools.is_empty()) {
        (Some(tool), true) => Ok(tool),
        (found, _) => {
            let id = if found.is_some() {
                "prompt-tools-many"
            } else {
                "prompt-tool-none"
            };
            Err(Failure::refused(say(
                &Message::new(id).with("serial", serial)
            )))
        }
    }
}

async fn send(
    serial: &str,
    fields: &[String],
    as_json: bool,
    store: StoreArg,
) -> Result<(), Failure> {
    let typed = typed(fields)?;
    let store = Store::open(&store_file(store.store)?).await?;
    let sent = match tool(&store, serial).await {
        Ok(tool) => by_hand::from_crew(&app(store.clone()), &tool, &typed)
            .await
            .map_err(failure),
        Err(none) => Err(none),
    };
    store.close().await;
    let left_out = sent?;
    let done = Message::new(if left_out {
        "crew-stick-out-left-out"
    } else {
        "prompt-inbox-done"
    });
    let told = json!({ "serial": serial, "done": "send", "stick_out_left_out": left_out });
    answer(as_json, &done, &told)
}

async fn settle(
    serial: &str,
    act: &str,
    form: &Typed,
    who: &str,
    as_json: bool,
    store: StoreArg,
) -> Result<(), Failure> {
    let store = Store::open(&store_file(store.store)?).await?;
    let tool = match tool(&store, serial).await {
        Ok(tool) => tool.tool,
        Err(none) => {
            store.close().await;
            return Err(none);
        }
    };
    let app = app(store.clone());
    let sent = by_hand::settle(&app, who, tool, act, form).await;
    store.close().await;
    sent.map_err(failure)?;
    let done = Message::new("prompt-inbox-done");
    answer(as_json, &done, &json!({ "serial": serial, "done": act }))
}
