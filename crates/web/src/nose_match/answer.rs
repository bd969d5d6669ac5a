//! The set that fits, all sets in order, and what the tool can set.

use calc::Message;
use maud::{Markup, html};
use shop::nose_match::{Fit, Ranked, rank, settable};
use shop::sheet::{FastenerFamily, Shelf, ToolModel};

use super::path_for;
use super::question::Asked;
use super::reasons::{chip, table, verdict};
use crate::shell::Page;

/// The large answer.
pub(super) fn best(
    p: &Page,
    asked: &Asked,
    model: &ToolModel,
    fastener: &FastenerFamily,
) -> Markup {
    let ranked = rank(model, fastener, asked.at_hand());
    let question = Message::new("match-question")
        .with("fastener", fastener.name.as_str())
        .with("model", model.name.as_str());
    let first = ranked.first();
    let good = first.filter(|r| r.found.fit() != Fit::No);
    html! {
        div.answer.no[good.is_none()] {
            p.lab { (p.say(&question)) }
            @match (good, first) {
                (Some(set), _) => {
                    p.mid { (set.nose.name) ", " (set.nose.collet.number) }
                    (verdict(p, &set.found, model.drive))
                }
                (None, Some(set)) => {
                    p.mid { (p.t(if asked.held.is_empty() { "match-none" } else { "match-none-held" })) }
                    p { (p.say(&Message::new("match-nearest").with("nose", set.nose.name.as_str()))) }
                    (verdict(p, &set.found, model.drive))
                }
                (None, None) => {
                    p.mid { (p.t("match-none")) }
                    p { (p.t("match-none-shelf")) }
                }
            }
        }
    }
}

/// Every set in order, with its reasons. Those of another thread are only named.
pub(super) fn all(p: &Page, asked: &Asked, model: &ToolModel, fastener: &FastenerFamily) -> Markup {
    let ranked = rank(model, fastener, asked.all.iter().copied());
    let (same, other): (Vec<Ranked>, Vec<Ranked>) = ranked
        .into_iter()
        .partition(|r| r.nose.thread == model.front_end);
    let names: Vec<&str> = other.iter().map(|r| r.nose.name.as_str()).collect();
    html! {
        details {
            summary { (p.t("match-all")) }
            p.hint { (p.t("match-rule")) }
            ol {
                @for set in &same {
                    li {
                        b { (set.nose.name) } " " (chip(p, set.found.fit()))
                        @if let Some(margin) = set.margin_kn { p.hint { (p.say(&margin_text(margin))) } }
                        (table(p, &set.found))
                    }
                }
            }
            @if !other.is_empty() {
                p.hint {
                    (p.say(&Message::new("match-other-thread").with("count", other.len()).with("names", names.join("; "))))
                }
            }
        }
    }
}

/// How much pull is left, or lacks.
fn margin_text(kn: f64) -> Message {
    let id = if kn < 0.0 {
        "match-margin-short"
    } else {
        "match-margin"
    };
    Message::new(id).number("kn", kn.abs(), 1)
}

/// Every fastener that the tool can set, or may be able to.
pub(super) fn can_set(p: &Page, shelf: &Shelf, asked: &Asked, model: &ToolModel) -> Markup {
    let fasteners = shelf.fasteners().map(|(_, fastener)| fastener);
    let found = settable(model, fasteners, &asked.at_hand());
    let whole = asked.held.is_empty();
    html! {
        h2 { (p.t("match-can")) }
        p.hint { (p.t(if whole { "match-can-shelf" } else { "match-can-held" })) }
        @if found.is_empty() { p.empty { (p.t("match-can-none")) } }
        @else {
            table.stack {
                thead { tr { th { (p.t("match-fastener")) } th { (p.t("match-set")) } th { (p.t("match-verdict-column")) } } }
                tbody {
                    @for can in &found {
                        tr {
                            td data-label=(p.t("match-fastener")) {
                                a href=(path_for(&model.id, &can.fastener.id, &asked.held)) { (can.fastener.name) }
                            }
                            td data-label=(p.t("match-set")) {
                                (can.best.nose.name)
                                @for missing in can.best.found.missing() { small { (p.say(missing)) } }
                            }
                            td data-label=(p.t("match-verdict-column")) { (chip(p, can.best.found.fit())) }
                        }
                    }
                }
            }
        }
    }
}
