//! Taking a tool in: the counter's form.

use axum::Router;
use axum::extract::{RawQuery, State};
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::get;
use calc::Message;
use maud::{Markup, html};
use shop::counter::AnewIn;
use shop::entry::PackState;
use shop::job::{Desk, ReceiveIn, Refusals, ToolSeen, make_safe_ticks, receive};
use shop::sheet::{Drive, Kind, Shelf, TermFrom, ToolModel};
use shop::tables::{JobRow, ToolRow};
use store::{AppendError, Request};
use uuid::Uuid;

use crate::app::{App, failed};
use crate::forms::{FieldErrors, Typed, parse_count, parse_date, too_long};
use crate::job::{Trouble, field_errors, names, submission};
use crate::shell::{self, Choice, Field, Form, Nav, Page, page_with_errors};

/// The routes of the counter.
pub fn routes() -> Router<App> {
    Router::new().route("/receive", get(show).post(post))
}

async fn show(
    State(app): State<App>,
    p: Page,
    RawQuery(query): RawQuery,
) -> Result<Response, Response> {
    let p = p.at(Nav::Bench);
    // The address may bring what was typed under another model.
    let asked = Typed::from_body(query.unwrap_or_default().as_bytes());
    let typed: Typed = asked
        .pairs()
        .filter(|(name, value)| *name != "model" && !value.trim().is_empty())
        .collect();
    let mut model = asked.get("model").to_owned();
    if let Some(serial) = typed.filled("serial") {
        let known = app.store.tools_by_serial(serial).await.map_err(failed)?;
        if let (Some(tool), true) = (known.first(), model.is_empty()) {
            model = tool.model.clone();
        }
    }
    let shelf = app.store.shelf();
    let mut errors = FieldErrors::new();
    // Asked for the rest without saying of what.
    if asked.pairs().any(|(name, _)| name == "model") && model.is_empty() {
        if typed.filled("serial").is_none() {
            errors.add("serial", Message::new("receive-serial-missing"));
        }
        errors.add("model", Message::new("receive-model-missing"));
    }
    let status = match errors.is_empty() {
        true => StatusCode::OK,
        false => StatusCode::UNPROCESSABLE_ENTITY,
    };
    Ok(answer(&p, &shelf, &model, status, &typed, &errors))
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
        None => first(p, shelf, typed, errors),
    };
    let title = p.t("receive-title");
    let form = match pin {
        Some(_) => "receive",
        None => "receive-first",
    };
    let markup = page_with_errors(
        p,
        &title,
        form,
        errors,
        html! {
            div.plain { h1 { (title) } (body) }
        },
    );
    (status, Html(markup.into_string())).into_response()
}

/// Serial and model first: the list of what belongs to the tool hangs on them. What was typed under a
/// model that is gone comes along.
fn first(p: &Page, shelf: &Shelf, typed: &Typed, errors: &FieldErrors) -> Markup {
    let form = Form::new(p, "receive-first", typed, errors);
    let of_model = |name: &str| OF_MODEL.contains(&name) || name.starts_with("kit-");
    let along = typed
        .pairs()
        .filter(|(name, value)| !of_model(name) && !value.trim().is_empty());
    let models: Vec<Choice> = shelf
        .models()
        .map(|(_, m)| Choice::new(&m.id, &m.name))
        .collect();
    html! {
        @if models.is_empty() { p.note { (p.t("receive-no-models")) } }
        @if typed.has("submission") { (shell::typed_list(p, typed)) }
        form #receive-first method="get" action="/receive" {
            @for (name, value) in along { input type="hidden" name=(name) value=(value); }
            (form.text(&Field::new("serial", p.t("field-serial")).hint(p.t("hint-serial"))))
            (form.select(&Field::new("model", p.t("field-model")), &models))
            div.buttons { button { (p.t("button-next")) } }
        }
    }
}

/// Fields that are given anew with the form of another model.
const OF_MODEL: &[&str] = &[
    "csrf",
    "submission",
    "form",
    "version",
    "who",
    "serial",
    "model",
    "made_safe",
    "symptoms",
    "pack",
];

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
            (counter_anew(&form, None))
            (form.area(&Field::new("complaint", p.t("field-complaint")).hint(p.t("hint-complaint"))))
            (form.ticks(&Field::new("symptoms", p.t("field-symptoms")), &symptoms))
            (kit(p, &form, model))
            @if model.drive == Drive::Battery { (pack(p, &form)) }
            (form.text(&Field::new("sold", p.t("field-sold")).hint(p.t("hint-date")).short()))
            @if model.warranty.from == TermFrom::FirstUse { (first_used(&form, "")) }
            (form.text(&Field::new("due", p.t("field-due")).hint(p.t("hint-date")).short()))
            div.buttons { button { (p.t("button-receive")) } }
        }))
    }
}

/// The day of first use, for terms that count from it; `known` is what was written down.
pub(crate) fn first_used(form: &Form, known: &str) -> Markup {
    let p = form.page();
    let hint = p.t("hint-first-used");
    form.text(
        &Field::new("first_used", p.t("field-first-used"))
            .hint(hint)
            .short()
            .value(known),
    )
}

/// Whether the counter began anew, and why; `known` is what was written down of it.
pub(crate) fn counter_anew(form: &Form, known: Option<&str>) -> Markup {
    let p = form.page();
    let is_open = known.is_some() || form.has("counter_anew") || form.has("counter_reason");
    let yes = Choice::new("yes", p.t("counter-anew-yes")).chosen(known.is_some());
    html! {
        details open[is_open] {
            summary { (p.t("counter-anew-summary")) }
            (form.ticks(&Field::new("counter_anew", p.t("field-counter-anew")), &[yes]))
            (form.text(&Field::new("counter_reason", p.t("field-counter-reason")).value(known.unwrap_or_default())))
        }
    }
}

