//! How sendings of crews look: waiting ones with what can be done, settled ones with what was.

use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};
use calc::Message;
use calc::decision::Verdict;
use calc::working::{fixed, places};
use maud::{Markup, html};
use shop::crew::{Inbox, Sent, SentState, basis, beside};
use shop::entry::CrewJointsSent;
use shop::job::Job;
use shop::joint_numbers::JointNumbers;
use shop::sheet::{SettingBasis, Shelf};
use shop::tables::ToolRow;
use shop::trial::own::OddValue;
use store::Names;
use uuid::Uuid;

use super::run::run;
use super::{PATH, load};
use crate::app::{App, failed};
use crate::fleet::lot_check;
use crate::forms::{FieldErrors, Typed};
use crate::job::papers::cards;
use crate::job::{names, past};
use crate::shell::{Field, Form, Page, error_page, page_with_errors};
use crate::show;

/// A form that was refused.
pub struct Refused<'a> {
    pub typed: &'a Typed,
    pub errors: &'a FieldErrors,
}

/// What a sending is shown with.
struct Shown<'a> {
    app: &'a App,
    p: &'a Page,
    shelf: &'a Shelf,
    names: &'a Names,
    refused: Option<&'a Refused<'a>>,
}

/// The way to the inbox with the number that waits; nothing if none does.
pub(crate) async fn count(app: &App, p: &Page) -> Result<Markup, Response> {
    let rows = app.store.inboxes_waiting().await.map_err(failed)?;
    let waiting: u32 = rows.iter().map(|row| row.waiting).sum();
    let text = Message::new("inbox-link").with("count", waiting);
    Ok(html! { @if waiting > 0 { a href=(PATH) { (p.say(&text)) } } })
}

/// Everything that waits, the newest tool first.
pub async fn list(
    app: &App,
    p: &Page,
    status: StatusCode,
    refused: Option<&Refused<'_>>,
) -> Result<Response, Response> {
    let rows = app.store.inboxes_waiting().await.map_err(failed)?;
    let (shelf, names) = (app.store.shelf(), app.store.names().await.map_err(failed)?);
    let shown = Shown {
        app,
        p,
        shelf: &shelf,
        names: &names,
        refused,
    };
    let mut tools = Vec::new();
    for row in &rows {
        let inbox = load(app, row.tool).await.map_err(failed)?;
        let tool = app.store.tool(row.tool).await.map_err(failed)?;
        let jobs = past::jobs(&app.store, row.tool).await.map_err(failed)?;
        tools.extend(tool.map(|tool| (tool, inbox, jobs)));
    }
    // A bad joint somewhere comes before all else.
    tools.sort_by_key(|(_, inbox, _)| !inbox.waiting().any(|sent| sent.body.bad));
    let title = p.t("inbox-title");
    let body = html! {
        div.plain {
            h1 { (title) }
            p.hint { (p.t("inbox-hint")) " " a href=(lot_check::PATH) { (p.t("lot-link")) } }
            @if tools.is_empty() { p.empty { (p.t("inbox-empty")) } }
            @for (tool, inbox, jobs) in &tools {
                h2 { a href=(format!("/tools/{}", tool.tool)) { (name(p, &shelf, tool)) } }
                @for sent in inbox.to_look_at() { (shown.sending(tool.tool, jobs, sent)) }
            }
        }
    };
    let none = FieldErrors::new();
    let (form, errors) = match refused {
        Some(refused)
            if body
                .0
                .contains(&format!("<form id=\"{}\"", refused.typed.get("form"))) =>
        {
            (refused.typed.get("form"), refused.errors)
        }
        // It is settled by now, or the form was made by hand: the mistakes have no place of their own.
        Some(refused) => ("", refused.errors),
        None => ("", &none),
    };
    let page = page_with_errors(p, &title, form, errors, body);
    Ok((status, Html(page.into_string())).into_response())
}

