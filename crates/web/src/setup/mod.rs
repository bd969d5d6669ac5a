//! The crew's page at the work place: no job, no login, one hand. From tool, fastener and stick-out to
//! the setting, or a plain refusal.
//!
//! It shows what sheets say and nothing of the record: whoever reaches the server may read it. Over the
//! link on a tool's card it shows the turns of that very tool, as the bench would, and a crew can send the
//! joints that it set, good or bad; they wait in the tool's inbox.

mod answer;
mod choice;
mod known;
mod link;
mod measure;
mod page;
mod send;
mod steps;

use axum::Router;
use axum::extract::{Extension, RawQuery, State};
use axum::http::StatusCode;
use axum::http::header::{HeaderMap, RETRY_AFTER, SET_COOKIE};
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::get;
use calc::Message;
use shop::crew::LinkFor;
use shop::tables::ToolRow;
use store::StoreError;

use crate::app::App;
use crate::forms::{FieldErrors, Typed};
use crate::inbox;
use crate::job::past;
use crate::security::{self, MustWait};
use crate::shell::{self, Page};
use choice::Choice;
use known::Known;
pub use link::CardLinks;
use link::Link;
use measure::Asked;

/// Where it is. The guard lets everybody come to this path and no other.
pub(crate) const PATH: &str = "/setup";

/// Fields that say what is set with what.
const CHOICE: [&str; 4] = ["model", "fastener", "code", "nose"];

/// Longest serial that is shown as it was typed.
const LONGEST_SERIAL: usize = 60;

/// The route of the page.
pub fn routes() -> Router<App> {
    Router::new().route(PATH, get(show).post(send))
}

async fn show(
    State(app): State<App>,
    p: Page,
    RawQuery(query): RawQuery,
    headers: HeaderMap,
) -> Result<Response, Response> {
    let asked = Typed::from_body(query.unwrap_or_default().as_bytes());
    let is_asked = CHOICE.iter().any(|field| asked.has(field));
    let last = (!is_asked)
        .then(|| security::last_setup(&headers))
        .flatten();
    let is_remembered = last.is_some();
    let typed = match last {
        Some(last) => Typed::from_body(last.as_bytes()),
        None => asked,
    };
    let link = Link::of(&app, &typed).await?;
    let known = Known::of(&app, &link, &typed).await?;
    let whole = whole(&app, &p, &typed, (&link, &known), None, is_remembered);
    Ok(whole)
}

/// The page for what was asked, with the form of joints as it was refused.
fn whole(
    app: &App,
    p: &Page,
    typed: &Typed,
    (link, known): (&Link, &Known),
    sending: Option<&FieldErrors>,
    is_remembered: bool,
) -> Response {
    // Nobody's page: without the places of the shop and without its people.
    let mut p = p.clone();
    p.visitor.inside = false;
    let shelf = app.store.shelf();
    let desk = app.desk(&shelf);
    let choice = Choice::of(typed, &shelf);
    let asked = Asked::of(&p, typed, &choice, &desk);
    let has_errors = !choice.errors.is_empty() || !asked.errors.is_empty() || sending.is_some();
    let view = page::View {
        p: &p,
        typed,
        desk,
        zone: &app.zone,
        choice: &choice,
        asked: &asked,
        link,
        known,
        sending,
        is_remembered,
    };
    let body = Html(view.whole().into_string());
    let status = if has_errors {
        StatusCode::UNPROCESSABLE_ENTITY
    } else {
        StatusCode::OK
    };
    let mut answer = (status, body).into_response();
    if !has_errors && choice.sheets().is_some() && !is_remembered {
        let kept = security::keep_setup(&choice.query(typed));
        answer.headers_mut().append(SET_COOKIE, kept);
    }
    answer
}