/// What was ticked and written of it.
pub(crate) fn anew_in(typed: &Typed) -> AnewIn {
    AnewIn {
        ticked: typed.ticked("counter_anew", "yes"),
        reason: typed.get("counter_reason").to_owned(),
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
        Err(Trouble::Answer(answer)) => Err(shell::read_failed(&p, "/receive", &typed, answer)),
        Err(Trouble::Conflict(_)) => Err(shell::internal("a new job cannot be in conflict")),
        Err(Trouble::Store(error)) => {
            eprintln!("receive: {error:?}");
            Err(shell::not_written(&p, "/receive", &typed))
        }
    }
}

/// Takes a tool in; the number of the job that began.
pub(crate) async fn carry_out(app: &App, p: &Page, typed: &Typed) -> Result<u32, Trouble> {
    let too_long = too_long(typed);
    if !too_long.is_empty() {
        return Err(Trouble::Fields(too_long));
    }
    let shelf = app.store.shelf();
    let Some(by) = app.visitor_key(p).await? else {
        return Err(Trouble::Fields(FieldErrors::one(
            "who",
            Message::new("refuse-who"),
        )));
    };
    let (mut input, mut errors) = read(p, &shelf, typed).map_err(Trouble::Fields)?;
    let (now, today) = app.now();
    let job = Uuid::now_v7();
    if !errors.is_empty() {
        // What the rules would say of the rest, so that a form is mended in one go. What hangs on
        // other tools is left to them.
        let desk = app.desk(&shelf);
        let rest = receive(&input, &[], job, 0, job, &desk)
            .err()
            .unwrap_or_default();
        let known = rest.into_iter().filter(|r| match r.field.as_str() {
            "serial" => input.serial.trim().is_empty(),
            "customer" => typed.filled("customer").is_none(),
            _ => true,
        });
        for refusal in known {
            errors.add(refusal.field, refusal.message);
        }
        return Err(Trouble::Fields(errors));
    }
    if let Some(name) = typed.filled("customer") {
        input.customer = Some(app.store.person(name).await.map_err(Trouble::Store)?);
    }
    let request = Request {
        submission: submission::key_of_receipt(typed),
        subject: job,
        expected_version: 0,
        by,
        at: now,
        serial: Some(input.serial.trim().to_owned()),
    };
    let zone = app.zone.clone();
    let written = app
        .store
        .append(request, move |scene| -> Result<_, Refusals> {
            let desk = Desk {
                shelf: scene.shelf,
                now,
                today,
                zone: &zone,
                learned: None,
                worn: &[],
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
            counter: tool.counter,
        })
        .collect()
}

/// How many of an item came.
fn parse_kit_count(raw: &str) -> Result<u32, Message> {
    let out_of_range = || Message::new("kit-range").with("most", MOST_OF_KIT);
    let count = u32::try_from(parse_count(raw)?).map_err(|_| out_of_range())?;
    if count > MOST_OF_KIT {
        return Err(out_of_range());
    }
    Ok(count)
}

/// More than so many of one item do not come with a tool.
const MOST_OF_KIT: u32 = 1000;

/// What was typed, with what of it cannot be read.
///
/// # Errors
/// A model that is not in force any more: nothing else can be read without it.
fn read(p: &Page, shelf: &Shelf, typed: &Typed) -> Result<(ReceiveIn, FieldErrors), FieldErrors> {
    let mut errors = FieldErrors::new();
    let pin = shelf.newest(Kind::ToolModel, typed.get("model"));
    let Some(model) = pin.and_then(|pin| shelf.model(&pin)) else {
        let gone = Message::new("receive-model-gone");
        return Err(FieldErrors::one("model", gone));
    };
    let mut came = Vec::new();
    for (i, item) in model.kit.iter().enumerate() {
        let name = kit_name(i);
        let count = match typed.filled(&name) {
            // The warranty asks for it: whether it came is not left open.
            None if item.internal => Err(Message::new("kit-internal-missing")),
            // Nothing typed: nothing came.
            None => Ok(0),
            Some(raw) => parse_kit_count(raw),
        };
        let count = errors.keep(&name, item.item.as_str(), count);
        came.push(count.unwrap_or_default());
    }
    let pack = PACKS.iter().find(|(key, _)| *key == typed.get("pack"));
    if model.drive == Drive::Battery && pack.is_none() {
        errors.add("pack", Message::new("pack-missing"));
    }
    let counter = typed
        .filled("counter")
        .and_then(|raw| errors.keep("counter", p.t("field-counter"), parse_count(raw)));
    let mut date = |name, label: &str| {
        let raw = typed.filled(name)?;
        errors.keep(name, p.t(label), parse_date(raw))
    };
    let (sold, due) = (date("sold", "field-sold"), date("due", "field-due"));
    let first_used = date("first_used", "field-first-used");
    let list = |name| typed.all(name).map(str::to_owned).collect();
    let input = ReceiveIn {
        customer: None,
        model: typed.get("model").to_owned(),
        serial: typed.get("serial").to_owned(),
        new_tool: typed.has("new_tool"),
        counter,
        anew: anew_in(typed),
        sold,
        first_used,
        complaint: typed.get("complaint").to_owned(),
        symptoms: list("symptoms"),
        came,
        pack: pack.map_or(PackState::None, |(_, pack)| *pack),
        made_safe: list("made_safe"),
        due,
    };
    Ok((input, errors))
}
