//! Certificates of the bench proof: those issued, and the answers to check before one is.

use calc::Message;
use calc::decision::Verdict;
use calc::units::Unit;
use calc::working::fixed;
use maud::{Markup, html};
use shop::entry::{Body, CertificateIssued, CertificatePrepared, Outcome, Phase};
use shop::job::{AuthoriseIn, CertificateIn, CertificateState, Command, Signer, Stamped, decide};
use shop::sheet::BenchTest;

use super::doubt_reason;
use super::judged::Judged;
use super::papers::{self, certified};
use super::post::People;
use super::view::View;
use super::{doubt, names, returned};
use crate::forms::{FieldErrors, Typed, parse_number};
use crate::gauges;
use crate::pulls;
use crate::shell::{Choice, Field};

/// Every certificate of the job with how it stands, and the one that waits; nothing where there is none.
pub fn issued(v: &View) -> Markup {
    let number = v.job.received.body.number;
    html! {
        @if !v.job.certificates.is_empty() || v.job.prepared.is_some() {
            h3 { (v.t("certificate-heading")) }
            ul.papers {
                @for c in &v.job.certificates {
                    @let of = Message::new("certificate-of")
                        .with("number", c.body.number.as_str())
                        .with("on", v.moment(c.at));
                    li {
                        a href=(format!("/jobs/{number}/certificates/{}", c.body.number)) { (v.say(&of)) }
                        @let state = v.job.certificate_state(&c.body);
                        " " small { (in_words(v, &c.body, &state)) }
                        (doubted_since(v, &c.body, &state))
                    }
                }
                @if let Some(prepared) = &v.job.prepared {
                    @let number = prepared.body.certificate.number.as_str();
                    @if v.job.proof.is_some() || v.job.returned.is_some() {
                        li { a href="#certificate-waits" { (number) } " " small { (v.t("certificate-waits")) } }
                    } @else {
                        // What it rested on is gone: there is no answer to check, only a way out.
                        li {
                            (number) " " small { (v.t("certificate-waits-changed")) }
                            (super::correct::strike(v, prepared.version))
                        }
                    }
                }
            }
        }
    }
}

/// How the certificate `issued` stands, in words.
pub fn in_words(v: &View, issued: &CertificateIssued, state: &CertificateState) -> String {
    let is_doubted =
        || !issued.in_doubt.is_empty() || !v.job.doubted_since(issued, &v.desk).is_empty();
    match state {
        CertificateState::InForce if is_doubted() => v.t("certificate-in-force-doubted"),
        CertificateState::InForce => v.t("certificate-in-force"),
        CertificateState::RecordChanged => v.t("certificate-changed-since"),
        CertificateState::Replaced { by } => {
            v.say(&Message::new("certificate-replaced-by").with("number", by.as_str()))
        }
    }
}

/// What the certificate `issued` rests on and is in doubt: what it says itself, and what came since; nothing of one that
/// was replaced.
pub fn doubted_since(v: &View, issued: &CertificateIssued, state: &CertificateState) -> Markup {
    let is_replaced = matches!(state, CertificateState::Replaced { .. });
    let doubts = (!is_replaced).then(|| v.job.doubted_since(issued, &v.desk));
    let doubts = doubts.unwrap_or_default();
    let said = match is_replaced {
        true => &[],
        false => &issued.in_doubt[..],
    };
    html! {
        (doubt::listed(v, &v.t("certificate-issued-doubted"), said))
        @if !doubts.is_empty() {
            div.warn {
                (v.t("certificate-doubted-since"))
                ul { @for doubt in &doubts { li { (v.say(doubt)) } } }
            }
        }
    }
}

/// The certificate that waits, and the form for the next one, each below the answers to check.
pub fn section(v: &View) -> Markup {
    let changes = v.job.changed_since_prepared(&v.desk);
    html! {
        @if let Some(prepared) = &v.job.prepared { (waiting(v, prepared, &changes)) }
        @if v.job.certifiable() && (v.job.prepared.is_none() || !changes.is_empty()) { (next(v)) }
    }
}

/// The answers to check, and the form that issues it, or prepares it where two must sign.
fn next(v: &View) -> Markup {
    let form = v.form("certificate");
    let two = v.job.second_signature(&v.desk);
    let summary = match (v.job.certificate().is_some(), two) {
        (true, true) => "certificate-summary-prepare-again",
        (true, false) => "certificate-summary-again",
        (false, true) => "certificate-summary-prepare",
        (false, false) => "certificate-summary",
    };
    let button = if two {
        "button-certificate-prepare"
    } else {
        "button-certificate"
    };
    html! {
        details open[v.is_refused("certificate")] {
            summary { (v.t(summary)) }
            p.hint { (v.t("certificate-intro")) @if two { " " (v.t("certificate-intro-two")) } }
            (check(v))
            (v.wrap(&form, "certificate", html! {
                (form.number(&Field::new("temperature", v.t("field-temperature")).unit("°C").short().signed()))
                (form.text(&Field::new("conditions", v.t("field-conditions")).hint(v.t("field-conditions-hint"))))
                (form.area(&Field::new("remarks", v.t("field-certificate-remarks"))))
                @if v.job.certificate().is_some() {
                    (form.text(&Field::new("changed", v.t("field-certificate-changed"))))
                }
                (doubt_reason::asked(&form, &v.job.in_doubt(&v.desk), Field::new("doubt", v.t("field-certificate-doubt")).hint(v.t("field-certificate-doubt-hint"))))
                (form.ticks(&Field::new("checked", v.t("field-checked")), &checked(v)))
            }, button))
        }
    }
}

