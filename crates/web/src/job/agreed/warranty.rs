//! The warranty verdict, line by line, and what a claim is sent with.

use calc::Message;
use maud::{Markup, html};
use shop::entry::{Cover, LineJudged, WarrantyJudged};
use shop::job::Command;
use shop::warranty::{self, LineProposal, missing_internal, propose_lines};

use super::received_on;
use crate::forms::errors::reading_key;
use crate::forms::{FieldErrors, Typed};
use crate::job::names;
use crate::job::view::View;
use crate::shell::{Choice, Field, Form};

/// The verdicts that a line or the whole can have.
const COVERS: [Cover; 3] = [Cover::Covered, Cover::NotCovered, Cover::CannotTell];

/// The verdict, or its form while it is `open`.
pub fn section(v: &View, open: bool) -> Markup {
    html! {
        h3 { (v.t("warranty-heading")) }
        @match &v.job.warranty {
            Some(w) => {
                div.answer {
                    p.mid { (v.t(names::cover(w.body.cover))) }
                    @if w.body.lines.is_empty() {
                        dl.facts {
                            dt { (v.t("field-term")) } dd { (w.body.term) }
                            dt { (v.t("field-evidence")) } dd { (w.body.evidence) }
                        }
                    } @else { (lines_judged(v, &w.body)) }
                    p.pm { (v.stamp(w.at, &w.by)) }
                    (crate::job::correct::strike(v, w.version))
                }
                (to_send(v))
            }
            None => { @if open { (form(v)) } }
        }
    }
}

fn lines_judged(v: &View, judged: &WarrantyJudged) -> Markup {
    html! {
        table.stack {
            thead { tr { th { (v.t("warranty-part")) } th { (v.t("field-cover")) } th { (v.t("field-term")) } th { (v.t("field-evidence")) } } }
            tbody { @for line in &judged.lines { tr {
                td data-label=(v.t("warranty-part")) { (part_name(v, line)) }
                td data-label=(v.t("field-cover")) { (v.t(names::cover(line.cover))) }
                td data-label=(v.t("field-term")) { (line.term) }
                td data-label=(v.t("field-evidence")) { (line.evidence) }
            } } }
        }
    }
}

/// The part of a line, or labour.
pub fn part_name(v: &View, line: &LineJudged) -> String {
    if line.part.is_empty() {
        return v.t("warranty-labour");
    }
    let part = v.model.part(&line.part);
    part.map_or(line.part.clone(), |part| part.name.clone())
}

/// What a claim is sent with, and in red what is missing of it.
pub fn to_send(v: &View) -> Markup {
    let number = v.job.received.body.number;
    html! {
        h4 { (v.t("claim-heading")) }
        ul { @for item in &v.model.warranty.evidence { li { (item) } } }
        (missing(v))
        @if let Some(who) = &v.model.warranty.decided_by { p { (v.say(&Message::new("claim-decided-by").with("who", who.as_str()))) } }
        ul.papers { li { a href=(format!("/jobs/{number}/warranty-claim.pdf")) { (v.t("paper-link-claim")) } } }
    }
}

/// In red: internal parts that did not come with the tool.
pub fn missing(v: &View) -> Markup {
    html! {
        @for item in missing_texts(v) { p.rej { b { (item) } } }
    }
}

/// The same as texts.
pub fn missing_texts(v: &View) -> Vec<String> {
    let text = |c: &shop::entry::Came| {
        let said = Message::new("claim-missing")
            .with("item", c.item.as_str())
            .with("count", c.count)
            .with("of", c.of);
        v.say(&said)
    };
    missing_internal(v.job).map(text).collect()
}

fn form(v: &View) -> Markup {
    let form = v.form("warranty");
    let terms = &v.model.warranty;
    let card = v.desk.shelf.shop(&v.job.shop_pin());
    let lines = propose_lines(v.job, v.model, v.faults, &v.tool.earlier, card, |at| {
        v.day_of(at)
    });
    let voids: Vec<Choice> = terms.voided_by.iter().map(|t| Choice::new(t, t)).collect();
    html! {
        p.hint { (v.t("warranty-proposal")) }
        (missing(v))
        details {
            summary { (v.t("warranty-terms")) }
            ul {
                li { (v.say(&warranty::term_months(v.model))) }
                @if let Some(pulls) = terms.pulls { li { (v.say(&Message::new("term-pulls").with("limit", pulls))) } }
                @for text in terms.voided_by.iter().chain(&terms.evidence) { li { (text) } }
            }
            p.hint { (terms.source) }
        }
        (v.wrap(&form, "warranty", html! {
            @if lines.is_empty() { (whole(v, &form, true)) }
            @for (i, line) in lines.iter().enumerate() { (line_fields(v, &form, i, line)) }
            details open[v.is_refused("warranty")] {
                summary { (v.t("warranty-voided-summary")) }
                (form.ticks(&Field::new("voided", v.t("field-voided")), &voids))
                (form.text(&Field::new("void_evidence", v.t("field-void-evidence"))))
            }
            @if !lines.is_empty() {
                details open[v.is_refused("warranty")] {
                    summary { (v.t("warranty-whole-summary")) }
                    p.hint { (v.t("warranty-whole-hint")) }
                    (whole(v, &form, false))
                }
            }
        }, "button-warranty"))
    }
}

