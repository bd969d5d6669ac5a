//! The certificates of the bench proof: each made again from the entries as they stood when it was issued.

use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};
use calc::Message;
use calc::working::fixed;
use maud::html;
use paper::model::{Certificate, Instrument, Replaces};
use shop::entry::{CertificateIssued, PinRecord};
use shop::job::{Job, SetUp, SetUpSheets, Stamped};

use super::tests_made;
use crate::app::App;
use crate::job::view::View;
use crate::job::{Loaded, certificate as issued, load_to_show, returned, sheets_lost};
use crate::pulls;
use crate::shell::{self, Nav, Page, error_page};

/// What the tool was set up for, where the set-up was signed off.
pub fn certified<'a>(v: &'a View) -> Option<(&'a SetUp, SetUpSheets<'a>)> {
    let set_up = v.job.set_up().filter(|s| s.signed_off.is_some())?;
    Some((set_up, v.job.set_up_sheets(set_up, &v.desk)?))
}

/// The gauges that took the readings of the bench tests, by name.
pub fn gauges_of_tests(v: &View) -> Vec<Instrument> {
    let readings = v.job.tests.iter().flat_map(|t| &t.body.readings);
    tests_made::listed(v, readings)
}

/// The certificate `number` of the job as PDF, the one in force without a number.
pub(super) async fn pdf(
    app: &App,
    p: &Page,
    mut loaded: Loaded,
    number: Option<&str>,
) -> Result<Vec<u8>, Response> {
    let found = match number {
        Some(number) => find(&loaded.job, number),
        None => loaded.job.certificate(),
    };
    let not_here = || error_page(p, StatusCode::NOT_FOUND, None);
    let found = found.cloned().ok_or_else(not_here)?;
    loaded.job = Job::as_certified(&loaded.entries, found.version).ok_or_else(not_here)?;
    // Entries that were altered outside the program would give a paper that nobody issued.
    if loaded.job.certificate_content(&found.body) != found.body.content {
        return Err(shell::internal(format!(
            "certificate {}: the entries that it rests on do not give what was issued",
            found.body.number
        )));
    }
    let v = loaded.view(app, p, None).ok_or_else(sheets_lost)?;
    let model = model(&v, &loaded, &found);
    let words = p.words;
    super::typeset(move || paper::certificate(&model, words)).await
}

fn find<'a>(job: &'a Job, number: &str) -> Option<&'a Stamped<CertificateIssued>> {
    job.certificates.iter().find(|c| c.body.number == number)
}

fn model(v: &View, loaded: &Loaded, found: &Stamped<CertificateIssued>) -> Certificate {
    let c = &found.body;
    let r = &v.job.received.body;
    let set_up = certified(v);
    let (made_by, authorised_by) = match &c.approver {
        Some(approver) => (v.person(&c.author), v.person(approver)),
        None => (String::new(), v.person(&c.author)),
    };
    let not_safe = v.job.not_safe.as_ref();
    let entries: Vec<String> = c.rests_on.iter().map(u32::to_string).collect();
    Certificate {
        shop: super::shop(v),
        number: c.number.clone(),
        replaces: c.replaces.as_ref().map(|number| Replaces {
            number: number.clone(),
            changed: c.changed.clone(),
        }),
        job: r.number.to_string(),
        customer: v.person(&r.customer),
        tool: super::tool(v),
        received: super::printed(v, v.job.received.at),
        tested: tested(v),
        issued_on: super::printed(v, found.at),
        sheet: format!("{}, {}", v.model.name, sheet(v, &r.model)),
        method: c.method.clone(),
        temperature: fixed(c.temperature_c, 1),
        conditions: c.conditions.clone(),
        fastener: set_up.as_ref().map(|(u, s)| super::fastener(u, s)),
        nose: set_up.as_ref().map(|(_, s)| super::nose(v, s)),
        setting: returned::setting(v).unwrap_or_default(),
        tests: tests_made::tests(v),
        pulls: pulls::certified(v, &c.pulls),
        not_run_as_found: not_safe.map(|n| n.body.reason.clone()).unwrap_or_default(),
        instruments: gauges_of_tests(v),
        remarks: Some(c.remarks.clone())
            .into_iter()
            .filter(|remark| !remark.is_empty())
            .collect(),
        proof_reason: v
            .job
            .proof
            .as_ref()
            .map(|p| p.body.reason.clone())
            .unwrap_or_default(),
        made_by,
        authorised_by,
        entries: entries.join(", "),
        content: c.content.clone(),
        record: super::head_at(loaded, found.version),
        issued: super::issued(v, found.at),
    }
}

/// The day of the tests, or the first and the last of them.
fn tested(v: &View) -> String {
    let days = v.job.tests.iter().map(|t| super::printed(v, t.at));
    let days: Vec<String> = days.collect();
    match (days.first(), days.last()) {
        (Some(first), Some(last)) if first != last => format!("{first} – {last}"),
        (Some(first), _) => first.clone(),
        _ => String::new(),
    }
}

fn sheet(v: &View, pin: &PinRecord) -> String {
    v.say(
        &Message::new("certificate-sheet")
            .with("id", pin.id.as_str())
            .with("revision", pin.revision),
    )
}

/// The page of a certificate, or its PDF.
pub(super) async fn answer(
    State(app): State<App>,
    p: Page,
    Path((number, file)): Path<(u32, String)>,
) -> Result<Response, Response> {
    let loaded = load_to_show(&app, &p, number).await?;
    if let Some(which) = file.strip_suffix(".pdf") {
        let bytes = pdf(&app, &p, loaded, Some(which)).await?;
        return Ok(super::pdf(&format!("certificate-{which}.pdf"), bytes));
    }
    let p = p.at(Nav::Bench);
    let v = loaded.view(&app, &p, None).ok_or_else(sheets_lost)?;
    let not_here = || error_page(&p, StatusCode::NOT_FOUND, None);
    let found = find(&loaded.job, &file).ok_or_else(not_here)?;
    let c = &found.body;
    let title = v.say(&Message::new("certificate-page-title").with("number", c.number.as_str()));
    let print = Message::new("certificate-print").with("number", c.number.as_str());
    let back = Message::new("certificate-back").with("number", number.to_string());
    let entries: Vec<String> = c.rests_on.iter().map(u32::to_string).collect();
    let sheets: Vec<String> = c.sheets.iter().map(|pin| sheet(&v, pin)).collect();
    let body = html! {
        div.plain {
            p.kick { a href=(format!("/jobs/{number}#returned")) { (v.say(&back)) } }
            h1 { (title) }
            div.answer {
                p.mid { (issued::state(&v, &loaded.job.certificate_state(c))) }
                p.pm { (v.stamp(found.at, &found.by)) }
            }
            ul.papers { li { a href=(format!("/jobs/{number}/certificates/{}.pdf", c.number)) { (v.say(&print)) } } }
            dl.facts {
                @if let Some(before) = &c.replaces {
                    dt { (v.t("certificate-replaces")) }
                    dd { a href=(format!("/jobs/{number}/certificates/{before}")) { (before) } }
                    dt { (v.t("certificate-changed-what")) } dd { (c.changed) }
                }
                dt { (v.t("certificate-method")) } dd { (c.method) }
                dt { (v.t("certificate-rests-on")) } dd { (entries.join(", ")) }
                dt { (v.t("certificate-sheets")) } dd { (sheets.join("; ")) }
                dt { (v.t("certificate-content")) } dd { code { (c.content) } }
            }
            p.hint { (v.t("certificate-content-hint")) }
        }
    };
    Ok(Html(shell::page(&p, &title, body).into_string()).into_response())
}
