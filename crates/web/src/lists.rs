//! The lists: jobs on the bench, tools, one tool, sheets, one sheet, and the find box.

use axum::Router;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::get;
use calc::Message;
use maud::{Markup, html};
use paper::Code;
use serde::Deserialize;
use shop::job::Stage;
use shop::sheet::Kind;
use shop::tables::JobRow;
use store::{Found, JobFilter, ToolFilter, Which};
use uuid::Uuid;

use crate::app::{App, failed};
use crate::calculators;
use crate::inbox;
use crate::job::names;
use crate::job::papers::cards;
use crate::nose_match;
use crate::setup;
use crate::shell::{self, Nav, Page, error_page};
use crate::show;
use crate::to_sign;

/// The routes of the lists.
pub fn routes() -> Router<App> {
    Router::new()
        .route("/", get(bench))
        .route("/find", get(find))
        .route("/tools", get(tools))
        .route("/tools/{tool}", get(tool))
        .route("/sheets", get(sheets))
        .route("/sheets/{kind}/{id}", get(sheet))
}

fn plain(p: &Page, title: &str, body: Markup) -> Response {
    let body = html! { div.plain { h1 { (show::unbroken(title)) } (body) } };
    Html(shell::page(p, title, body).into_string()).into_response()
}

#[derive(Deserialize)]
struct BenchQuery {
    #[serde(default)]
    all: bool,
    #[serde(default)]
    after: u32,
}

/// Rows on one page of a list.
const ON_A_PAGE: u32 = 200;

/// Takes the row too many off `rows`, which says that there are more; where the next page begins.
fn next_page<T>(rows: &mut Vec<T>, after: u32) -> Option<u32> {
    let more = rows.len() > ON_A_PAGE as usize;
    rows.truncate(ON_A_PAGE as usize);
    more.then(|| after.saturating_add(ON_A_PAGE))
}

/// The ways to the pages before and after. `path` ends with `?` or `&`.
fn pages(p: &Page, path: &str, after: u32, next: Option<u32>) -> Markup {
    html! {
        @if after > 0 || next.is_some() {
            nav.buttons aria-label=(p.t("list-pages")) {
                @if after > 0 {
                    a rel="prev" href=(format!("{path}after={}", after.saturating_sub(ON_A_PAGE))) { (p.t("list-previous")) }
                }
                @if let Some(next) = next {
                    a rel="next" href=(format!("{path}after={next}")) { (p.t("list-next")) }
                }
            }
        }
    }
}

async fn bench(
    State(app): State<App>,
    p: Page,
    Query(query): Query<BenchQuery>,
) -> Result<Response, Response> {
    let p = p.at(Nav::Bench);
    let filter = JobFilter {
        which: if query.all { Which::All } else { Which::Open },
        limit: ON_A_PAGE + 1,
        offset: query.after,
        ..JobFilter::default()
    };
    let mut jobs = app.store.jobs(&filter).await.map_err(failed)?;
    let next = next_page(&mut jobs, query.after);
    let path = if query.all { "/?all=true&" } else { "/?" };
    let names = app.store.names().await.map_err(failed)?;
    let inbox = inbox::count(&app, &p).await?;
    let to_sign = app.store.jobs_to_sign().await.map_err(failed)?;
    let (_, today) = app.now();
    let shelf = app.store.shelf();
    let stale = to_sign::stale(&app, &to_sign).await.map_err(failed)?;
    let (to_prepare, to_sign): (Vec<_>, Vec<_>) = to_sign
        .into_iter()
        .partition(|job| stale.contains(&job.number));
    let model = |id: &str| {
        shelf
            .newest(Kind::ToolModel, id)
            .and_then(|pin| shelf.model(&pin))
            .map_or(id.to_owned(), |m| m.name.clone())
    };
    Ok(plain(
        &p,
        &p.t("bench-title"),
        html! {
            div.buttons {
                a.button href="/receive" { (p.t("bench-receive")) }
                @if query.all { a href="/" { (p.t("bench-open-only")) } }
                @else { a href="/?all=true" { (p.t("bench-all")) } }
                (inbox)
            }
            (to_sign::listed(&p.t("bench-to-sign"), &to_sign))
            (to_sign::listed(&p.t("bench-to-prepare"), &to_prepare))
            @if jobs.is_empty() { p.empty { (p.t("bench-empty")) } }
            ul.cards {
                @for job in &jobs {
                    li {
                        h3 { a href=(format!("/jobs/{}", job.number)) {
                            (job.number) " · " (model(&job.model)) ", " (job.serial)
                        } }
                        p.kick { (names.get(&job.customer).map_or(p.t("name-erased"), Clone::clone)) }
                        p.sub { "“" (job.complaint) "”" }
                        (stage_marks(&p, job))
                        @if let (Some(due), None) = (job.due, job.closed) {
                            div.due.late[due < today] { b { (show::days_left(&p, due, today)) } }
                        }
                        @if !job.waiting.is_empty() { span.wait { (p.t(waiting(&job.waiting))) } }
                        @if !job.signature.is_empty() {
                            @let said = if stale.contains(&job.number) { "bench-signature-stale" } else { "bench-signature" };
                            span.wait { (p.say(&Message::new(said).with("number", job.signature.as_str()))) }
                        }
                    }
                }
            }
            (pages(&p, path, query.after, next))
        },
    ))
}