/// What crews sent with this tool, and the form that makes its links void; for the page of the tool.
pub(crate) async fn of_tool(app: &App, p: &Page, tool: Uuid) -> Result<Markup, Response> {
    section(app, p, tool, None).await
}

/// A form of the tool's page as it was refused, on a page of its own.
pub async fn tool_again(
    app: &App,
    p: &Page,
    tool: Uuid,
    refused: &Refused<'_>,
) -> Result<Response, Response> {
    let row = app.store.tool(tool).await.map_err(failed)?;
    let row = row.ok_or_else(|| error_page(p, StatusCode::NOT_FOUND, None))?;
    let title = name(p, &app.store.shelf(), &row);
    let section = section(app, p, tool, Some(refused)).await?;
    let body = html! { div.plain { h1 { (title) } (section) } };
    let page = page_with_errors(p, &title, refused.typed.get("form"), refused.errors, body);
    let status = StatusCode::UNPROCESSABLE_ENTITY;
    Ok((status, Html(page.into_string())).into_response())
}

async fn section(
    app: &App,
    p: &Page,
    tool: Uuid,
    refused: Option<&Refused<'_>>,
) -> Result<Markup, Response> {
    let inbox = load(app, tool).await.map_err(failed)?;
    let (shelf, names) = (app.store.shelf(), app.store.names().await.map_err(failed)?);
    let shown = Shown {
        app,
        p,
        shelf: &shelf,
        names: &names,
        refused,
    };
    let jobs = past::jobs(&app.store, tool).await.map_err(failed)?;
    let card = cards::of_tool(app, p, tool).await?;
    let link = card.and_then(|card| card.link);
    Ok(html! { (shown.tool(&inbox, &jobs)) (on_card(app, p, link.as_deref())) })
}

/// The link on the tool's card, or how cards come by one.
fn on_card(app: &App, p: &Page, link: Option<&str>) -> Markup {
    html! {
        @if let Some(link) = link { p { a href=(link) { (p.t("card-link")) } } }
        @else if !app.links.has_address() { p.hint { (p.t("card-link-how")) } }
        @else { p.hint { (p.t("card-link-none")) } }
    }
}

fn name(p: &Page, shelf: &Shelf, tool: &ToolRow) -> String {
    let newest = shelf.newest(shop::sheet::Kind::ToolModel, &tool.model);
    let model = newest.and_then(|pin| shelf.model(&pin));
    let model = model.map_or(tool.model.as_str(), |m| m.name.as_str());
    let text = Message::new("job-tool")
        .with("model", model)
        .with("serial", tool.serial.as_str());
    p.say(&text)
}

