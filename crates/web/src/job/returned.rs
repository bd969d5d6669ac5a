//! Returned: check the answers, hand back, the papers.

use calc::Message;
use maud::{Markup, html};
use shop::entry::{Outcome, PackState, PersonKey, Phase};
use shop::job::{Command, EndIn, ReturnIn, Stage};
use shop::quote::{accepted, bill};
use shop::sheet::SettingBasis;

use super::doubt_reason;
use super::view::View;
use super::{doubt, names};
use crate::forms::Typed;
use crate::shell::{Choice, Field};
use crate::show;

/// The section.
pub fn section(v: &View) -> Markup {
    let number = v.job.received.body.number;
    html! {
        @if let Some(back) = &v.job.returned {
            div.answer {
                @if let Some(end) = &back.body.end { p.mid { (v.t(names::ended(end.key()))) } }
                p.mid { (super::ends::told(v, &back.body)) }
                p.pm { (v.stamp(back.at, &back.by)) }
            }
            (doubt::listed(v, &v.t("returned-doubted"), &back.body.in_doubt))
            @if !back.body.doubt_reason.is_empty() {
                p.note {
                    b { (v.t("returned-doubted-why")) } " " (back.body.doubt_reason)
                    small { (v.stamp(back.at, &back.body.authorised)) }
                }
            }
            (doubt::listed(v, &v.t("returned-doubted-since"), &v.job.doubted_since_returned(&v.desk)))
            ul.papers {
                li { a href=(format!("/jobs/{number}/report.pdf")) { (v.t("paper-link-report")) " " (back.body.report) } }
                @if v.job.set_up().is_some_and(|s| s.signed_off.is_some()) {
                    li { a href=(format!("/jobs/{number}/set-up-card.pdf")) { (v.t("paper-link-card")) } }
                }
                @if back.body.end.is_some() {
                    li { a href=(format!("/jobs/{number}/return-note.pdf")) { (v.t("paper-link-note")) } }
                }
                @if v.job.goes_back_to_work() {
                    li { a href=(format!("/jobs/{number}/care-sheet.pdf")) { (v.t("paper-link-care")) } }
                }
                @if let Some(c) = v.job.certificate() {
                    li { a href=(format!("/jobs/{number}/certificates/{}", c.body.number)) { (v.t("certificate-heading")) " " (c.body.number) } }
                }
                (super::suspect::link(v))
            }
            (super::certificate::section(v))
            (super::correct::strike(v, back.version))
        } @else if v.job.is_open(Stage::Returned) {
            (check(v))
            (doubt::listed(v, &v.t("readings-in-doubt"), &v.job.all_in_doubt(&v.desk)))
            (form(v))
            (super::certificate::issued(v))
            (super::certificate::section(v))
        }
    }
}

