//! What crews sent from the work place, and what the bench makes of it.

mod run;
mod show;

use axum::Router;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use calc::Message;
use shop::crew::{Inbox, InboxCommand, decide, inbox_of};
use shop::entry::{Entry, PersonKey};
use store::StoreError;
use uuid::Uuid;

use crate::app::{App, failed};
use crate::forms::{FieldErrors, Typed, too_long};
use crate::job::{Trouble, submission};
use crate::shell::{self, Nav, Page, error_page};
pub(crate) use crate::write_again::NotWritten;
use crate::write_again::{To, write_again};
pub(crate) use show::{count, of_tool};

/// Where it is.
pub(crate) const PATH: &str = "/inbox";

/// The routes of the inbox.
pub fn routes() -> Router<App> {
    Router::new()
        .route(PATH, get(list))
        .route("/inbox/{tool}/{act}", post(act))
}

/// The inbox of `tool` as it is now.
pub(crate) async fn load(app: &App, tool: Uuid) -> Result<Inbox, StoreError> {
    let logged = app.store.entries(inbox_of(tool)).await?;
    let entries: Vec<Entry> = logged.into_iter().map(|l| l.entry).collect();
    Ok(Inbox::fold(tool, &entries))
}

/// Writes what `command` adds to the inbox of `tool`; whether the same form was stored before.
pub(crate) async fn write(
    app: &App,
    tool: Uuid,
    typed: &Typed,
    by: PersonKey,
    command: InboxCommand,
) -> Result<bool, NotWritten> {
    let subject = inbox_of(tool);
    let to = To {
        subject,
        submission: submission::key_of_inbox(&subject.to_string(), typed),
        by,
        busy: "crew-busy",
    };
    write_again(app, to, move |scene| {
        let inbox = Inbox::fold(tool, scene.entries);
        decide(&inbox, &command, scene.shelf)
    })
    .await
}

/// What a form of the bench asks for.
pub(crate) fn command(act: &str, typed: &Typed) -> Option<InboxCommand> {
    let entry = typed.get("entry").parse().unwrap_or(0);
    let text = |name| typed.get(name).to_owned();
    Some(match act {
        "accept" => InboxCommand::Accept(entry, text("note")),
        "decline" => InboxCommand::Decline(entry, text("reason")),
        "renew-links" => InboxCommand::RenewLinks(text("reason")),
        _ => return None,
    })
}

/// Does what the form `act` of the inbox of `tool` asks for, in the name that was picked.
pub(crate) async fn carry_out(
    app: &App,
    p: &Page,
    tool: Uuid,
    act: &str,
    typed: &Typed,
) -> Result<bool, Trouble> {
    let not_here = || Trouble::Answer(error_page(p, StatusCode::NOT_FOUND, None));
    let command = command(act, typed).ok_or_else(not_here)?;
    let known = app.store.tool(tool).await.map_err(Trouble::Store)?;
    known.ok_or_else(not_here)?;
    let long = too_long(typed);
    if !long.is_empty() {
        return Err(Trouble::Fields(long));
    }
    let by = app.visitor_key(p).await?;
    let who = || Trouble::Fields(FieldErrors::one("who", Message::new("refuse-who")));
    let by = by.ok_or_else(who)?;
    write(app, tool, typed, by, command)
        .await
        .map_err(Trouble::from)
}

/// Whether the form takes back what was accepted: it stands on the page of the tool, not among what waits.
fn takes_back(act: &str, typed: &Typed, inbox: &Inbox) -> bool {
    let entry = typed.get("entry");
    let mut sent = inbox.sent.iter();
    act == "decline" && sent.any(|s| s.is_accepted() && s.version.to_string() == entry)
}

async fn list(State(app): State<App>, p: Page) -> Result<Response, Response> {
    let p = p.at(Nav::Bench);
    show::list(&app, &p, StatusCode::OK, None).await
}

async fn act(
    State(app): State<App>,
    p: Page,
    Path((tool, act)): Path<(Uuid, String)>,
    typed: Typed,
) -> Result<Response, Response> {
    let action = format!("{PATH}/{tool}/{act}");
    let back = match act.as_str() {
        "renew-links" => format!("/tools/{tool}"),
        _ => PATH.to_owned(),
    };
    match carry_out(&app, &p, tool, &act, &typed).await {
        Ok(_) => Ok(Redirect::to(&back).into_response()),
        Err(Trouble::Fields(errors)) => {
            let p = p.at(Nav::Bench).holding_form();
            let status = StatusCode::UNPROCESSABLE_ENTITY;
            let refused = show::Refused {
                typed: &typed,
                errors: &errors,
            };
            let inbox = load(&app, tool).await.map_err(failed)?;
            if act == "renew-links" || takes_back(&act, &typed, &inbox) {
                return show::tool_again(&app, &p, tool, &refused).await;
            }
            show::list(&app, &p, status, Some(&refused)).await
        }
        Err(Trouble::Answer(answer)) => Err(answer),
        Err(Trouble::Conflict(_)) => Err(failed(StoreError::Closed)),
        Err(Trouble::Store(error)) => {
            eprintln!("{action}: {error:?}");
            Err(shell::not_written(&p, &action, &typed))
        }
    }
}