fn checked(v: &View) -> [Choice; 1] {
    [Choice::new("yes", v.t("checked-certificate"))]
}

/// What was prepared and waits for a second person: the answers to check and the form that authorises it, or what
/// changed meanwhile.
fn waiting(v: &View, prepared: &Stamped<CertificatePrepared>, changes: &[Message]) -> Markup {
    let form = v.form("certificate-authorise");
    let c = &prepared.body.certificate;
    let title = Message::new("certificate-waits-title").with("number", c.number.as_str());
    let temperature = format!("{} °C", fixed(c.temperature_c, 1));
    let stale = !changes.is_empty();
    html! {
        section #certificate-waits {
            h3 { (v.say(&title)) }
            p.pm { (v.t("certificate-prepared-by")) " " (v.stamp(prepared.at, &prepared.by)) }
            dl.facts {
                dt { (v.t("field-temperature")) } dd { (temperature) }
                @for (label, said) in [("field-conditions", &c.conditions), ("field-certificate-remarks", &c.remarks), ("field-certificate-changed", &c.changed), ("certificate-doubt-reason", &c.doubt_reason)] {
                    @if !said.is_empty() { dt { (v.t(label)) } dd { (said) } }
                }
            }
            @if stale {
                p.warn { (v.t("certificate-waits-changed")) }
                ul { @for change in changes { li { (v.say(change)) } } }
            } @else {
                (check(v))
                p.hint { (v.t("certificate-authorise-hint")) }
                (v.wrap(&form, "certificate-authorise", html! {
                    input type="hidden" name="prepared" value=(prepared.version);
                    (form.ticks(&Field::new("checked", v.t("field-checked")), &checked(v)))
                }, "button-certificate-authorise"))
            }
            (super::correct::strike(v, prepared.version))
        }
    }
}

/// What will stand on it, each with the place where it is mended.
fn check(v: &View) -> Markup {
    let r = &v.job.received.body;
    let line = |label: String, text: String, href: String| {
        html! {
            dt { (label) }
            dd { (text) " " a href=(href) { (v.t("check-change")) } }
        }
    };
    let at = |anchor: &str| format!("#{anchor}");
    let tool = Message::new("job-tool")
        .with("model", v.model.name.as_str())
        .with("serial", r.serial.as_str());
    let counter = r.counter.map_or_else(
        || v.t("certificate-counter-none"),
        |n| v.say(&Message::new("pulls").with("pulls", n)),
    );
    html! {
        dl.facts id="certificate-answers" {
            dt { (v.t("certificate-number")) } dd { (v.job.next_certificate()) }
            @if let Some(before) = v.job.certificate() {
                dt { (v.t("certificate-replaces")) } dd { (before.body.number) }
            }
            (line(v.t("check-customer"), v.person(&r.customer), at("received")))
            (line(v.t("certificate-tool"), format!("{}, {counter}", v.say(&tool)), at("received")))
            @if let Some((set_up, sheets)) = certified(v) {
                (line(v.t("certificate-set-up"), format!("{} {}", sheets.fastener.name, set_up.fitted.body.code), at("set-up")))
                @if let Some(setting) = returned::setting(v) { (line(v.t("certificate-setting"), setting, at("set-up"))) }
            } @else {
                (line(v.t("certificate-set-up"), v.t("certificate-not-set-up"), at("set-up")))
            }
            (line(v.t(names::phase(Phase::AsFound)), as_found(v), at("fault")))
            (line(v.t(names::phase(Phase::AsLeft)), verdicts(v, Phase::AsLeft), at("proved")))
            @for test in &v.model.bench_tests {
                @let given = [Phase::AsFound, Phase::AsLeft].map(|phase| given(v, phase, test));
                @let given: Vec<String> = given.into_iter().flatten().collect();
                @if !given.is_empty() { (line(test.name.clone(), given.join("; "), at("proved"))) }
            }
            @for read in v.job.certified_pulls() {
                (line(v.t("certificate-pulls"), pulls::in_a_line(v, &read.body), "proved".to_owned()))
            }
            (line(v.t("certificate-instruments"), instruments(v), "/gauges".to_owned()))
            @for doubt in v.job.in_doubt(&v.desk) {
                @for said in v.job.doubts_said(std::slice::from_ref(&doubt), &v.desk) {
                    (line(v.t("certificate-doubt"), v.say(&said), gauges::path(&doubt.gauge)))
                }
            }
            @if let Some(proof) = v.job.proof.as_ref().filter(|p| !p.body.reason.is_empty()) {
                (line(v.t("certificate-proof-note"), proof.body.reason.clone(), at("proved")))
            }
        }
    }
}

