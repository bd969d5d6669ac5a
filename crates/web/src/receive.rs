//! Taking a tool in: the counter's form.

use axum::Router;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::get;
use calc::Message;
use maud::{Markup, html};
use serde::Deserialize;
use shop::entry::PackState;
use shop::job::{Desk, ReceiveIn, Refusals, ToolSeen, make_safe_ticks, receive};
use shop::sheet::{Drive, Kind, Shelf, ToolModel};
use shop::tables::{JobRow, ToolRow};
use store::{AppendError, Request};
use uuid::Uuid;

use crate::app::{App, failed};
use crate::forms::{FieldErrors, Typed, parse_count, parse_date};
use crate::job::{Trouble, field_errors, names, submission};
use crate::shell::{self, Choice, Field, Form, Nav, Page, page_with_errors};

/// The routes of the counter.
pub fn routes() -> Router<App> {
    Router::new().route("/receive", get(show).post(post))
}

#[derive(Deserialize)]
struct Asked {
    #[serde(default)]
    model: String,
    #[serde(default)]
    serial: String,
}

async fn show(
    State(app): State<App>,
    p: Page,
    Query(asked): Query<Asked>,
) -> Result<Response, Response> {
    let p = p.at(Nav::Bench);
    let mut typed = Typed::new();
    let mut model = asked.model.clone();
    if !asked.serial.trim().is_empty() {
        typed = typed.with("serial", asked.serial.trim());
        let known = app
            .store
            .tools_by_serial(asked.serial.trim())
            .await
            .map_err(failed)?;
        if let (Some(tool), true) = (known.first(), model.is_empty()) {
            model = tool.model.clone();
        }
    }
    let shelf = app.store.shelf();
    Ok(answer(
        &p,
        &shelf,
        &model,
        StatusCode::OK,
        &typed,
        &FieldErrors::new(),
    ))
}

fn answer(
    p: &Page,
    shelf: &Shelf,
    model: &str,
    status: StatusCode,
    typed: &Typed,
    errors: &FieldErrors,
) -> Response {
    let pin = shelf.newest(Kind::ToolModel, model);
    let body = match pin.as_ref().and_then(|pin| shelf.model(pin)) {
        Some(model) => whole(p, shelf, model, typed, errors),
        None => first(p, shelf, typed),
    };
    let title = p.t("receive-title");
    let markup = page_with_errors(
        p,
        &title,
        "receive",
        errors,
        html! {
            div.plain { h1 { (title) } (body) }
        },
    );
    (status, Html(markup.into_string())).into_response()
}

/// Serial and model first: the list of what belongs to the tool hangs on them.
fn first(p: &Page, shelf: &Shelf, typed: &Typed) -> Markup {
    let no_errors = FieldErrors::new();
    let form = Form::new(p, "receive-first", typed, &no_errors);
    let models: Vec<Choice> = shelf
        .models()
        .map(|(_, m)| Choice::new(&m.id, &m.name))
        .collect();
    html! {
        @if models.is_empty() { p.note { (p.t("receive-no-models")) } }
        form method="get" action="/receive" {
            (form.text(&Field::new("serial", p.t("field-serial")).hint(p.t("hint-serial"))))
            (form.select(&Field::new("model", p.t("field-model")), &models))
            div.buttons { button { (p.t("button-next")) } }
        }
    }
}