impl Shown<'_> {
    fn tool(&self, inbox: &Inbox, jobs: &[Job]) -> Markup {
        let p = self.p;
        let blank = Form::blank(p, "renew-links");
        let refused = self.refused.filter(|_| self.is_refused("renew-links"));
        let form = refused.map_or(blank, |refused| {
            Form::new(p, "renew-links", refused.typed, refused.errors)
        });
        html! {
            h2 { (p.t("inbox-of-tool")) }
            @if inbox.sent.is_empty() { p.hint { (p.t("inbox-none")) } }
            (run(p, inbox, self.shelf))
            @for sent in inbox.to_look_at_and_settled() { (self.sending(inbox.tool, jobs, sent)) }
            details open[refused.is_some()] {
                summary { (p.t("renew-links")) }
                p.hint { (p.say(&Message::new("renew-links-hint").with("count", inbox.renewed))) }
                (form.wrap(&format!("{PATH}/{}/renew-links", inbox.tool), None, html! {
                    (form.text(&Field::new("reason", p.t("inbox-reason"))))
                    div.buttons { button { (p.t("renew-links-go")) } }
                }))
            }
        }
    }

    fn person(&self, key: &shop::entry::PersonKey) -> String {
        let name = self.names.get(key).cloned();
        name.unwrap_or_else(|| self.p.t("name-erased"))
    }

    fn stamp(&self, at: jiff::Timestamp, by: &shop::entry::PersonKey) -> String {
        format!("{}, {}", show::moment(at, &self.app.zone), self.person(by))
    }

    /// One sending.
    fn sending(&self, tool: Uuid, jobs: &[Job], sent: &Sent) -> Markup {
        let (p, body) = (self.p, &sent.body);
        let fastener = self.shelf.fastener(&(&body.fastener).into());
        let title = fastener.map_or(body.fastener.id.clone(), |f| f.name.clone());
        let code = Message::new("code-of").with("code", body.code.as_str());
        html! {
            div.result {
                p.what {
                    (title)
                    @if !body.code.is_empty() { ", " (p.say(&code)) }
                    " " small { (self.stamp(sent.at, &sent.by)) }
                }
                @if let (true, Some(seen)) = (body.bad, body.seen) {
                    p { (show::chip(p, Verdict::Reject)) " " b { (p.t("inbox-bad")) } " " (p.t(names::seen(seen))) }
                }
                p {
                    b { (self.set(body)) }
                    @if let Some(measured) = self.measured(body) { " · " (measured) }
                    " · " (p.say(&Message::new(if body.bad { "inbox-joints-bad" } else { "inbox-joints" })
                        .with("count", body.joints.len())))
                }
                (self.beside(body, jobs))
                @if !body.joints.is_empty() {
                    (self.readings(sent))
                    @if let Some(numbers) = fastener.and_then(|f| JointNumbers::of_crew(&body.joints, f)) {
                        (show::joint_numbers(p, &numbers))
                    }
                }
                @if !body.note.is_empty() { p { "“" (body.note) "”" } }
                (self.state(tool, sent))
            }
        }
    }

    /// What the tool was set to.
    fn set(&self, body: &CrewJointsSent) -> String {
        let text = match (body.turns, basis(body, self.shelf)) {
            (Some(turns), _) => {
                return format!("{} {}", paper::fraction(turns), self.p.t("turns"));
            }
            (None, Some(SettingBasis::FullStroke)) => "setting-full",
            (None, Some(SettingBasis::Force)) => "setting-force",
            (None, _) => "inbox-no-turns",
        };
        self.p.t(text)
    }

    /// What the turns should be near to, and whether they are.
    fn beside(&self, body: &CrewJointsSent, jobs: &[Job]) -> Markup {
        let p = self.p;
        let found = beside(body, jobs, self.shelf);
        let given = body.given.map(|given| given.turns);
        let each = [
            ("inbox-given", given),
            ("inbox-table", found.table),
            ("inbox-signed-off", found.signed_off),
        ];
        let known = each.into_iter().filter_map(|(text, turns)| {
            let turns = paper::fraction(turns.filter(|_| body.turns.is_some())?);
            Some(p.say(&Message::new(text).with("turns", turns)))
        });
        let known: Vec<String> = known.collect();
        html! {
            @if !found.belongs { p { span.v.und { (p.t("inbox-apart")) } " " (p.t("inbox-apart-why")) } }
            @if let Some(odd) = found.odd { p { span.v.und { (p.t("inbox-odd")) } " " (odd_text(p, &odd)) } }
            @if !known.is_empty() { p.hint { (known.join(" · ")) } }
        }
    }

    /// What the setting was read from; `None` where nothing is measured for it.
    fn measured(&self, body: &CrewJointsSent) -> Option<String> {
        let Some(mm) = body.measured_mm else {
            let by_turns = basis(body, self.shelf).is_none_or(SettingBasis::is_by_turns);
            return by_turns.then(|| self.p.t("inbox-unmeasured"));
        };
        let fastener = self.shelf.fastener(&(&body.fastener).into());
        let by_stick_out = fastener.is_some_and(|f| f.stick_out_mm.is_some());
        let id = if by_stick_out {
            "inbox-stick-out"
        } else {
            "inbox-stroke"
        };
        Some(self.p.say(&Message::new(id).number("mm", mm, 2)))
    }

    fn readings(&self, sent: &Sent) -> Markup {
        let fastener = self.shelf.fastener(&(&sent.body.fastener).into());
        let p = self.p;
        html! {
            table.stack {
                thead { tr { th { (p.t("inbox-joint")) } th { (p.t("match-criterion")) } th { (p.t("inbox-reading")) } th { (p.t("match-verdict-column")) } } }
                tbody {
                    @for (i, joint) in sent.body.joints.iter().enumerate() {
                        @for r in &joint.readings {
                            @let criterion = fastener.and_then(|f| f.criterion(&r.criterion));
                            tr {
                                td data-label=(p.t("inbox-joint")) { (i + 1) }
                                td data-label=(p.t("match-criterion")) { (criterion.map_or(r.criterion.as_str(), |c| c.name.as_str())) }
                                td.n data-label=(p.t("inbox-reading")) {
                                    (fixed(r.value, places(r.value, 2))) " " (r.unit)
                                    @if let Some(expanded) = r.expanded { " ± " (fixed(expanded, 2)) }
                                }
                                td data-label=(p.t("match-verdict-column")) { (show::chip(p, r.outcome.into())) }
                            }
                        }
                    }
                }
            }
        }
    }

    fn state(&self, tool: Uuid, sent: &Sent) -> Markup {
        let p = self.p;
        match &sent.state {
            SentState::Accepted { at, by, note } => html! {
                p.note.ok[!sent.body.bad] { b { (p.t(if sent.body.bad { "inbox-noted" } else { "inbox-accepted" })) } " " (note) small { (self.stamp(*at, by)) } }
                (self.decline(tool, sent.version, "inbox-take-back"))
            },
            SentState::Declined { at, by, reason } => html! {
                p.note { b { (p.t("inbox-declined")) } " " (reason) small { (self.stamp(*at, by)) } }
            },
            SentState::Waiting => html! {
                (self.settle(tool, sent.version, "accept", if sent.body.bad { "inbox-note" } else { "inbox-accept" }))
                (self.decline(tool, sent.version, "inbox-decline-summary"))
            },
        }
    }

    /// The form that declines, or takes back what was accepted, folded.
    fn decline(&self, tool: Uuid, version: u32, summary: &str) -> Markup {
        html! {
            details open[self.is_refused(&id("decline", tool, version))] {
                summary { (self.p.t(summary)) }
                (self.settle(tool, version, "decline", "inbox-decline"))
            }
        }
    }

    fn is_refused(&self, id: &str) -> bool {
        self.refused.is_some_and(|r| r.typed.get("form") == id)
    }

    /// The form that accepts or declines.
    fn settle(&self, tool: Uuid, version: u32, act: &str, button: &str) -> Markup {
        let id = id(act, tool, version);
        let refused = self.refused.filter(|_| self.is_refused(&id));
        let form = refused.map_or(Form::blank(self.p, &id), |r| {
            Form::new(self.p, &id, r.typed, r.errors)
        });
        form.wrap(&format!("{PATH}/{tool}/{act}"), None, html! {
            input type="hidden" name="entry" value=(version);
            @if act == "decline" { (form.text(&Field::new("reason", self.p.t("inbox-reason")))) }
            div.buttons { button { (self.p.t(button)) } }
        })
    }
}

/// Why values are odd.
fn odd_text(p: &Page, odd: &OddValue) -> String {
    let why = Message::new("inbox-odd-why")
        .number("read", odd.read_mm, 2)
        .number("foretold", odd.foretold_mm, 2)
        .number("most", odd.most_off_mm, 2);
    p.say(&why)
}

fn id(act: &str, tool: Uuid, version: u32) -> String {
    format!("{act}-{}-{version}", tool.simple())
}