/// Joints from a crew: the link on the card is the authority for them.
async fn send(
    State(app): State<App>,
    p: Page,
    Extension(MustWait(wait)): Extension<MustWait>,
    typed: Typed,
) -> Result<Response, Response> {
    let link = Link::of(&app, &typed).await?;
    let known = Known::of(&app, &link, &typed).await?;
    let refuse =
        |errors: &FieldErrors| whole(&app, &p, &typed, (&link, &known), Some(errors), false);
    if let Some(wait) = wait {
        let minutes = wait.as_secs().div_ceil(60);
        let message = Message::new("crew-send-wait").with("minutes", minutes);
        let mut answer = refuse(&FieldErrors::one("", message));
        *answer.status_mut() = StatusCode::TOO_MANY_REQUESTS;
        return Ok(([(RETRY_AFTER, wait.as_secs().to_string())], answer).into_response());
    }
    let shelf = app.store.shelf();
    let choice = Choice::of(&typed, &shelf);
    let Some((held, sheets)) = link.held().zip(choice.sheets()) else {
        let id = match link {
            Link::Void(_) => "crew-link-void",
            _ => "crew-link-wrong",
        };
        let mut answer = refuse(&FieldErrors::one("", Message::new(id)));
        *answer.status_mut() = StatusCode::FORBIDDEN;
        return Ok(answer);
    };
    let asked = Asked::of(&p, &typed, &choice, &app.desk(&shelf));
    let taken = send::Taken::of(&typed, &asked, &sheets, &known.past).and_then(|taken| {
        Ok((
            taken.left_out,
            send::command(&p, &typed, &held.link, sheets.fastener, &taken)?,
        ))
    });
    let (left_out, command) = match taken {
        Ok(taken) => taken,
        Err(errors) => return Ok(refuse(&errors)),
    };
    // Nothing is written for what would be refused, not even a name.
    if let Err(refusals) = shop::crew::decide(&held.inbox, &command, &shelf) {
        return Ok(refuse(&crate::job::field_errors(refusals)));
    }
    let written = match app.store.person(typed.get("name")).await {
        Ok(by) => inbox::write(&app, held.tool, &typed, by, command).await,
        Err(error) => Err(inbox::NotWritten::Store(error)),
    };
    match written {
        Ok(_) => {
            let mut query = form_urlencoded::Serializer::new(choice.query(&typed));
            query.extend_pairs(link::FIELDS.map(|name| (name, typed.get(name))));
            query.append_pair("sent", send::said(&typed));
            if left_out {
                query.append_pair(send::LEFT_OUT, "1");
            }
            Ok(Redirect::to(&format!("{PATH}?{}", query.finish())).into_response())
        }
        Err(inbox::NotWritten::Fields(errors)) => Ok(refuse(&errors)),
        Err(inbox::NotWritten::Store(StoreError::NoName)) => {
            Ok(refuse(&FieldErrors::one("name", Message::new("crew-who"))))
        }
        Err(inbox::NotWritten::Store(error)) => {
            eprintln!("a crew's joints: {error:?}");
            Err(shell::not_written(&p, PATH, &typed))
        }
    }
}

/// Sends the joints in `typed` for `tool` without its link: whoever is at the prompt has the record itself.
/// Whether a stick-out that is refused was left out.
pub(crate) async fn send_at_prompt(
    app: &App,
    p: &Page,
    tool: &ToolRow,
    typed: &Typed,
) -> Result<bool, inbox::NotWritten> {
    let shelf = app.store.shelf();
    let typed = typed.clone().set("model", &tool.model);
    let choice = Choice::of(&typed, &shelf);
    if !choice.errors.is_empty() {
        return Err(inbox::NotWritten::Fields(choice.errors));
    }
    let Some(sheets) = choice.sheets() else {
        let pick = FieldErrors::one("fastener", Message::new("crew-pick"));
        return Err(inbox::NotWritten::Fields(pick));
    };
    let now = inbox::load(app, tool.tool)
        .await
        .map_err(inbox::NotWritten::Store)?;
    let link = LinkFor {
        model: tool.model.clone(),
        fastener: sheets.fastener.id.clone(),
        code: sheets.code.map_or(String::new(), |code| code.code.clone()),
        nose: sheets.nose.id.clone(),
        renewed: now.renewed,
    };
    let jobs = past::jobs(&app.store, tool.tool).await;
    let jobs = jobs.map_err(inbox::NotWritten::Store)?;
    let desk = app.desk(&shelf);
    let past = past::of_tool(&jobs, &now, &sheets, &desk);
    let asked = Asked::of(p, &typed, &choice, &desk);
    let taken = send::Taken::of(&typed, &asked, &sheets, &past);
    let taken = taken.map_err(inbox::NotWritten::Fields)?;
    let command = send::command(p, &typed, &link, sheets.fastener, &taken);
    let command = command.map_err(inbox::NotWritten::Fields)?;
    let by = app.store.person(typed.get("name")).await;
    let by = by.map_err(inbox::NotWritten::Store)?;
    inbox::write(app, tool.tool, &typed, by, command).await?;
    Ok(taken.left_out)
}

/// The serial as typed or as the card's code brought it.
fn serial(typed: &Typed) -> Option<&str> {
    typed
        .filled("tool")
        .filter(|serial| serial.chars().count() <= LONGEST_SERIAL)
}