fn whole(
    p: &Page,
    shelf: &Shelf,
    model: &ToolModel,
    typed: &Typed,
    errors: &FieldErrors,
) -> Markup {
    let form = Form::new(p, "receive", typed, errors);
    let symptoms: Vec<Choice> = shelf
        .fault_models()
        .next()
        .map(|(_, faults)| faults.symptoms.as_slice())
        .unwrap_or_default()
        .iter()
        .filter(|s| s.drives.contains(&model.drive))
        .map(|s| Choice::new(&s.id, &s.text))
        .collect();
    let ticks: Vec<Choice> = make_safe_ticks(model.drive)
        .iter()
        .map(|tick| Choice::new(*tick, p.t(names::make_safe(tick))))
        .collect();
    html! {
        p.kick { (model.name) ", " (p.t(names::drive(model.drive))) " · " a href="/receive" { (p.t("receive-other")) } }
        (form.wrap("/receive", None, html! {
            input type="hidden" name="model" value=(model.id);
            p.warn { b { (p.t("receive-safe-first")) } small { (p.t("source-energy")) } }
            (form.ticks(&Field::new("made_safe", p.t("field-made-safe")), &ticks))
            (form.text(&Field::new("serial", p.t("field-serial")).hint(p.t("hint-serial"))))
            (form.ticks(&Field::new("new_tool", p.t("field-new-tool")), &[Choice::new("yes", p.t("new-tool-yes"))]))
            (form.text(&Field::new("customer", p.t("field-customer")).hint(p.t("hint-customer"))))
            (form.count(&Field::new("counter", p.t("field-counter")).hint(p.t("hint-counter")).short()))
            (form.area(&Field::new("complaint", p.t("field-complaint")).hint(p.t("hint-complaint"))))
            (form.ticks(&Field::new("symptoms", p.t("field-symptoms")), &symptoms))
            (kit(p, &form, model))
            @if model.drive == Drive::Battery { (pack(p, &form)) }
            (form.text(&Field::new("sold", p.t("field-sold")).hint(p.t("hint-date")).short()))
            (form.text(&Field::new("due", p.t("field-due")).hint(p.t("hint-date")).short()))
            div.buttons { button { (p.t("button-receive")) } }
        }))
    }
}

fn kit(p: &Page, form: &Form, model: &ToolModel) -> Markup {
    html! {
        h2 { (p.t("field-came")) }
        p.hint { (p.t("hint-came")) }
        @for (i, item) in model.kit.iter().enumerate() {
            @let name = kit_name(i);
            @let hint = if item.internal { "hint-kit-internal" } else { "hint-kit" };
            (form.count(&Field::new(&name, &item.item).short()
                .hint(p.say(&Message::new(hint).with("count", item.count)))))
        }
    }
}

fn kit_name(index: usize) -> String {
    format!("kit-{}", index + 1)
}

fn pack(p: &Page, form: &Form) -> Markup {
    let choices = PACKS.map(|(key, pack)| Choice::new(key, p.t(names::pack(pack))));
    html! {
        (form.radios(&Field::new("pack", p.t("field-pack")).hint(p.t("hint-pack")), &choices))
        p.warn { (p.t("lithium-damaged")) small { (p.t("lithium-damaged-source")) } }
    }
}

const PACKS: [(&str, PackState); 3] = [
    ("none", PackState::None),
    ("sound", PackState::Sound),
    ("damaged", PackState::Damaged),
];

async fn post(State(app): State<App>, p: Page, typed: Typed) -> Result<Response, Response> {
    let p = p.at(Nav::Bench);
    match carry_out(&app, &p, &typed).await {
        Ok(number) => Ok(Redirect::to(&format!("/jobs/{number}#fault")).into_response()),
        Err(Trouble::Fields(errors)) => {
            let status = StatusCode::UNPROCESSABLE_ENTITY;
            let shelf = app.store.shelf();
            Ok(answer(
                &p,
                &shelf,
                typed.get("model"),
                status,
                &typed,
                &errors,
            ))
        }
        Err(Trouble::Answer(answer)) => Err(answer),
        Err(Trouble::Conflict(_)) => Err(shell::internal("a new job cannot be in conflict")),
        Err(Trouble::Store(error)) => {
            eprintln!("receive: {error:?}");
            Err(shell::not_written(&p, "/receive", &typed))
        }
    }
}