/// One verdict for everything; proposed where there are no lines.
fn whole(v: &View, form: &Form, propose: bool) -> Markup {
    let proposal = warranty::propose(v.job, v.model, v.faults, &v.tool.earlier, received_on(v));
    let choices = COVERS.map(|cover| {
        let chosen = propose && cover == proposal.cover;
        Choice::new(cover_key(cover), v.t(names::cover(cover))).chosen(chosen)
    });
    let text = |message| {
        if propose {
            v.say(message)
        } else {
            String::new()
        }
    };
    html! {
        (form.radios(&Field::new("cover", v.t("field-cover")), &choices))
        (form.text(&Field::new("term", v.t("field-term")).value(text(&proposal.term))))
        (form.text(&Field::new("evidence", v.t("field-evidence")).value(text(&proposal.evidence))))
    }
}

fn line_fields(v: &View, form: &Form, i: usize, line: &LineProposal) -> Markup {
    let key = |name| reading_key(name, i);
    let (cover, term, evidence) = (key("line_cover"), key("line_term"), key("line_evidence"));
    let choices = COVERS
        .map(|c| Choice::new(cover_key(c), v.t(names::cover(c))).chosen(c == line.proposal.cover));
    let name = line
        .part
        .map_or_else(|| v.t("warranty-labour"), |part| part.name.clone());
    let part = line.part.map_or("", |part| part.id.as_str());
    html! {
        div.line {
            input type="hidden" name=(key("line_part")) value=(part);
            @if line.own { input type="hidden" name=(key("line_own")) value="yes"; }
            (form.select(&Field::new(&cover, name), &choices))
            (form.text(&Field::new(&term, v.t("field-term")).value(v.say(&line.proposal.term))))
            (form.text(&Field::new(&evidence, v.t("field-evidence")).value(v.say(&line.proposal.evidence))))
        }
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

fn cover_of(raw: &str) -> Option<Cover> {
    COVERS.into_iter().find(|c| cover_key(*c) == raw)
}

/// The command of the form. A verdict for everything takes the place of the lines.
pub fn parse(typed: &Typed, v: &View, errors: &mut FieldErrors) -> Option<Command> {
    let cover = cover_of(typed.get("cover"));
    let lines = match cover {
        Some(_) => Vec::new(),
        None => lines(typed, v, errors),
    };
    Some(Command::JudgeWarranty {
        cover,
        term: typed.get("term").to_owned(),
        evidence: typed.get("evidence").to_owned(),
        lines,
        voided: typed
            .all("voided")
            .filter(|t| !t.is_empty())
            .map(str::to_owned)
            .collect(),
        void_evidence: typed.get("void_evidence").to_owned(),
    })
}

fn lines(typed: &Typed, v: &View, errors: &mut FieldErrors) -> Vec<LineJudged> {
    let key = |name, i| reading_key(name, i);
    // No model has so many parts; a forged number of fields must not make us loop.
    let given = (0..100).take_while(|i| typed.has(&key("line_part", *i)));
    let line = |i: usize| {
        let part = typed.get(&key("line_part", i)).to_owned();
        let Some(cover) = cover_of(typed.get(&key("line_cover", i))) else {
            errors.add(key("line_cover", i), Message::new("refuse-cover"));
            return None;
        };
        Some(LineJudged {
            number: v
                .model
                .part(&part)
                .map_or(String::new(), |p| p.number.clone()),
            part,
            cover,
            own: typed.ticked(&key("line_own", i), "yes"),
            term: typed.get(&key("line_term", i)).to_owned(),
            evidence: typed.get(&key("line_evidence", i)).to_owned(),
        })
    };
    given.filter_map(line).collect()
}
