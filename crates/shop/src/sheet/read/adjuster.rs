//! Reads the stroke adjuster and holds its stated effect against its four facts.

use calc::Message;
use calc::screw_stop::{Effect, Hand, ScrewStop, View, Zero};

use super::shared;
use super::table::Table;
use super::value::{Span, Word};
use crate::sheet::Adjuster;

impl Word for Zero {
    const WORDS: &'static [(&'static str, Self)] =
        &[("open", Zero::Open), ("closed", Zero::Closed)];
}

impl Word for View {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("adjuster-end", View::AdjusterEnd),
        ("nose-end", View::NoseEnd),
    ];
}

/// The adjuster, or nothing if its facts are not all there.
pub(super) fn read(t: &Table) -> Option<Adjuster> {
    let hand: Hand = shared::hand(t);
    let stop = ScrewStop {
        pitch_mm: t.number("pitch_mm", Span(0.2, 10.0)),
        hand,
        screwing_in: t.word("screwing_in"),
        zero: t.word("zero"),
        view: t.word("seen_from"),
    };
    let stated: Effect = t.word("clockwise");
    let adjuster = Adjuster {
        stop,
        step_turns: t.number("step_turns", Span(0.015_625, 1.0)),
        approach: t.word("approach"),
        key: t.string("key"),
    };
    let facts_are_known = t.good(&["hand", "screwing_in", "zero", "seen_from"]);
    if facts_are_known && t.good(&["clockwise"]) && stop.clockwise() != stated {
        let truth = Message::new(match stop.clockwise() {
            Effect::Shortens => "effect-shortens",
            Effect::Lengthens => "effect-lengthens",
        });
        t.mistake(
            "clockwise",
            Message::new("sheet-clockwise").with("effect", truth),
        );
    }
    (facts_are_known && t.good(&["pitch_mm"])).then_some(adjuster)
}
