//! The certificates of the bench proof: each made again from the entries as they stood when it was issued.

use std::io::{self, Read};

use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};
use calc::Message;
use calc::working::fixed;
use jiff::Timestamp;
use maud::html;
use paper::model::{Certificate, Instrument, RecordHead, Replaces};
use sha2::{Digest, Sha256};
use shop::entry::{CertificateIssued, PersonKey, PinRecord, Reading};
use shop::job::{CERTIFICATE_METHOD, CertificateState, Job, SetUp, SetUpSheets, Stamped};
use store::{FileError, FileHash};

use super::instruments::{Listing, listed};
use super::tests_made::{self, doubted};
use crate::app::App;
use crate::job::view::View;
use crate::job::{Loaded, Trouble, certificate as issued, load_to_show, returned, sheets_lost};
use crate::pulls;
use crate::shell::{self, Nav, Page, error_page};

/// What the tool was set up for, where the set-up was signed off.
pub fn certified<'a>(v: &'a View) -> Option<(&'a SetUp, SetUpSheets<'a>)> {
    let set_up = v.job.set_up().filter(|s| s.signed_off.is_some())?;
    Some((set_up, v.job.set_up_sheets(set_up, &v.desk)?))
}

/// What certificates were made by that list the gauges of every recorded pull of the job, also of those that do
/// not stand on them, and any remark of the proof as one on an undecided test.
const OLDER: [&str; 2] = ["bench-proof 1", "bench-proof 2"];

/// What certificates were made by that name, for a gauge of recorded pulls or of differences alone, the certificate of
/// its sheet.
const BY_SHEET: [&str; 3] = [OLDER[0], OLDER[1], "bench-proof 3"];

/// The gauges of the results that stand on a certificate issued now, by name.
pub fn gauges(v: &View) -> Vec<Instrument> {
    as_used(v, v.job.certified_readings(CERTIFICATE_METHOD))
}

fn as_used<'a>(v: &'a View, readings: impl Iterator<Item = &'a Reading>) -> Vec<Instrument> {
    listed(v, readings, v.job.certified_pulls(), Listing::AsUsed)
}

/// The same on one made by `method`.
fn gauges_by(v: &View, method: &str) -> Vec<Instrument> {
    let readings = v.job.certified_readings(method);
    if OLDER.contains(&method) {
        listed(v, readings, v.job.pulls.iter(), Listing::OfReadings)
    } else if BY_SHEET.contains(&method) {
        listed(v, readings, v.job.certified_pulls(), Listing::OfReadings)
    } else {
        as_used(v, readings)
    }
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
    // Where a name on it was erased its paper went with the name: it is set anew without it.
    let paper = found.body.paper.clone();
    let paper = paper.filter(|_| names_stand(&loaded, &found.body));
    if let Some(hash) = &paper
        && let Some(bytes) = kept(app, hash).await?
    {
        return Ok(bytes);
    }
    loaded.job = Job::as_certified(&loaded.entries, found.version).ok_or_else(not_here)?;
    // Entries that were altered outside the program would give a paper that nobody issued.
    if loaded.job.certificate_content(&found.body) != found.body.content {
        return Err(shell::internal(format!(
            "certificate {}: the entries that it rests on do not give what was issued",
            found.body.number
        )));
    }
    let v = loaded.view(app, p, None).ok_or_else(sheets_lost)?;
    // A paper that is kept cannot name the entry that keeps its hash: it names the one before.
    let record = match found.body.paper {
        Some(_) => super::head_at(&loaded, found.version - 1),
        None => super::head_at(&loaded, found.version),
    };
    let model = model(&v, &found, record);
    let words = p.words;
    let bytes = super::typeset(move || paper::certificate(&model, words)).await?;
    match paper {
        Some(hash) if sha256(&bytes) != hash => Err(shell::internal(format!(
            "certificate {}: its paper is lost from the files; bring it back from a backup",
            found.body.number
        ))),
        _ => Ok(bytes),
    }
}

