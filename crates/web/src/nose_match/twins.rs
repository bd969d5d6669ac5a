//! Sets that look the same, and how to tell them apart.

use calc::Message;
use calc::working::{fixed, places};
use maud::{Markup, html};
use shop::nose_match::{
    EYE_MM, LookAlikeOf, Size, Twins, look_alikes, smallest_told_mm, twins, working,
};
use shop::sheet::{Gauge, NoseSet};

use super::question::Asked;
use super::reasons::caution;
use crate::shell::Page;
use crate::show;

/// The section: of the tool's own thread once a tool is picked.
pub(super) fn section(p: &Page, asked: &Asked, caliper: Option<&Gauge>) -> Markup {
    let suits = |n: &&NoseSet| asked.model.is_none_or(|m| m.front_end == n.thread);
    let noses: Vec<&NoseSet> = asked.all.iter().copied().filter(suits).collect();
    let found = twins(noses.iter().copied(), caliper);
    let named = look_alikes(noses, caliper);
    let rule = Message::new("match-twins-rule").number("mm", EYE_MM, 0);
    html! {
        h2 { (p.t("match-twins")) }
        p.hint { (p.say(&rule)) }
        @if found.is_empty() { p { (p.t("match-twins-none")) } }
        // Parts are measured out of the tool.
        @if !(found.is_empty() && named.is_empty()) { (caution(p, asked.model.map(|m| m.drive))) }
        @for pair in &found { (two(p, pair)) }
        @if !named.is_empty() {
            h3 { (p.t("match-look-alikes")) }
            (by_sheet(p, &named))
        }
        @if let Some(gauge) = caliper {
            @let told = smallest_told_mm(gauge.doubt());
            p.hint { (p.say(&Message::new("tell-gauge").with("gauge", gauge.name.as_str()).number("mm", told, 3))) }
            (show::working(p, &working(gauge.doubt())))
        }
    }
}

fn two(p: &Page, pair: &Twins) -> Markup {
    let title = Message::new("match-pair")
        .with("first", pair.first.name.as_str())
        .with("second", pair.second.name.as_str());
    let [first, second] = pair.numbers();
    html! {
        h3 { (p.say(&title)) }
        @if !pair.differences.is_empty() {
            table.stack {
                thead { tr {
                    th { (p.t("match-size-column")) } th.n { (first) } th.n { (second) } th.n { (p.t("match-by")) } th { (p.t("match-tell")) }
                } }
                tbody {
                    @for difference in &pair.differences {
                        @let [a, b, by] = difference.figures();
                        tr {
                            td data-label=(p.t("match-size-column")) { (p.say(&difference.size.name())) }
                            td.n data-label=(first) { (a) }
                            td.n data-label=(second) { (b) }
                            td.n data-label=(p.t("match-by")) { (by) }
                            td data-label=(p.t("match-tell")) { (p.say(&difference.tell.words(difference.size))) }
                        }
                    }
                }
            }
        }
        @if !pair.not_known.is_empty() {
            @let sizes: Vec<String> = pair.not_known.iter().map(|size| p.say(&size.name())).collect();
            p.hint { (p.say(&Message::new("match-not-known").with("sizes", sizes.join(", ")))) }
        }
    }
}

fn by_sheet(p: &Page, named: &[LookAlikeOf]) -> Markup {
    html! {
        table.stack {
            thead { tr {
                th { (p.t("match-part")) } th.n { (p.t("match-right")) } th.n { (p.t("match-wrong")) } th { (p.t("match-tell")) }
            } }
            tbody {
                @for one in named {
                    @let part = one.part;
                    @let decimals = places(part.this_mm, 1).max(places(part.that_mm, 1));
                    @let pair = Message::new("match-instead-of").with("number", part.number.as_str()).with("right", one.nose.collet.number.as_str());
                    tr {
                        td data-label=(p.t("match-part")) {
                            (p.say(&pair))
                            small { (part.differs) ". " (part.effect) }
                        }
                        td.n data-label=(p.t("match-right")) { (fixed(part.this_mm, decimals)) " mm" }
                        td.n data-label=(p.t("match-wrong")) { (fixed(part.that_mm, decimals)) " mm" }
                        td data-label=(p.t("match-tell")) { (p.say(&one.tell.words(Size::ColletLength))) }
                    }
                }
            }
        }
    }
}
