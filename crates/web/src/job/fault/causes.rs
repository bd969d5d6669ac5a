//! The causes by their probability, and what each piece of evidence says of them.

use calc::Message;
use maud::{Markup, html};
use shop::diagnosis::{Diagnosis, Evidence, Ranked, Seen, percent, ruled_out};
use shop::sheet::Cause;

use super::next::MOST_OTHERS;
use crate::job::view::View;
use crate::show;

/// How many causes and checks are shown before the fold.
const SHOWN: usize = 5;

/// Weight of evidence below which a piece says nothing of a cause: the bar would be empty.
const LEAST_WEIGHT: f64 = 0.05;

/// Weight of evidence, natural log-odds, that fills a bar.
const MOST_WEIGHT: f64 = 5.0;

pub fn causes(v: &View, d: &Diagnosis, seen: &Seen) -> Markup {
    let more = d.ranked.len().saturating_sub(SHOWN).min(MOST_OTHERS);
    html! {
        @if let Some(odd) = d.odd {
            p.warn { (v.say(&Message::new("evidence-odd").with("what", evidence_text(v, odd, seen)))) }
        }
        ol.bars { @for ranked in d.ranked.iter().take(SHOWN) { (cause(v, ranked, seen)) } }
        @if more > 0 {
            details {
                summary { (v.say(&Message::new("causes-more").with("count", more))) }
                ol.bars start=(SHOWN + 1) { @for ranked in d.ranked.iter().skip(SHOWN).take(more) { (cause(v, ranked, seen)) } }
            }
        }
        @if !d.together.is_empty() {
            @let names: Vec<String> = d.together.iter().map(|cause| name(v, *cause)).collect();
            p.hint { (v.say(&Message::new("causes-together").with("causes", names.join(" + ")))) }
        }
    }
}

/// That everything is ruled out, and by what.
pub fn nothing_left(v: &View, seen: &Seen) -> String {
    match ruled_out(v.faults, v.model.drive, seen) {
        Some(odd) => {
            let what = evidence_text(v, odd, seen);
            v.say(&Message::new("evidence-impossible").with("what", what))
        }
        None => v.t("calc-impossible"),
    }
}

/// A cause with its probability; behind the fold why, strongest evidence first.
fn cause(v: &View, ranked: &Ranked, seen: &Seen) -> Markup {
    let name = name(v, ranked.cause);
    html! {
        li {
            details {
                summary {
                    span.what { (name) }
                    meter min="0" max="1" value=(format!("{:.4}", ranked.probability)) aria-label=(name) {}
                    b.n { (percent(ranked.probability)) }
                }
                p.hint { (v.t("cause-why")) }
                ul.weights {
                    @for (evidence, weight) in ranked.why.iter().filter(|(_, weight)| weight.abs() >= LEAST_WEIGHT) {
                        @let said = why(v, *evidence, *weight, seen);
                        li {
                            (said)
                            meter min="0" max=(MOST_WEIGHT) value=(format!("{:.2}", weight.abs().min(MOST_WEIGHT))) aria-label=(said) {}
                        }
                    }
                }
                (show::working(v.p, &ranked.working))
                @if let Some(cause) = ranked.cause { p { b { (v.t("cause-action")) } " " (cause.action) } }
            }
        }
    }
}

/// What a cause is called; `None` is something not in the list.
pub fn name(v: &View, cause: Option<&Cause>) -> String {
    cause.map_or_else(|| v.t("cause-unlisted"), |cause| cause.text.clone())
}

fn evidence_text(v: &View, evidence: Evidence, seen: &Seen) -> String {
    match evidence {
        Evidence::Symptom(id, there) => {
            let text = v.faults.symptom(id).map_or(id, |s| &s.text);
            let id = match there {
                true if seen.handed.contains(id) => "why-on-joint",
                true => "why-there",
                false => "why-not-there",
            };
            v.say(&Message::new(id).with("what", text))
        }
        Evidence::Worn(cause, share) => {
            let part = cause.worn.as_deref().unwrap_or_default();
            let named = v.model.part_called(part);
            v.say(
                &Message::new("why-worn")
                    .with("part", named.map_or(part, |part| part.name.as_str()))
                    .with("share", percent(share)),
            )
        }
        Evidence::Check(check, yes) => {
            let id = if yes { "why-yes" } else { "why-no" };
            v.say(&Message::new(id).with("what", v.question(check)))
        }
    }
}

/// What a piece of evidence adds, in words.
fn why(v: &View, evidence: Evidence, weight: f64, seen: &Seen) -> String {
    let id = if weight >= 0.0 {
        "why-for"
    } else {
        "why-against"
    };
    let what = evidence_text(v, evidence, seen);
    v.say(
        &Message::new(id)
            .with("what", what)
            .number("weight", weight.abs(), 1),
    )
}
