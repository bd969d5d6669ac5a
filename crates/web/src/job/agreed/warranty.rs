//! The warranty verdict.

use calc::Message;
use maud::{Markup, html};
use shop::entry::Cover;
use shop::job::Command;
use shop::warranty;

use super::received_on;
use crate::forms::{FieldErrors, Typed};
use crate::job::names;
use crate::job::view::View;
use crate::shell::{Choice, Field};

/// The verdict, or its form while it is `open`.
pub fn section(v: &View, open: bool) -> Markup {
    html! {
        h3 { (v.t("warranty-heading")) }
        @match &v.job.warranty {
            Some(w) => {
                div.answer {
                    p.mid { (v.t(names::cover(w.body.cover))) }
                    dl.facts {
                        dt { (v.t("field-term")) } dd { (w.body.term) }
                        dt { (v.t("field-evidence")) } dd { (w.body.evidence) }
                    }
                    p.pm { (v.stamp(w.at, &w.by)) }
                    (crate::job::correct::strike(v, w.version))
                }
            }
            None => { @if open { (form(v)) } }
        }
    }
}

fn form(v: &View) -> Markup {
    let proposal = warranty::propose(v.job, v.model, v.faults, received_on(v));
    let form = v.form("warranty");
    let terms = &v.model.warranty;
    let choices = [Cover::Covered, Cover::NotCovered, Cover::CannotTell].map(|cover| {
        Choice::new(cover_key(cover), v.t(names::cover(cover))).chosen(cover == proposal.cover)
    });
    html! {
        p.hint { (v.t("warranty-proposal")) }
        details {
            summary { (v.t("warranty-terms")) }
            ul {
                li { (v.say(&Message::new("term-months").with("months", terms.months))) }
                @if let Some(pulls) = terms.pulls { li { (v.say(&Message::new("term-pulls").with("limit", pulls))) } }
                @for text in terms.voided_by.iter().chain(&terms.evidence) { li { (text) } }
            }
            p.hint { (terms.source) }
        }
        (v.wrap(&form, "warranty", html! {
            (form.radios(&Field::new("cover", v.t("field-cover")), &choices))
            (form.text(&Field::new("term", v.t("field-term")).value(v.say(&proposal.term))))
            (form.text(&Field::new("evidence", v.t("field-evidence")).value(v.say(&proposal.evidence))))
        }, "button-warranty"))
    }
}

fn cover_key(cover: Cover) -> &'static str {
    match cover {
        Cover::Covered => "covered",
        Cover::NotCovered => "not-covered",
        Cover::CannotTell => "cannot-tell",
        Cover::InPart => "in-part",
    }
}

/// The command of the form.
pub fn parse(typed: &Typed, errors: &mut FieldErrors) -> Option<Command> {
    let covers = [Cover::Covered, Cover::NotCovered, Cover::CannotTell];
    let Some(cover) = covers
        .into_iter()
        .find(|c| cover_key(*c) == typed.get("cover"))
    else {
        errors.add("cover", Message::new("refuse-cover"));
        return None;
    };
    Some(Command::JudgeWarranty {
        cover,
        term: typed.get("term").to_owned(),
        evidence: typed.get("evidence").to_owned(),
    })
}
