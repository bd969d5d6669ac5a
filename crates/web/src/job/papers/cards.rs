//! Set-up cards of many tools in one file.

use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use calc::Message;
use maud::html;
use paper::model::SetupCard;
use store::ToolFilter;
use uuid::Uuid;

use super::{card, pdf, typeset};
use crate::app::{App, failed};
use crate::job::{load, sheets_lost};
use crate::shell::{Page, refusal};

/// The address of the file with every card.
pub const PATH: &str = "/tools/set-up-cards.pdf";

/// Every card as PDF.
pub(super) async fn answer(State(app): State<App>, p: Page) -> Result<Response, Response> {
    let cards = of_tools(&app, &p, "", &mut |_, _| ()).await?;
    if cards.is_empty() {
        let (title, text) = (Message::new("tools-title"), Message::new("tools-no-cards"));
        return Err(refusal(&p, StatusCode::NOT_FOUND, &title, &text, html! {}));
    }
    let words = p.words;
    let bytes = typeset(move || paper::setup_cards(&cards, words)).await?;
    Ok(pdf("set-up-cards.pdf", bytes))
}

/// The card of job `number`; `None` before its set-up was signed off.
pub(crate) async fn of_job(
    app: &App,
    p: &Page,
    number: u32,
) -> Result<Option<SetupCard>, Response> {
    let loaded = load(app, p, number).await?;
    let v = loaded.view(app, p, None).ok_or_else(sheets_lost)?;
    card::card(app, &v, &loaded).await
}

/// The card in force of each tool with `text` in its serial, model or owner. `tell` hears how many
/// tools of how many were looked at.
pub(crate) async fn of_tools(
    app: &App,
    p: &Page,
    text: &str,
    tell: &mut (dyn FnMut(usize, usize) + Send),
) -> Result<Vec<SetupCard>, Response> {
    let filter = ToolFilter {
        text: text.to_owned(),
        limit: u32::MAX,
        offset: 0,
    };
    let tools = app.store.tools(&filter).await.map_err(failed)?;
    let mut cards = Vec::new();
    for (i, row) in tools.iter().enumerate() {
        cards.extend(of_tool(app, p, row.tool).await?);
        tell(i + 1, tools.len());
    }
    Ok(cards)
}

/// The card in force of `tool`: the newest, unless a later job may have moved the setting.
pub(crate) async fn of_tool(
    app: &App,
    p: &Page,
    tool: Uuid,
) -> Result<Option<SetupCard>, Response> {
    for row in app.store.jobs_of_tool(tool).await.map_err(failed)? {
        let loaded = load(app, p, row.number).await?;
        let v = loaded.view(app, p, None).ok_or_else(sheets_lost)?;
        let card = card::card(app, &v, &loaded).await?;
        if card.is_some() || !loaded.job.kept_setting() {
            return Ok(card);
        }
    }
    Ok(None)
}
