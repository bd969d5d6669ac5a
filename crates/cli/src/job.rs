//! Jobs at the prompt: every form of the job page, and the papers.

use std::path::Path;
use std::{fs, io};

use calc::Message;
use jiff::tz::TimeZone;
use serde_json::{Value, json};
use shop::job::{Job, Stage};
use store::{JobFilter, Store, Which};
use web::by_hand::{self, NotSent, Paper};
use web::forms::Typed;
use web::names;
use web::{App, CardLinks, Clock};
use words::Words;

use crate::args::{CardsArg, JobCommand, StoreArg};
use crate::data_folder::store_file;
use crate::failure::Failure;
use crate::print::{answer, in_json, print_json, print_line, say, table, tell, write_out};
use crate::progress::Progress;
use crate::serve::{kept_secret, links};

/// Runs `setwright job …`.
pub async fn run(command: JobCommand) -> Result<(), Failure> {
    match command {
        JobCommand::List {
            text,
            all,
            json,
            store,
        } => list(text, all, json, store).await,
        JobCommand::Show {
            number,
            json,
            store,
        } => show(number, json, store).await,
        JobCommand::Forms {
            number,
            form,
            print,
            store,
        } => forms(number.zip(form), print.json, store).await,
        JobCommand::Receive {
            fields,
            who,
            print,
            store,
        } => {
            let sent = send(None, "receive", &fields, &who, print.json, store).await;
            in_json(print.json, sent)
        }
        JobCommand::Do {
            number,
            form,
            fields,
            who,
            print,
            store,
        } => {
            let sent = send(Some(number), &form, &fields, &who, print.json, store).await;
            in_json(print.json, sent)
        }
        JobCommand::Paper {
            number,
            which,
            out,
            links,
            store,
        } => paper(number, &which, &out, &links, store).await,
        JobCommand::Cards {
            out,
            numbers,
            of,
            links,
            store,
        } => cards(&out, &numbers, of, &links, store).await,
    }
}

/// The forms, or the fields of one as a job shows it now.
async fn forms(of: Option<(u32, String)>, json: bool, store: StoreArg) -> Result<(), Failure> {
    let names: Vec<String> = match of {
        None => by_hand::kinds().map(str::to_owned).collect(),
        Some((number, form)) => {
            let app = app(Store::open_to_read(&store_file(store.store)?).await?);
            let fields = by_hand::fields(&app, number, &form).await;
            let fields = fields.map_err(failure)?;
            if fields.is_empty() {
                let known: Vec<&str> = by_hand::kinds().collect();
                let none = Message::new("prompt-form-not-now")
                    .with("job", number.to_string())
                    .with("form", form)
                    .with("known", known.join(", "));
                return Err(Failure::refused(say(&none)));
            }
            fields
        }
    };
    if json {
        return print_json(&Value::from(names));
    }
    for name in names {
        print_line(&name);
    }
    Ok(())
}

/// The program without its server.
pub fn app(store: Store) -> App {
    App {
        store,
        zone: TimeZone::system(),
        clock: Clock::System,
        links: CardLinks::NONE,
        recordings: None,
    }
}

/// The program to print with: cards carry the links of the server whose secret lies beside the store.
async fn with_links(store: StoreArg, cards: &CardsArg) -> Result<App, Failure> {
    let file = store_file(store.store)?;
    let app = app(Store::open_to_read(&file).await?);
    if cards.address_on_cards.is_none() {
        return Ok(app);
    }
    let links = links(&kept_secret(&file)?, cards)?;
    Ok(App { links, ..app })
}