/// Sets the paper of the certificate that `issued` would be, written at `at`, and keeps it with the files; its hash.
pub(crate) async fn keep(
    app: &App,
    v: &View<'_>,
    loaded: &Loaded,
    issued: CertificateIssued,
    (at, by): (Timestamp, PersonKey),
) -> Result<String, Trouble> {
    let version = v.job.version + 1;
    let body = issued;
    let found = Stamped {
        version,
        at,
        by,
        body,
    };
    let model = model(v, &found, super::head(loaded));
    let words = v.p.words;
    let bytes = super::typeset(move || paper::certificate(&model, words)).await?;
    let files = app.store.files().clone();
    let name = format!("certificate-{}.pdf", found.body.number);
    let keep = move || {
        let mut incoming = files.receive(&name)?;
        incoming.write(&bytes)?;
        incoming.keep()
    };
    let kept = tokio::task::spawn_blocking(keep).await;
    match kept.map_err(shell::internal)? {
        Ok(kept) => Ok(kept.hash.to_string()),
        Err(FileError::Store(error)) => Err(Trouble::Store(error)),
        Err(error) => Err(shell::internal(format!("{error:?}")).into()),
    }
}

/// Takes the paper with this hash away again, if no entry names it: nobody could find it to erase a name on it.
pub(crate) async fn drop_unnamed(app: &App, paper: &str) {
    if let Err(error) = app.store.drop_unnamed(paper).await {
        eprintln!("paper {paper}: {error:?}");
    }
}

/// Whether every name that stands on it is known.
fn names_stand(loaded: &Loaded, issued: &CertificateIssued) -> bool {
    let signed = std::iter::once(&issued.author).chain(&issued.approver);
    let mut on_it = signed.chain([&loaded.job.received.body.customer]);
    on_it.all(|key| loaded.names.contains_key(key))
}

/// The bytes that are kept under `hash`, if they are there and are still those.
async fn kept(app: &App, hash: &str) -> Result<Option<Vec<u8>>, Response> {
    let Some(place) = FileHash::parse(hash) else {
        return Ok(None);
    };
    let files = app.store.files().clone();
    let read = move || -> io::Result<Option<Vec<u8>>> {
        let Some(mut file) = files
            .open(&place)
            .map_err(|e| io::Error::other(format!("{e:?}")))?
        else {
            return Ok(None);
        };
        let mut bytes = Vec::new();
        file.read_to_end(&mut bytes)?;
        Ok(Some(bytes))
    };
    let read = tokio::task::spawn_blocking(read).await;
    let bytes = read.map_err(shell::internal)?.map_err(shell::internal)?;
    Ok(bytes.filter(|bytes| sha256(bytes) == hash))
}

fn sha256(bytes: &[u8]) -> String {
    let digest = Sha256::digest(bytes);
    digest.iter().map(|byte| format!("{byte:02x}")).collect()
}

fn find<'a>(job: &'a Job, number: &str) -> Option<&'a Stamped<CertificateIssued>> {
    job.certificates.iter().find(|c| c.body.number == number)
}

