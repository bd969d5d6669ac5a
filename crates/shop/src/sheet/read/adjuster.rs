//! Reads the stroke adjuster and holds its stated effect against its four facts.

use calc::Message;
use calc::screw_stop::{Effect, Hand, ScrewStop, View, Zero};

use super::shared;
use super::table::Table;
use super::value::{self, Span, Word};
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
        step_turns: t
            .given("step_turns", |v| value::number(v, Span(0.015_625, 1.0)))
            .unwrap_or_else(|| hand_step(stop.pitch_mm)),
        tools_differ_mm: t.given("tools_differ_mm", |v| value::number(v, Span(0.01, 10.0))),
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

/// The largest of a quarter and an eighth turn that moves the stroke by 0.25 mm at most; an eighth, if both
/// move it further. Common practice, no source.
fn hand_step(pitch_mm: f64) -> f64 {
    if 0.25 * pitch_mm <= 0.25 { 0.25 } else { 0.125 }
}

#[cfg(test)]
mod tests {
    #[test]
    fn hands_set_a_quarter_turn_where_that_is_fine_enough() {
        for (pitch_mm, turns) in [
            (0.75, 0.25),
            (1.0, 0.25),
            (1.25, 0.125),
            (2.0, 0.125),
            (3.0, 0.125),
        ] {
            assert_eq!(super::hand_step(pitch_mm), turns, "{pitch_mm}");
        }
    }
}
