//! Reads what turns pressure into pull.

use calc::Message;

use super::table::Table;
use super::value::{self, Span};
use crate::sheet::{Drive, PullerFacts};

/// The keys of `[supply]` that say so. A number stands beside its source.
pub(super) fn read(s: &Table, drive: Drive) -> PullerFacts {
    let number = |key, span| s.given(key, |v| value::number(v, span));
    let facts = PullerFacts {
        area_mm2: number("area_mm2", Span(1.0, 100_000.0)),
        ratio: number("ratio", Span(1.0, 1000.0)),
        friction: number("friction", Span(0.0, 0.5)),
        friction_expanded: number("friction_expanded", Span(0.0, 0.4)),
        source: s.given("pull_source", value::string),
        gauge_step_bar: number("gauge_step_bar", Span(0.01, 50.0)),
        gauge_expanded_bar: number("gauge_expanded_bar", Span(0.0, 50.0)),
    };
    if drive == Drive::Hydraulic && s.has("ratio") {
        s.mistake("ratio", Message::new("sheet-ratio-not-wanted"));
    }
    if (s.has("area_mm2") || s.has("friction")) && !s.has("pull_source") {
        s.mistake("pull_source", Message::new("sheet-pull-source"));
    }
    facts
}
