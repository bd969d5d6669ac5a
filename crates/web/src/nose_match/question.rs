//! What is asked: tool, fastener, sets that are held.

use calc::Message;
use maud::{Markup, html};
use shop::nose_match::{Fit, at_hand, rank};
use shop::sheet::{FastenerFamily, NoseSet, Shelf, ToolModel};

use super::{PATH, sizes};
use crate::forms::{FieldErrors, Typed};
use crate::shell::{Choice, Field, Form, Page};

/// Name of the form.
pub(super) const FORM: &str = "match";

/// What is asked, as far as it can be read.
pub(super) struct Asked<'a> {
    /// The tool.
    pub model: Option<&'a ToolModel>,
    /// The fastener.
    pub fastener: Option<&'a FastenerFamily>,
    /// Nose sets that are held.
    pub held: Vec<&'a NoseSet>,
    /// Every set on the shelf.
    pub all: Vec<&'a NoseSet>,
}

impl<'a> Asked<'a> {
    /// The sets to choose from: those that are held or can be put together, else all.
    pub fn at_hand(&self) -> Vec<&'a NoseSet> {
        if self.held.is_empty() {
            self.all.clone()
        } else {
            at_hand(&self.held, &self.all)
        }
    }
}

/// Reads the address. What names no sheet in force is a mistake at its field.
pub(super) fn read<'a>(shelf: &'a Shelf, typed: &Typed) -> (Asked<'a>, FieldErrors) {
    let mut errors = FieldErrors::new();
    let model = typed.filled("model").and_then(|id| {
        let found = shelf.models().map(|(_, m)| m).find(|m| m.id == id);
        if found.is_none() {
            errors.add("model", Message::new("match-refuse-model").with("id", id));
        }
        found
    });
    let fastener = typed.filled("fastener").and_then(|id| {
        let found = shelf.fasteners().map(|(_, f)| f).find(|f| f.id == id);
        if found.is_none() {
            let refusal = Message::new("match-refuse-fastener").with("id", id);
            errors.add("fastener", refusal);
        }
        found
    });
    let all: Vec<&NoseSet> = shelf.nose_sets().map(|(_, n)| n).collect();
    for id in typed.all("held") {
        if !all.iter().any(|n| n.id == id) {
            errors.add("held", Message::new("match-refuse-held").with("id", id));
        }
    }
    let asked = Asked {
        model,
        fastener,
        held: all
            .iter()
            .copied()
            .filter(|n| typed.ticked("held", &n.id))
            .collect(),
        all,
    };
    (asked, errors)
}

/// The form. It is sent in the address, so it has neither token nor submission key.
pub(super) fn form(
    p: &Page,
    shelf: &Shelf,
    asked: &Asked,
    typed: &Typed,
    errors: &FieldErrors,
) -> Markup {
    let form = Form::new(p, FORM, typed, errors);
    let models: Vec<Choice> = shelf
        .models()
        .map(|(_, m)| Choice::new(&m.id, &m.name))
        .collect();
    let fasteners: Vec<Choice> = shelf
        .fasteners()
        .map(|(_, f)| Choice::new(&f.id, &f.name))
        .collect();
    // Of another thread only those that were ticked: they stay until they are taken away.
    let suits = |n: &NoseSet| asked.model.is_none_or(|m| m.front_end == n.thread);
    let sets: Vec<Choice> = asked
        .all
        .iter()
        .filter(|n| suits(n) || typed.ticked("held", &n.id))
        .map(|n| Choice::new(&n.id, &n.name))
        .collect();
    let pair = asked.model.zip(asked.fastener);
    let ranked = pair.map(|(model, fastener)| rank(model, fastener, asked.at_hand()));
    let best = ranked.and_then(|ranked| ranked.into_iter().next());
    let best = best.filter(|best| best.found.fit() == Fit::Unknown);
    html! {
        @if models.is_empty() { p.note { (p.t("match-no-models")) } }
        form #(FORM) method="get" action=(PATH) {
            (form.select(&Field::new("model", p.t("field-model")), &models))
            (form.select(&Field::new("fastener", p.t("field-fastener")), &fasteners))
            @if !sets.is_empty() {
                details open[typed.has("held")] {
                    summary { (p.t("match-held")) }
                    (form.ticks(&Field::new("held", p.t("match-held")).hint(p.t("match-held-hint")), &sets))
                }
            }
            (sizes::fields(&form, typed, best.as_ref().map(|best| (best.nose, &best.found))))
            div.buttons { button { (p.t("match-go")) } }
        }
    }
}