fn waiting(key: &str) -> &'static str {
    match key {
        "parts" => "wait-parts",
        "yes" => "wait-yes",
        _ => "wait-tool",
    }
}

/// Seven marks on a rule, and the name of the stage that the job is in.
fn stage_marks(p: &Page, job: &JobRow) -> Markup {
    let at = Stage::parse(&job.stage);
    let name = at.map_or_else(|| names::ended(&job.stage), names::stage);
    html! {
        div.mini aria-hidden="true" {
            @for stage in Stage::ALL { span.done[at.is_none_or(|at| stage < at)].now[at == Some(stage)] {} }
        }
        span.stage-name { (p.t(name)) }
    }
}

/// A job on a list that is not the bench.
fn job_card(p: &Page, job: &JobRow, app: &App) -> Markup {
    html! {
        h3 { a href=(format!("/jobs/{}", job.number)) { (job.number) " · " (job.serial) } }
        p.kick { (show::moment(job.opened, &app.zone)) }
        p.sub { "“" (job.complaint) "”" }
        (stage_marks(p, job))
    }
}

#[derive(Deserialize)]
struct FindQuery {
    #[serde(default)]
    q: String,
}

async fn find(
    State(app): State<App>,
    p: Page,
    Query(query): Query<FindQuery>,
) -> Result<Response, Response> {
    // A scanned label says what it is.
    let text = match Code::read(&query.q) {
        Some(Code::Job(number)) => number.to_string(),
        Some(Code::Tool(serial)) => serial,
        None => query.q.clone(),
    };
    let found = app.store.find(&text).await.map_err(failed)?;
    match found.as_slice() {
        [Found::Job(job)] => {
            return Ok(Redirect::to(&format!("/jobs/{}", job.number)).into_response());
        }
        [Found::Tool(tool)] => {
            return Ok(Redirect::to(&format!("/tools/{}", tool.tool)).into_response());
        }
        _ => {}
    }
    Ok(plain(
        &p,
        &p.t("find-title"),
        html! {
            @if found.is_empty() {
                p { (p.say(&Message::new("find-nothing").with("text", query.q.trim()))) }
                p { a href=(format!("/receive?serial={}", encoded(&query.q))) { (p.t("find-receive")) } }
            }
            ul.cards {
                @for hit in &found {
                    li {
                        @match hit {
                            Found::Job(job) => { (job_card(&p, job, &app)) }
                            Found::Tool(tool) => {
                                h3 { a href=(format!("/tools/{}", tool.tool)) { (tool.serial) } }
                                p.kick { (tool.model) }
                            }
                        }
                    }
                }
            }
        },
    ))
}

fn encoded(text: &str) -> String {
    form_urlencoded::byte_serialize(text.trim().as_bytes()).collect()
}

#[derive(Deserialize)]
struct ToolsQuery {
    #[serde(default)]
    after: u32,
}

async fn tools(
    State(app): State<App>,
    p: Page,
    Query(query): Query<ToolsQuery>,
) -> Result<Response, Response> {
    let p = p.at(Nav::Tools);
    let filter = ToolFilter {
        limit: ON_A_PAGE + 1,
        offset: query.after,
        ..ToolFilter::default()
    };
    let mut tools = app.store.tools(&filter).await.map_err(failed)?;
    let next = next_page(&mut tools, query.after);
    let names = app.store.names().await.map_err(failed)?;
    Ok(plain(
        &p,
        &p.t("tools-title"),
        html! {
            @if tools.is_empty() { p.empty { (p.t("tools-empty")) } }
            @else { p { a href=(cards::PATH) { (p.t("tools-cards")) } } }
            p { a href=(setup::PATH) { (p.t("crew-link")) } }
            table.stack {
                thead { tr { th { (p.t("field-serial")) } th { (p.t("field-model")) } th { (p.t("field-customer")) } th { (p.t("field-counter")) } th { (p.t("tools-last")) } } }
                tbody {
                    @for tool in &tools {
                        tr {
                            td data-label=(p.t("field-serial")) { a href=(format!("/tools/{}", tool.tool)) { (tool.serial) } }
                            td data-label=(p.t("field-model")) { (tool.model) }
                            td data-label=(p.t("field-customer")) { (names.get(&tool.owner).map_or(p.t("name-erased"), Clone::clone)) }
                            td.n data-label=(p.t("field-counter")) { (tool.counter.map_or(String::new(), |n| p.words.count(n))) }
                            td data-label=(p.t("tools-last")) { @if let Some(n) = tool.last_job { a href=(format!("/jobs/{n}")) { (n) } } }
                        }
                    }
                }
            }
            (pages(&p, "/tools?", query.after, next))
        },
    ))
}