/// What a test gave in `phase`: value, doubt, verdict.
fn given(v: &View, phase: Phase, test: &BenchTest) -> Option<String> {
    let read = &v.job.test(phase, &test.id)?.body;
    let verdict = v.p.words.term(Verdict::from(read.outcome));
    let value = Judged::of_test(v, test, read);
    let value = value.map(|j| format!("{} {} ", j.value_text(), j.doubt_text()));
    let result = format!("{}{verdict}", value.unwrap_or_default());
    let said = Message::new("certificate-result").with("phase", v.t(names::phase(phase)));
    Some(v.say(&said.with("result", result)))
}

/// The gauges of the tests in a line, with their due dates.
fn instruments(v: &View) -> String {
    let gauges = papers::gauges(v).into_iter().map(|gauge| {
        let id = if gauge.was_stale {
            "certificate-instrument-stale"
        } else {
            "certificate-instrument"
        };
        v.say(
            &Message::new(id)
                .with("tag", gauge.tag)
                .with("due", gauge.due),
        )
    });
    gauges.collect::<Vec<_>>().join("; ")
}

fn as_found(v: &View) -> String {
    if let Some(not_safe) = &v.job.not_safe {
        let why = Message::new("certificate-as-found-why");
        return v.say(&why.with("reason", not_safe.body.reason.as_str()));
    }
    let mut tests = v.model.bench_tests.iter();
    if tests.any(|t| v.job.test(Phase::AsFound, &t.id).is_some()) {
        verdicts(v, Phase::AsFound)
    } else {
        v.t("certificate-as-found-none")
    }
}

/// How many tests of `phase` came to each verdict.
fn verdicts(v: &View, phase: Phase) -> String {
    let tests = v.model.bench_tests.iter();
    let outcomes: Vec<Outcome> = tests
        .filter_map(|t| v.job.test(phase, &t.id).map(|t| t.body.outcome))
        .collect();
    let count = |outcome| outcomes.iter().filter(|o| **o == outcome).count();
    v.say(
        &Message::new("certificate-verdicts")
            .with("accept", count(Outcome::Accept))
            .with("undecided", count(Outcome::Undecided))
            .with("reject", count(Outcome::Reject)),
    )
}

/// The command of the form.
pub fn parse(
    kind: &str,
    typed: &Typed,
    v: &View,
    names: &People,
    errors: &mut FieldErrors,
) -> Option<Command> {
    match kind {
        "certificate" => {}
        "certificate-authorise" => return Some(authorise(typed, v, names)),
        _ => return None,
    }
    let label = v.t("field-temperature");
    let temperature = typed
        .filled("temperature")
        .and_then(|raw| errors.keep("temperature", &label, parse_number(raw, Unit::Celsius)));
    Some(Command::IssueCertificate(CertificateIn {
        temperature_c: temperature,
        conditions: typed.get("conditions").to_owned(),
        remarks: typed.get("remarks").to_owned(),
        changed: typed.get("changed").to_owned(),
        doubted: doubt_reason::typed(typed),
        author: signer(v, names),
        checked: typed.has("checked"),
        // Reading the recordings takes a while: it is done where the form is carried out.
        pulls: Vec::new(),
        paper: None,
    }))
}

fn authorise(typed: &Typed, v: &View, names: &People) -> Command {
    let prepared = v.job.prepared.as_ref();
    let author = prepared.and_then(|p| v.names.get(&p.body.certificate.author));
    // At the prompt the one that waits is meant: there is no page on which another one could have been looked at.
    let waits = prepared.map_or(0, |p| p.version);
    let seen = typed
        .filled("prepared")
        .map(|seen| seen.parse().unwrap_or(0));
    Command::AuthoriseCertificate(AuthoriseIn {
        prepared: seen.unwrap_or(waits),
        approver: signer(v, names),
        author_name: author.cloned(),
        checked: typed.has("checked"),
        paper: None,
    })
}

/// Who signs: the name picked at the bench.
fn signer(v: &View, names: &People) -> Option<Signer> {
    let name = v.p.visitor.who.clone()?;
    names.picked.clone().map(|key| Signer { key, name })
}

/// The certificate that `command` issues; none where it does something else, or is refused.
pub fn issued_by(v: &View, command: &Command) -> Option<CertificateIssued> {
    let issues = matches!(
        command,
        Command::IssueCertificate(_) | Command::AuthoriseCertificate(_)
    );
    let bodies = issues.then(|| decide(v.job, command.clone(), &v.desk))?;
    bodies.ok()?.into_iter().find_map(|body| match body {
        Body::CertificateIssued(issued) => Some(issued),
        _ => None,
    })
}

/// The same with the hash of the paper that was kept.
pub fn with_paper(command: Command, paper: String) -> Command {
    let paper = Some(paper);
    match command {
        Command::IssueCertificate(input) => {
            Command::IssueCertificate(CertificateIn { paper, ..input })
        }
        Command::AuthoriseCertificate(input) => {
            Command::AuthoriseCertificate(AuthoriseIn { paper, ..input })
        }
        other => other,
    }
}
