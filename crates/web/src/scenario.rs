//! A scenario: forms that are posted one after the other, each at its own time, by a named person.
//!
//! The demo shop is told this way. Every form goes through the same reading, the same rules and the
//! same record as one that a person sends, so a scenario that the rules refuse does not play.
//!
//! ```toml
//! [[job]]
//! [[job.form]]
//! kind = "receive"          # the first form of a job; later ones as in the address of the job page
//! day = -3                  # days from today
//! time = "08:12"
//! who = "Ansa"
//! fields = { model = "tb-32", serial = "7K-0412", due = "@+2", reading = ["26.2", "26.1"] }
//! ```
//!
//! `[[gauge]]` with `id` and `form` tells in the same way what is written of a gauge, before any job: its kinds are those of
//! the gauge's page (`calibrate`, `check`, `study`).
//!
//! A field value `@+2` stands for the day two days from today. The kind `files` attaches the file that
//! its field `file` names, at `stage`, with `note` as caption.

use jiff::civil::{Date, Time};
use jiff::{Timestamp, ToSpan};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::fmt;

use crate::app::{App, Clock};
use crate::attachments::{self, NewFile};
use crate::by_hand;
use crate::forms::Typed;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Scenario {
    #[serde(default)]
    gauge: Vec<OfGauge>,
    job: Vec<Job>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct OfGauge {
    id: String,
    form: Vec<Form>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Job {
    form: Vec<Form>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Form {
    kind: String,
    day: i32,
    time: String,
    who: String,
    #[serde(default)]
    fields: BTreeMap<String, Value>,
}

#[derive(Deserialize)]
#[serde(untagged)]
enum Value {
    One(String),
    Many(Vec<String>),
}

/// Why a scenario does not play, and at which form.
#[derive(Debug)]
pub struct ScenarioError(String);

impl fmt::Display for ScenarioError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for ScenarioError {}

/// Plays `text` into the record of `app`; `file` gives the files that it names. Returns the numbers of
/// its jobs.
///
/// # Errors
/// TOML that is not of the form above, or the first form that the rules refuse.
pub async fn play(
    app: &App,
    text: &str,
    file: impl Fn(&str) -> Option<&'static [u8]>,
) -> Result<Vec<u32>, ScenarioError> {
    let scenario: Scenario = toml::from_str(text).map_err(|e| ScenarioError(e.to_string()))?;
    let (_, today) = app.now();
    for one in &scenario.gauge {
        for (j, form) in one.form.iter().enumerate() {
            let place = format!("gauge {}, form {} ({})", one.id, j + 1, form.kind);
            let played = gauge_step(app, today, &one.id, form).await;
            played.map_err(|why| ScenarioError(format!("{place}: {why}")))?;
        }
    }
    let mut numbers = Vec::new();
    for (i, one) in scenario.job.iter().enumerate() {
        let mut number = None;
        for (j, form) in one.form.iter().enumerate() {
            let place = format!("job {}, form {} ({})", i + 1, j + 1, form.kind);
            let played = step(app, today, form, number, &file).await;
            number = Some(played.map_err(|why| ScenarioError(format!("{place}: {why}")))?);
        }
        numbers.extend(number);
    }
    Ok(numbers)
}

async fn step(
    app: &App,
    today: Date,
    form: &Form,
    number: Option<u32>,
    file: &impl Fn(&str) -> Option<&'static [u8]>,
) -> Result<u32, String> {
    let at = moment(app, today, form).map_err(|e| e.to_string())?;
    let app = App {
        clock: Clock::Fixed(at),
        ..app.clone()
    };
    let typed = typed(today, form)?;
    let sent = match number.filter(|_| form.kind == attachments::KIND) {
        Some(number) => {
            let name = typed.get("file");
            let bytes = file(name).ok_or_else(|| format!("there is no file {name}"))?;
            let new = NewFile {
                name: name.rsplit('/').next().unwrap_or(name).to_owned(),
                stage: typed.filled("stage").map(str::to_owned),
                note: typed.get("note").to_owned(),
            };
            attachments::add(&app, &form.who, number, new, bytes).await
        }
        None => by_hand::send(&app, &form.who, number, &form.kind, &typed).await,
    };
    sent.map(|sent| sent.number).map_err(|why| why.to_string())
}

async fn gauge_step(app: &App, today: Date, id: &str, form: &Form) -> Result<(), String> {
    let at = moment(app, today, form).map_err(|e| e.to_string())?;
    let app = App {
        clock: Clock::Fixed(at),
        ..app.clone()
    };
    let typed = typed(today, form)?;
    let sent = by_hand::of_gauge(&app, &form.who, id, &form.kind, &typed).await;
    sent.map_err(|why| why.to_string())
}

fn moment(app: &App, today: Date, form: &Form) -> Result<Timestamp, jiff::Error> {
    let day = today.checked_add(form.day.days())?;
    let time: Time = form.time.parse()?;
    Ok(day
        .to_datetime(time)
        .to_zoned_datetime(app.zone.clone())?
        .timestamp())
}

fn typed(today: Date, form: &Form) -> Result<Typed, String> {
    let mut typed = Typed::new();
    for (name, value) in &form.fields {
        let values = match value {
            Value::One(one) => std::slice::from_ref(one),
            Value::Many(many) => many,
        };
        for value in values {
            typed = typed.with(name, resolved(today, value)?);
        }
    }
    Ok(typed)
}

fn resolved(today: Date, value: &str) -> Result<String, String> {
    let Some(days) = value.strip_prefix('@') else {
        return Ok(value.to_owned());
    };
    let days: i32 = days
        .parse()
        .map_err(|_| format!("{value} is not a number of days"))?;
    let day = today.checked_add(days.days()).map_err(|e| e.to_string())?;
    Ok(day.to_string())
}