async fn list(text: Option<String>, all: bool, json: bool, store: StoreArg) -> Result<(), Failure> {
    let store = Store::open_to_read(&store_file(store.store)?).await?;
    let filter = JobFilter {
        which: if all { Which::All } else { Which::Open },
        text: text.unwrap_or_default(),
        limit: u32::MAX,
        offset: 0,
    };
    let jobs = store.jobs(&filter).await?;
    let names = store.names().await?;
    let name = |key| names.get(key).cloned().unwrap_or_default();
    if json {
        let rows: Vec<Value> = jobs
            .iter()
            .map(|j| {
                json!({
                    "number": j.number, "model": j.model, "serial": j.serial,
                    "customer": name(&j.customer), "stage": j.stage, "waiting": j.waiting,
                    "due": j.due.map(|d| d.to_string()), "opened": j.opened.to_string(),
                    "closed": j.closed.map(|t| t.to_string()), "complaint": j.complaint,
                })
            })
            .collect();
        return print_json(&Value::from(rows));
    }
    let rows = jobs.iter().map(|j| {
        let due = j.due.map(|d| d.to_string()).unwrap_or_default();
        let stage = if j.waiting.is_empty() {
            j.stage.clone()
        } else {
            let waits = Message::new("prompt-waits")
                .with("stage", j.stage.as_str())
                .with("for", j.waiting.as_str());
            say(&waits)
        };
        vec![
            j.number.to_string(),
            j.model.clone(),
            j.serial.clone(),
            name(&j.customer),
            stage,
            due,
        ]
    });
    table(
        &[
            "column-job",
            "column-model",
            "column-serial",
            "column-customer",
            "column-stage",
            "column-due",
        ],
        rows,
    );
    Ok(())
}

async fn show(number: u32, json: bool, store: StoreArg) -> Result<(), Failure> {
    let store = Store::open_to_read(&store_file(store.store)?).await?;
    let row = store
        .job_by_number(number)
        .await?
        .ok_or_else(|| no_job(number))?;
    let logged = store.entries(row.job).await?;
    let names = store.names().await?;
    let entries: Vec<_> = logged.iter().map(|l| l.entry.clone()).collect();
    let job = Job::fold(&entries).ok_or_else(|| no_job(number))?;
    let by = |key| names.get(key).cloned().unwrap_or_default();
    if json {
        let entries: Vec<Value> = logged
            .iter()
            .map(|l| {
                let body: Value = serde_json::from_str(&l.entry.body.to_json()).unwrap_or_default();
                json!({
                    "seq": l.seq, "version": l.entry.version, "at": l.entry.at.to_string(),
                    "by": by(&l.entry.by), "kind": l.entry.body.kind(), "body": body, "hash": l.hash,
                })
            })
            .collect();
        let stages: Vec<Value> = Stage::ALL
            .into_iter()
            .map(|s| json!({ "stage": s.key(), "standing": standing(&job, s) }))
            .collect();
        return print_json(&json!({
            "number": number, "serial": row.serial, "model": row.model,
            "customer": by(&row.customer), "version": job.version, "stages": stages, "entries": entries,
        }));
    }
    let head = Message::new("prompt-job-of")
        .with("job", number.to_string())
        .with("model", row.model.as_str())
        .with("serial", row.serial.as_str())
        .with("customer", by(&row.customer));
    tell(&head);
    print_line(&format!("“{}”", row.complaint));
    for stage in Stage::ALL {
        print_line(&format!("  {:9} {}", stage.key(), standing(&job, stage)));
    }
    table(
        &["column-entry", "column-at", "column-by", "column-kind"],
        logged.iter().map(|l| {
            let at = l.entry.at.to_zoned_datetime(TimeZone::system());
            vec![
                l.entry.version.to_string(),
                at.strftime("%Y-%m-%d %H:%M").to_string(),
                by(&l.entry.by),
                l.entry.body.kind().to_owned(),
            ]
        }),
    );
    Ok(())
}

fn standing(job: &Job, stage: Stage) -> String {
    say(&Message::new(names::standing(job.standing(stage))))
}

/// Why nothing is shown of a job that is not there.
pub fn no_job(number: u32) -> Failure {
    Failure::refused(say(
        &Message::new("prompt-no-job").with("job", number.to_string())
    ))
}

/// Fields as `name=value`; a name may be given again. `@FILE` (or `@-`) reads a form body.
pub fn typed(fields: &[String]) -> Result<Typed, Failure> {
    let mut typed = Typed::new();
    for field in fields {
        if let Some(file) = field.strip_prefix('@') {
            let body = if file == "-" {
                io::read_to_string(io::stdin())
            } else {
                fs::read_to_string(file)
            };
            let body = body.map_err(Failure::unreadable(Path::new(file)))?;
            let read: Value = serde_json::from_str(&body).map_err(|e| {
                let not = Message::new("prompt-not-a-form")
                    .with("file", file)
                    .with("why", e.to_string());
                Failure::refused(say(&not))
            })?;
            typed = from_json(typed, &read).ok_or_else(|| {
                Failure::refused(say(&Message::new("prompt-not-texts").with("file", file)))
            })?;
            continue;
        }
        let (name, value) = field.split_once('=').ok_or_else(|| {
            let not = Message::new("prompt-not-a-field").with("field", field.as_str());
            Failure::refused(say(&not))
        })?;
        typed = typed.with(name, value);
    }
    Ok(typed)
}