/// Takes a tool in; the number of the job that began.
pub(crate) async fn carry_out(app: &App, p: &Page, typed: &Typed) -> Result<u32, Trouble> {
    let shelf = app.store.shelf();
    let Some(by) = app.visitor_key(p).await? else {
        return Err(Trouble::Fields(FieldErrors::one(
            "",
            Message::new("refuse-who"),
        )));
    };
    let mut input = read(p, &shelf, typed).map_err(Trouble::Fields)?;
    if let Some(name) = typed.filled("customer") {
        input.customer = Some(app.store.person(name).await.map_err(Trouble::Store)?);
    }
    let (now, today) = app.now();
    let job = Uuid::now_v7();
    let request = Request {
        submission: submission(typed),
        subject: job,
        expected_version: 0,
        by,
        at: now,
        serial: Some(input.serial.trim().to_owned()),
    };
    let written = app
        .store
        .append(request, move |scene| -> Result<_, Refusals> {
            let desk = Desk {
                shelf: scene.shelf,
                now,
                today,
            };
            let known = seen(scene.tools, scene.tool_open_jobs);
            receive(
                &input,
                &known,
                job,
                scene.next_number,
                Uuid::now_v7(),
                &desk,
            )
        })
        .await;
    let written = match written {
        Ok(written) => written,
        Err(AppendError::Refused(refusals)) => return Err(Trouble::Fields(field_errors(refusals))),
        Err(AppendError::Conflict { since }) => return Err(Trouble::Conflict(since)),
        Err(AppendError::Store(error)) => return Err(Trouble::Store(error)),
    };
    // A repeated submission leads to the job that it began the first time.
    let row = app
        .store
        .job(written.subject)
        .await
        .map_err(Trouble::Store)?;
    let row = row.ok_or_else(|| shell::internal("a job was begun and is not there"))?;
    Ok(row.number)
}

fn seen(tools: &[ToolRow], open: &[JobRow]) -> Vec<ToolSeen> {
    tools
        .iter()
        .map(|tool| ToolSeen {
            tool: tool.tool,
            serial: tool.serial.clone(),
            model: tool.model.clone(),
            open_job: open.iter().find(|j| j.tool == tool.tool).map(|j| j.number),
        })
        .collect()
}

fn read(p: &Page, shelf: &Shelf, typed: &Typed) -> Result<ReceiveIn, FieldErrors> {
    let mut errors = FieldErrors::new();
    let pin = shelf.newest(Kind::ToolModel, typed.get("model"));
    let kit = pin
        .and_then(|pin| shelf.model(&pin))
        .map_or(&[][..], |model| &model.kit);
    let mut came = Vec::new();
    for (i, item) in kit.iter().enumerate() {
        let name = kit_name(i);
        let count = match typed.filled(&name) {
            // Nothing typed: nothing came.
            None => Some(0),
            Some(raw) => errors.keep(&name, item.item.as_str(), parse_count(raw)),
        };
        came.push(count.map_or(0, |c| u32::try_from(c).unwrap_or(u32::MAX)));
    }
    let counter = typed
        .filled("counter")
        .and_then(|raw| errors.keep("counter", p.t("field-counter"), parse_count(raw)));
    let mut date = |name, label: &str| {
        let raw = typed.filled(name)?;
        errors.keep(name, p.t(label), parse_date(raw))
    };
    let (sold, due) = (date("sold", "field-sold"), date("due", "field-due"));
    let list = |name| typed.all(name).map(str::to_owned).collect();
    let input = ReceiveIn {
        customer: None,
        model: typed.get("model").to_owned(),
        serial: typed.get("serial").to_owned(),
        new_tool: typed.has("new_tool"),
        counter,
        sold,
        complaint: typed.get("complaint").to_owned(),
        symptoms: list("symptoms"),
        came,
        pack: PACKS
            .iter()
            .find(|(key, _)| *key == typed.get("pack"))
            .map_or(PackState::None, |(_, pack)| *pack),
        made_safe: list("made_safe"),
        due,
    };
    if errors.is_empty() {
        Ok(input)
    } else {
        Err(errors)
    }
}
