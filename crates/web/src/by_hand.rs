//! Forms sent without a browser: at the prompt, or by a scenario. They go through the same reading,
//! the same rules and the same record as those of a page.

use std::collections::BTreeSet;
use std::fmt;

use axum::http::StatusCode;
use calc::Message;
use paper::model::SetupCard;
use shop::tables::ToolRow;
use store::StoreError;
use uuid::Uuid;
use words::Words;

use crate::app::App;
use crate::form_fields;
use crate::forms::{FieldErrors, Typed};
use crate::job::{Trouble, papers};
use crate::security::Guard;
use crate::shell::Page;
use crate::{gauges, inbox, job, receive, setup};

/// What came of a form.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sent {
    /// Number of the job.
    pub number: u32,
    /// The form had been stored before; nothing was stored now.
    pub repeated: bool,
}

/// Why a form was not carried out.
#[derive(Debug)]
pub enum NotSent {
    /// Fields to mend: name and text of each.
    Fields(Vec<(String, String)>),
    /// Another bench wrote meanwhile.
    Conflict,
    /// There is no such job or form.
    NotThere,
    /// The record could not be read or written.
    Store(StoreError),
    /// The program failed; what it says of it.
    Failed(String),
}

impl fmt::Display for NotSent {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Fields(fields) => {
                for (i, (field, text)) in fields.iter().enumerate() {
                    let end = if i == 0 { "" } else { "\n" };
                    let colon = if field.is_empty() { "" } else { ": " };
                    write!(f, "{end}{field}{colon}{text}")?;
                }
                Ok(())
            }
            Self::Conflict => f.write_str(&Words::english().text("prompt-conflict")),
            Self::NotThere => f.write_str(&Words::english().text("prompt-not-there")),
            Self::Store(error) => write!(f, "{error}"),
            Self::Failed(why) => f.write_str(why),
        }
    }
}

/// Sends the form `kind` of job `number` (the receipt of a new job without one) for `who`.
///
/// # Errors
/// As the page would answer.
pub async fn send(
    app: &App,
    who: &str,
    number: Option<u32>,
    kind: &str,
    typed: &Typed,
) -> Result<Sent, NotSent> {
    let p = page_of(who);
    let done = match number {
        None => receive::carry_out(app, &p, typed).await.map(|number| Sent {
            number,
            repeated: false,
        }),
        Some(number) => match job::version_now(app, &p, number).await {
            // Typed on what the record holds now: there is no page that could be old.
            Ok(version) => {
                let typed = typed.clone().set("version", version.to_string());
                let done = job::carry_out(app, &p, number, kind, &typed).await;
                done.map(|repeated| Sent { number, repeated })
            }
            Err(answer) => Err(Trouble::Answer(answer)),
        },
    };
    done.map_err(|trouble| not_sent(&p, trouble))
}

/// The fields of the form `kind` as job `number` shows it now.
///
/// # Errors
/// No such job, or the record cannot be read.
pub async fn fields(app: &App, number: u32, kind: &str) -> Result<Vec<String>, NotSent> {
    let fields = job::fields(app, &page_of(""), number, kind).await;
    let fields = fields.map_err(|answer| of_answer(answer.status()))?;
    Ok(fields.into_iter().collect())
}

/// Refuses fields of `typed` that the form has not. A page has no others; at the prompt a slip of the
/// finger would pass for something that was said.
///
/// # Errors
/// Each such field; no such job, or the record cannot be read.
pub async fn refuse_unknown(
    app: &App,
    number: u32,
    kind: &str,
    typed: &Typed,
) -> Result<(), NotSent> {
    let p = page_of("");
    let fields = job::fields(app, &p, number, kind).await;
    let fields = fields.map_err(|answer| of_answer(answer.status()))?;
    let known: Vec<&str> = fields.iter().map(String::as_str).collect();
    let no_such = Message::new("prompt-no-such-field").with("fields", known.join(", "));
    let names: BTreeSet<&str> = typed.pairs().map(|(name, _)| name).collect();
    let unknown: Vec<(String, String)> = names
        .into_iter()
        .filter(|name| !form_fields::takes(&fields, name))
        .map(|name| (name.to_owned(), p.say(&no_such)))
        .collect();
    // A form that the job does not show now is refused by the rules, which say why.
    if fields.is_empty() || unknown.is_empty() {
        Ok(())
    } else {
        Err(NotSent::Fields(unknown))
    }
}