/// The answers to check before the papers are issued.
fn check(v: &View) -> Markup {
    let r = &v.job.received.body;
    let tests = v
        .model
        .bench_tests
        .iter()
        .filter_map(|t| v.job.test(Phase::AsLeft, &t.id));
    let undecided = tests
        .clone()
        .filter(|t| t.body.outcome == Outcome::Undecided)
        .count();
    let doubted = tests.clone().filter(|t| {
        let body = t.body.clone().into();
        !v.desk.shelf.doubted(&body, v.day_of(t.at)).is_empty()
    });
    let doubted = doubted.count();
    let made = Message::new("check-tests-count").with("done", tests.count());
    let made = v.say(&made.with("undecided", undecided));
    let made = match doubted {
        0 => made,
        doubted => {
            let doubted = Message::new("check-tests-doubted").with("doubted", doubted);
            format!("{made}, {}", v.say(&doubted))
        }
    };
    let line = |label: &str, text: String, anchor: &str| {
        html! {
            dt { (v.t(label)) }
            dd { (text) " " a href={ "#" (anchor) } { (v.t("check-change")) } }
        }
    };
    let cause = v.job.cause.as_ref().map(|c| v.causes_text(&c.body));
    html! {
        h3 { (v.t("check-heading")) }
        @let not_renewed: Vec<&str> = v.job.paid_and_not_renewed(&v.desk).iter().map(|part| part.name.as_str()).collect();
        @if !not_renewed.is_empty() {
            p.warn { (v.say(&Message::new("returned-not-renewed").with("parts", not_renewed.join(", ")))) }
        }
        dl.facts {
            (line("check-customer", v.person(&r.customer), "received"))
            (line("check-serial", r.serial.clone(), "received"))
            (line("field-complaint", r.complaint.clone(), "received"))
            (line("field-cause", cause.unwrap_or_default(), "fault"))
            @if let Some(w) = &v.job.warranty { (line("warranty-heading", v.t(names::cover(w.body.cover)), "agreed")) }
            @if let Some(e) = &v.job.estimate {
                @let taken = accepted(&e.body, v.job.answer.as_ref().map(|a| &a.body));
                @let bill = bill(&e.body, v.job.warranty.as_ref().map(|w| &w.body), &taken);
                (line("estimate-total", format!("{:.2} {}", bill.to_pay, e.body.currency), "agreed"))
            }
            (line("check-parts", v.job.replaced.len().to_string(), "rebuilt"))
            @if let Some(setting) = setting(v) { (line("check-setting", setting, "set-up")) }
            (line("check-tests", made, "proved"))
            @if !v.job.struck.is_empty() { (line("check-struck", v.job.struck.len().to_string(), "history")) }
        }
        @if r.pack == PackState::Damaged { p.warn { (v.t("lithium-damaged")) small { (v.t("lithium-damaged-source")) } } }
    }
}

/// The setting that was signed off: turns, or full stroke where the model sheet says so.
pub(super) fn setting(v: &View) -> Option<String> {
    let set_up = v.job.set_up()?;
    let signed = set_up.signed_off.as_ref()?;
    if let Some(turns) = signed.body.turns {
        let set = Message::new("joint-set").with("turns", paper::fraction(turns));
        return Some(v.say(&set));
    }
    let rule = v.job.set_up_sheets(set_up, &v.desk)?.rule?;
    match rule.basis {
        SettingBasis::StickOut | SettingBasis::Stroke => None,
        SettingBasis::FullStroke => Some(v.t("setting-full")),
        SettingBasis::Force => Some(match signed.body.pressure_bar {
            Some(bar) => format!("{}, {}", v.t("setting-force"), show::bar_text(v.p, bar, 2)),
            None => v.t("setting-force"),
        }),
    }
}

fn form(v: &View) -> Markup {
    let form = v.form("return");
    let with: Vec<Choice> = v
        .job
        .received
        .body
        .came
        .iter()
        .filter(|c| c.count > 0)
        .map(|c| Choice::new(&c.item, format!("{} × {}", c.count, c.item)).chosen(true))
        .collect();
    v.wrap(&form, "return", html! {
        (form.ticks(&Field::new("with", v.t("field-with")), &with))
        (form.text(&Field::new("to", v.t("field-to"))))
        (form.ticks(&Field::new("checked", v.t("field-checked")), &[Choice::new("yes", v.t("checked-yes"))]))
        (form.text(&Field::new("note", v.t("field-note"))))
        (doubt_reason::asked(&form, &v.job.all_in_doubt(&v.desk), Field::new("doubt", v.t("field-return-doubt")).hint(v.t("field-return-doubt-hint"))))
    }, "button-return")
}

/// The command of the form. `to` is the key of the name typed, `by` of the one picked at the bench.
pub fn parse(
    kind: &str,
    typed: &Typed,
    to: Option<PersonKey>,
    by: Option<PersonKey>,
) -> Option<Command> {
    (kind == "return").then(|| {
        Command::Return(ReturnIn {
            to,
            authorised: by,
            with: typed.all("with").map(str::to_owned).collect(),
            checked: typed.has("checked"),
            note: typed.get("note").to_owned(),
            doubted: doubt_reason::typed(typed),
            end: EndIn::Back,
        })
    })
}
