//! The warranty verdict, line by line, and what a claim is sent with.

use calc::Message;
use maud::{Markup, html};
use shop::entry::{LineJudged, WarrantyJudged};
use shop::warranty::{may_be_claimed, missing_internal};

use super::{evidence, warranty_form};
use crate::job::names;
use crate::job::view::View;

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
                            dt { (v.t("field-evidence")) } dd { (evidence::shown(v, &w.body.evidence, w.body.entry)) }
                        }
                    } @else { (lines_judged(v, &w.body)) }
                    p.pm { (v.stamp(w.at, &w.by)) }
                    (crate::job::correct::strike(v, w.version))
                }
                (to_send(v))
            }
            None => { @if open { (warranty_form::form(v)) } }
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
                td data-label=(v.t("field-evidence")) { (evidence::shown(v, &line.evidence, line.entry)) }
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

/// What a claim is sent with, and in red what is missing of it; that alone where there is nothing to claim.
pub fn to_send(v: &View) -> Markup {
    let number = v.job.received.body.number;
    let judged = v.job.warranty.as_ref();
    if !judged.is_some_and(|w| may_be_claimed(&w.body)) {
        return missing(v);
    }
    html! {
        h4 { (v.t("claim-heading")) }
        ul { @for item in &v.model.warranty.evidence { li { @if at_hand(v).contains(item) { "✓ " } (item) } } }
        (missing(v))
        @if let Some(without) = without(v) { p.rej { (without) } }
        @if let Some(who) = &v.model.warranty.decided_by { p { (v.say(&Message::new("claim-decided-by").with("who", who.as_str()))) } }
        ul.papers { li { a href=(format!("/jobs/{number}/warranty-claim.pdf")) { (v.t("paper-link-claim")) } } }
    }
}

/// What was ticked as at hand when it was judged.
fn at_hand<'a>(v: &'a View) -> &'a [String] {
    let judged = v.job.warranty.as_ref();
    judged.map_or(&[], |w| w.body.at_hand.as_slice())
}

/// That it was judged covered without all that the terms require, and why.
pub fn without(v: &View) -> Option<String> {
    let judged = &v.job.warranty.as_ref()?.body;
    (!judged.without.is_empty()).then(|| {
        let said = Message::new("warranty-without")
            .with("items", judged.without.join("; "))
            .with("reason", judged.without_reason.as_str());
        v.say(&said)
    })
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