/// Sends the form `act` (`accept`, `decline`, `renew-links`) of the inbox of `tool` for `who`.
///
/// # Errors
/// As the page would answer.
pub async fn settle(
    app: &App,
    who: &str,
    tool: Uuid,
    act: &str,
    typed: &Typed,
) -> Result<bool, NotSent> {
    let p = page_of(who);
    let done = inbox::carry_out(app, &p, tool, act, typed).await;
    done.map_err(|trouble| not_sent(&p, trouble))
}

/// Sends the form `act` (`calibrate`, `check`, `study`, `strike`) of the gauge `id` for `who`.
///
/// # Errors
/// As the page would answer.
pub async fn of_gauge(
    app: &App,
    who: &str,
    id: &str,
    act: &str,
    typed: &Typed,
) -> Result<(), NotSent> {
    let p = page_of(who);
    let done = gauges::carry_out(app, &p, id, act, typed, Vec::new()).await;
    done.map_err(|trouble| not_sent(&p, trouble))
}

/// Sends the joints of a crew, named in the field `name`, for `tool`; whether a stick-out that is refused
/// was left out of it.
///
/// # Errors
/// As the crew's page would answer.
pub async fn from_crew(app: &App, tool: &ToolRow, typed: &Typed) -> Result<bool, NotSent> {
    let p = page_of("");
    let done = setup::send_at_prompt(app, &p, tool, typed).await;
    done.map_err(|why| not_sent(&p, why.into()))
}

/// What is told of `trouble` without a page.
pub(crate) fn not_sent(p: &Page, trouble: Trouble) -> NotSent {
    match trouble {
        Trouble::Fields(errors) => NotSent::Fields(said(p, &errors)),
        Trouble::Conflict(_) => NotSent::Conflict,
        Trouble::Store(error) => NotSent::Store(error),
        Trouble::Answer(answer) => of_answer(answer.status()),
    }
}

/// A paper of job `number`, as PDF.
///
/// # Errors
/// No such job, or the paper cannot be issued yet.
pub async fn paper(app: &App, number: u32, which: Paper) -> Result<Vec<u8>, NotSent> {
    papers::bytes(app, &page_of(""), number, which)
        .await
        .map_err(|answer| of_answer(answer.status()))
}

/// What the gauge `id` touched when it was last found outside its limits, as PDF.
///
/// # Errors
/// No such gauge, it never failed, or the record cannot be read.
pub async fn gauge_failure(app: &App, id: &str) -> Result<Vec<u8>, NotSent> {
    let made = gauges::paper::bytes(app, &page_of(""), id, None).await;
    made.map_err(|answer| of_answer(answer.status()))
}

pub use crate::job::past::jobs as jobs_of_tool;
pub use papers::Paper;

/// The set-up card of job `number`; `None` before its set-up was signed off.
///
/// # Errors
/// No such job, or the record cannot be read.
pub async fn set_up_card(app: &App, number: u32) -> Result<Option<SetupCard>, NotSent> {
    papers::cards::of_job(app, &page_of(""), number)
        .await
        .map_err(|answer| of_answer(answer.status()))
}

/// The set-up card in force of each tool with `text` in its serial, model or owner. `tell` hears how
/// many tools of how many were looked at.
///
/// # Errors
/// The record cannot be read.
pub async fn set_up_cards(
    app: &App,
    text: &str,
    tell: &mut (dyn FnMut(usize, usize) + Send),
) -> Result<Vec<SetupCard>, NotSent> {
    papers::cards::of_tools(app, &page_of(""), text, tell)
        .await
        .map_err(|answer| of_answer(answer.status()))
}

/// The kinds of form that a job takes.
pub fn kinds() -> impl Iterator<Item = &'static str> {
    job::kinds()
}

fn of_answer(status: StatusCode) -> NotSent {
    if status == StatusCode::NOT_FOUND {
        NotSent::NotThere
    } else {
        NotSent::Failed(format!("answered with {status}"))
    }
}

/// The page of `who`, whom no browser asks for.
pub(crate) fn page_of(who: &str) -> Page {
    Page::of_person(&Guard::local([0; 32], 0), who)
}

fn said(p: &Page, errors: &FieldErrors) -> Vec<(String, String)> {
    errors
        .iter()
        .map(|(field, message)| (field.to_owned(), p.say(&typed_too(message))))
        .collect()
}

/// `message`, with what a page sends unseen and only the prompt has to be told of: the doubt that was in sight.
fn typed_too(message: &Message) -> Message {
    let key = message.args.iter().find(|(name, _)| *name == "key");
    match key {
        Some((_, key)) if message.id == "refuse-doubt-unseen" => {
            let told = Message::new("prompt-doubt-unseen").with("told", message.clone());
            told.with("key", key.clone())
        }
        _ => message.clone(),
    }
}