fn from_json(mut typed: Typed, read: &Value) -> Option<Typed> {
    for (name, value) in read.as_object()? {
        let values = match value {
            Value::Array(many) => many.as_slice(),
            one => std::slice::from_ref(one),
        };
        for value in values {
            let text = match value {
                Value::String(text) => text.clone(),
                Value::Number(number) => number.to_string(),
                _ => return None,
            };
            typed = typed.with(name, text);
        }
    }
    Some(typed)
}

async fn send(
    number: Option<u32>,
    form: &str,
    fields: &[String],
    who: &str,
    json: bool,
    store: StoreArg,
) -> Result<(), Failure> {
    let typed = typed(fields)?;
    let store = Store::open(&store_file(store.store)?).await?;
    let app = app(store.clone());
    let known = match number {
        Some(number) => by_hand::refuse_unknown(&app, number, form, &typed).await,
        None => Ok(()),
    };
    let sent = match known {
        Ok(()) => by_hand::send(&app, who, number, form, &typed).await,
        Err(unknown) => Err(unknown),
    };
    store.close().await;
    let sent = sent.map_err(failure)?;
    let stored = if sent.repeated {
        "prompt-stored-before"
    } else {
        "prompt-stored"
    };
    let text = Message::new(stored).with("job", sent.number.to_string());
    let value = json!({ "job": sent.number, "stored_before": sent.repeated });
    answer(json, &text, &value)
}

async fn paper(
    number: u32,
    which: &str,
    out: &Path,
    links: &CardsArg,
    store: StoreArg,
) -> Result<(), Failure> {
    let Some(which) = Paper::ALL.into_iter().find(|p| p.key() == which) else {
        let known: Vec<&str> = Paper::ALL.iter().map(|p| p.key()).collect();
        let none = Message::new("prompt-no-paper")
            .with("name", which)
            .with("known", known.join(", "));
        return Err(Failure::refused(say(&none)));
    };
    let app = with_links(store, links).await?;
    let bytes = by_hand::paper(&app, number, which).await.map_err(failure)?;
    write_out(out, &bytes)
}

async fn cards(
    out: &Path,
    numbers: &[u32],
    of: Option<String>,
    links: &CardsArg,
    store: StoreArg,
) -> Result<(), Failure> {
    let app = with_links(store, links).await?;
    let progress = Progress::of("progress-cards-read");
    let mut cards = Vec::new();
    if numbers.is_empty() {
        let text = of.as_deref().unwrap_or_default();
        let show = &mut |n, of| progress.count(n, of);
        cards = by_hand::set_up_cards(&app, text, show)
            .await
            .map_err(failure)?;
    }
    for (i, number) in numbers.iter().enumerate() {
        let card = by_hand::set_up_card(&app, *number).await.map_err(failure)?;
        cards.push(card.ok_or_else(|| {
            let none = Message::new("prompt-no-card").with("job", number.to_string());
            Failure::refused(say(&none))
        })?);
        progress.count(i + 1, numbers.len());
    }
    if cards.is_empty() {
        let none = match of {
            Some(text) => Message::new("prompt-no-cards-of").with("text", text),
            None => Message::new("tools-no-cards"),
        };
        return Err(Failure::refused(say(&none)));
    }
    progress.now("progress-cards-set");
    let pdf = paper::setup_cards(&cards, Words::english());
    drop(progress);
    let pdf = pdf.map_err(|e| Failure::storage(say(&e.message())))?;
    write_out(out, &pdf)
}

/// What the prompt tells of a form that was not carried out.
pub fn failure(why: NotSent) -> Failure {
    match why {
        NotSent::Store(error) => error.into(),
        NotSent::Fields(ref fields) => {
            let each = fields
                .iter()
                .map(|(field, message)| json!({ "field": field, "message": message }));
            let refused = json!({ "refused": each.collect::<Vec<_>>() });
            Failure::refused(&why).with(refused)
        }
        why => Failure::refused(why),
    }
}