async fn tool(
    State(app): State<App>,
    p: Page,
    Path(tool): Path<Uuid>,
) -> Result<Response, Response> {
    let p = p.at(Nav::Tools);
    let row = app.store.tool(tool).await.map_err(failed)?;
    let row = row.ok_or_else(|| error_page(&p, StatusCode::NOT_FOUND, None))?;
    let jobs = app.store.jobs_of_tool(tool).await.map_err(failed)?;
    let names = app.store.names().await.map_err(failed)?;
    let title = p.say(
        &Message::new("job-tool")
            .with("model", row.model.as_str())
            .with("serial", row.serial.as_str()),
    );
    let crews = inbox::of_tool(&app, &p, tool).await?;
    let idle = jobs.iter().all(|j| j.closed.is_some());
    Ok(plain(
        &p,
        &title,
        html! {
            dl.facts {
                dt { (p.t("field-customer")) } dd { (names.get(&row.owner).map_or(p.t("name-erased"), Clone::clone)) }
                @if let Some(n) = row.counter { dt { (p.t("field-counter")) } dd { (p.words.count(n)) } }
            }
            @if idle {
                div.buttons { a.button href=(format!("/receive?model={}&serial={}", encoded(&row.model), encoded(&row.serial))) { (p.t("bench-receive")) } }
            }
            h2 { (p.t("tool-jobs")) }
            ul.cards {
                @for job in &jobs {
                    li { (job_card(&p, job, &app)) }
                }
            }
            (crews)
        },
    ))
}

fn kind_name(kind: Kind) -> &'static str {
    match kind {
        Kind::ToolModel => "kind-tool-model",
        Kind::Fastener => "kind-fastener",
        Kind::NoseSet => "kind-nose-set",
        Kind::Gauge => "kind-gauge",
        Kind::FaultModel => "kind-fault-model",
        Kind::Shop => "kind-shop",
        Kind::Rig => "kind-rig",
    }
}

async fn sheets(State(app): State<App>, p: Page) -> Response {
    let p = p.at(Nav::Sheets);
    let shelf = app.store.shelf();
    plain(
        &p,
        &p.t("sheets-title"),
        html! {
                    p.hint { (p.t("sheets-hint")) }
        p.links {
                        a href=(nose_match::PATH) { (p.t("match-link")) } " "
                        a href=(calculators::PATH) { (p.t("calculators-title")) }
                    }
                    @for kind in Kind::ALL {
                        @let found: Vec<_> = shelf.in_force(kind).collect();
                        @if !found.is_empty() {
                            h2 { (p.t(kind_name(kind))) }
                            ul.cards {
                                @for revision in found {
                                    li {
                                        h3 { a href=(format!("/sheets/{}/{}", kind.key(), revision.sheet.id())) { (revision.sheet.name()) } }
                                        p.kick { (p.say(&Message::new("sheet-revision").with("n", revision.number))) }
                                    }
                                }
                            }
                        }
                    }
                },
    )
}

async fn sheet(
    State(app): State<App>,
    p: Page,
    Path((kind, id)): Path<(String, String)>,
) -> Result<Response, Response> {
    let p = p.at(Nav::Sheets);
    let shelf = app.store.shelf();
    let not_here = || error_page(&p, StatusCode::NOT_FOUND, None);
    let kind = Kind::parse(&kind).ok_or_else(not_here)?;
    let history = shelf.history(kind, &id);
    let newest = history.last().ok_or_else(not_here)?;
    Ok(plain(
        &p,
        newest.sheet.name(),
        html! {
            p.hint { (p.t(kind_name(kind))) }
            @if shelf.is_withdrawn(kind, &id) { p.warn { (p.t("sheet-withdrawn")) } }
            @for revision in history.iter().rev() {
                details open[revision.number == newest.number] {
                    summary { (p.say(&Message::new("sheet-revision").with("n", revision.number))) }
                    pre tabindex="0" { (revision.text) }
                }
            }
        },
    ))
}

#[cfg(test)]
mod tests {
    use super::next_page;

    #[test]
    fn there_is_a_next_page_only_after_a_full_one_with_more_behind_it() {
        for found in [0, 200] {
            let mut rows = vec![(); found];
            assert_eq!(next_page(&mut rows, 0), None);
            assert_eq!(rows.len(), found);
        }
        let mut rows: Vec<usize> = (0..201).collect();
        assert_eq!(next_page(&mut rows, 400), Some(600));
        assert_eq!(rows.last(), Some(&199), "the last one begins the next page");
    }
}
