//! The form of the warranty verdict: what the record proposes, line by line, or one verdict for everything.

use calc::Message;
use maud::{Markup, html};
use shop::entry::{Cover, LineJudged};
use shop::job::{Command, JudgeIn};
use shop::warranty::{self, LineProposal, Proposal, propose_lines};

use super::{evidence, received_on, warranty::missing};
use crate::forms::errors::reading_key;
use crate::forms::{FieldErrors, Typed};
use crate::job::names;
use crate::job::view::View;
use crate::shell::{Choice, Field, Form};

/// The verdicts that a line or the whole can have.
const COVERS: [Cover; 3] = [Cover::Covered, Cover::NotCovered, Cover::CannotTell];

/// The form.
pub fn form(v: &View) -> Markup {
    let form = v.form("warranty");
    let terms = &v.model.warranty;
    let card = v.desk.shelf.shop(&v.job.shop_pin());
    let lines = propose_lines(v.job, v.model, v.faults, &v.tool.earlier, card, |at| {
        v.day_of(at)
    });
    let voids: Vec<Choice> = terms.voided_by.iter().map(|t| Choice::new(t, t)).collect();
    html! {
        p { b { (alone(v, &lines)) } }
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
            (at_hand(v, &form, &lines))
            details open[v.is_refused("warranty")] {
                summary { (v.t("warranty-voided-summary")) }
                (form.ticks(&Field::new("voided", v.t("field-voided")), &voids))
                (form.text(&Field::new("void_evidence", v.t("field-void-evidence"))))
                (evidence::pick(v, &form, "void_entry", None))
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

/// What the maker's terms decide by themselves, before anybody picks a verdict, and why.
fn alone(v: &View, lines: &[LineProposal]) -> String {
    let parts = || lines.iter().filter(|line| line.part.is_some());
    let first = parts().next().map(|line| &line.proposal);
    let whole;
    let decides = match first {
        Some(first) => {
            let differ = |line: &LineProposal| {
                let same = line.proposal.cover == first.cover && line.proposal.term == first.term;
                line.own || !same
            };
            if parts().any(differ) {
                return v.t("warranty-alone-mixed");
            }
            first
        }
        None => {
            whole = proposed(v);
            &whole
        }
    };
    let told = match decides.cover {
        Cover::Covered | Cover::InPart => return v.t("warranty-alone-covered"),
        Cover::NotCovered => Message::new("warranty-alone-not-covered"),
        Cover::CannotTell => Message::new("warranty-alone-open"),
    };
    let told = told.with("term", v.say(&decides.term));
    v.say(&told.with("evidence", v.say(&decides.evidence)))
}

fn proposed(v: &View) -> Proposal {
    warranty::propose(v.job, v.model, v.faults, &v.tool.earlier, received_on(v))
}

/// What the terms require, to be ticked where it is there; in sight where the maker may be asked to pay.
fn at_hand(v: &View, form: &Form, lines: &[LineProposal]) -> Markup {
    let items: Vec<Choice> = v
        .model
        .warranty
        .evidence
        .iter()
        .map(|t| Choice::new(t, t))
        .collect();
    let is_claim = |line: &LineProposal| line.proposal.cover == Cover::Covered && !line.own;
    let claims = match lines {
        [] => proposed(v).cover == Cover::Covered,
        lines => lines.iter().any(is_claim),
    };
    html! {
        details open[claims || v.is_refused("warranty")] {
            summary { (v.t("warranty-at-hand-summary")) }
            @if !items.is_empty() { (form.ticks(&Field::new("at_hand", v.t("field-at-hand")), &items)) }
            (form.text(&Field::new("without_reason", v.t("field-without-reason"))))
        }
    }
}

/// One verdict for everything; proposed where there are no lines.
fn whole(v: &View, form: &Form, propose: bool) -> Markup {
    let proposal = proposed(v);
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
        (evidence::pick(v, form, "entry", proposal.entry.filter(|_| propose)))
    }
}

fn line_fields(v: &View, form: &Form, i: usize, line: &LineProposal) -> Markup {
    let key = |name| reading_key(name, i);
    let (cover, term, words) = (key("line_cover"), key("line_term"), key("line_evidence"));
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
            (form.text(&Field::new(&words, v.t("field-evidence")).value(v.say(&line.proposal.evidence))))
            (evidence::pick(v, form, &key("line_entry"), line.proposal.entry))
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
    let ticked = |name| {
        let all = typed.all(name).filter(|t| !t.is_empty());
        all.map(str::to_owned).collect()
    };
    Some(Command::JudgeWarranty(JudgeIn {
        cover,
        term: typed.get("term").to_owned(),
        evidence: typed.get("evidence").to_owned(),
        entry: evidence::picked(typed, "entry"),
        lines,
        voided: ticked("voided"),
        void_evidence: typed.get("void_evidence").to_owned(),
        void_entry: evidence::picked(typed, "void_entry"),
        at_hand: ticked("at_hand"),
        without_reason: typed.get("without_reason").to_owned(),
    }))
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
            entry: evidence::picked(typed, &key("line_entry", i)),
        })
    };
    given.filter_map(line).collect()
}