fn model(v: &View, found: &Stamped<CertificateIssued>, record: RecordHead) -> Certificate {
    let c = &found.body;
    let r = &v.job.received.body;
    let set_up = certified(v);
    let (made_by, authorised_by) = match &c.approver {
        Some(approver) => (v.person(&c.author), v.person(approver)),
        None => (String::new(), v.person(&c.author)),
    };
    let not_safe = v.job.not_safe.as_ref();
    let entries: Vec<String> = c.rests_on.iter().map(u32::to_string).collect();
    let said = v.job.proof.as_ref().map(|p| p.body.reason.clone());
    let said = said.filter(|said| !said.is_empty());
    // What was said of a proof in which nothing stayed undecided is a remark like any other.
    let is_reason =
        OLDER.contains(&c.method.as_str()) || !v.job.undecided_as_left(v.model).is_empty();
    let (reason, remark) = if is_reason {
        (said, None)
    } else {
        (None, said)
    };
    let proof_reason = reason.unwrap_or_default();
    let remark = remark.map(|remark| format!("{}: {remark}", v.t("certificate-proof-note")));
    let remarks = Some(c.remarks.clone()).filter(|remark| !remark.is_empty());
    let remarks = remark.into_iter().chain(remarks).collect();
    let doubts = v.job.doubts_said(&c.in_doubt, &v.desk);
    let doubted = doubted(&c.in_doubt);
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
        tests: tests_made::tests(v, &doubted),
        pulls: pulls::certified(v, &c.pulls, &doubted),
        not_run_as_found: not_safe.map(|n| n.body.reason.clone()).unwrap_or_default(),
        instruments: gauges_by(v, &c.method),
        doubts: doubts.iter().map(|doubt| v.say(doubt)).collect(),
        doubted_by: v.person(&c.author),
        doubt_reason: c.doubt_reason.clone(),
        remarks,
        proof_reason,
        made_by,
        authorised_by,
        entries: entries.join(", "),
        content: c.content.clone(),
        record,
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

/// The name that its PDF is saved under: the paper of one that was replaced stays as it was issued, so its name says it.
fn file_name(job: &Job, number: &str) -> String {
    let state = find(job, number).map(|c| job.certificate_state(&c.body));
    match state {
        Some(CertificateState::Replaced { by }) => {
            format!("certificate-{number}-replaced-by-{by}.pdf")
        }
        _ => format!("certificate-{number}.pdf"),
    }
}

/// The page of a certificate, or its PDF.
pub(super) async fn answer(
    State(app): State<App>,
    p: Page,
    Path((number, file)): Path<(u32, String)>,
) -> Result<Response, Response> {
    let loaded = load_to_show(&app, &p, number).await?;
    if let Some(which) = file.strip_suffix(".pdf") {
        let name = file_name(&loaded.job, which);
        let bytes = pdf(&app, &p, loaded, Some(which)).await?;
        return Ok(super::pdf(&name, bytes));
    }
    let p = p.at(Nav::Bench);
    let v = loaded.view(&app, &p, None).ok_or_else(sheets_lost)?;
    let not_here = || error_page(&p, StatusCode::NOT_FOUND, None);
    let found = find(&loaded.job, &file).ok_or_else(not_here)?;
    let c = &found.body;
    let title = v.say(&Message::new("certificate-page-title").with("number", c.number.as_str()));
    let state = loaded.job.certificate_state(c);
    let print = match &state {
        CertificateState::Replaced { by } => {
            Message::new("certificate-print-replaced").with("by", by.as_str())
        }
        _ => Message::new("certificate-print"),
    };
    let print = print.with("number", c.number.as_str());
    let back = Message::new("certificate-back").with("number", number.to_string());
    let entries: Vec<String> = c.rests_on.iter().map(u32::to_string).collect();
    let sheets: Vec<String> = c.sheets.iter().map(|pin| sheet(&v, pin)).collect();
    let body = html! {
        div.plain {
            p.kick { a href=(format!("/jobs/{number}#returned")) { (v.say(&back)) } }
            h1 { (title) }
            div.answer {
                p.mid { (issued::in_words(&v, c, &state)) }
                (issued::doubted_since(&v, c, &state))
                p.pm { (v.stamp(found.at, &found.by)) }
            }
            ul.papers { li { a href=(format!("/jobs/{number}/certificates/{}.pdf", c.number)) { (v.say(&print)) } } }
            dl.facts {
                @if let Some(before) = &c.replaces {
                    dt { (v.t("certificate-replaces")) }
                    dd { a href=(format!("/jobs/{number}/certificates/{before}")) { (before) } }
                    dt { (v.t("certificate-changed-what")) } dd { (c.changed) }
                }
                @if let Some(approver) = &c.approver {
                    dt { (v.t("certificate-prepared-by")) } dd { (v.person(&c.author)) }
                    dt { (v.t("certificate-authorised-by")) } dd { (v.person(approver)) }
                }
                dt { (v.t("certificate-method")) } dd { (c.method) }
                dt { (v.t("certificate-rests-on")) } dd { (entries.join(", ")) }
                dt { (v.t("certificate-sheets")) } dd { (sheets.join("; ")) }
                dt { (v.t("certificate-content")) } dd { code { (c.content) } }
                @if let Some(paper) = &c.paper { dt { (v.t("certificate-paper")) } dd { code { (paper) } } }
            }
            p.hint { (v.t(if c.paper.is_some() { "certificate-paper-hint" } else { "certificate-content-hint" })) }
        }
    };
    Ok(Html(shell::page(&p, &title, body).into_string()).into_response())
}
