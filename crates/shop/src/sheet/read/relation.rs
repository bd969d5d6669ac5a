//! Reads the relation of a setting, and holds it against the setting's table.

use std::ops::Range;

use calc::Message;
use calc::screw_stop::ScrewStop;
use calc::stroke_relation::{Length, Relation, stick_out_mm, stroke_at};

use super::lists::Row;
use super::table::Table;
use super::value::Span;

const KEYS: [&str; 6] = [
    "nose_depth_mm",
    "nose_depth_expanded_mm",
    "anvil_height_mm",
    "anvil_height_expanded_mm",
    "stretch_mm",
    "stretch_expanded_mm",
];

/// Longest length in a nose, mm.
const LENGTH: Span = Span(0.0, 500.0);
/// Largest doubt of one, mm.
const DOUBT: Span = Span(0.0, 5.0);

/// A stop and how far it goes.
pub(super) struct Travel<'a> {
    pub(super) stop: &'a ScrewStop,
    pub(super) full_mm: f64,
    pub(super) step_turns: f64,
}

/// The lengths of the relation; `None` if one of them is not good.
pub(super) fn read(t: &Table) -> Option<Relation> {
    let length = |key, doubt| Length {
        value_mm: t.number(key, LENGTH),
        expanded_mm: t.number(doubt, DOUBT),
    };
    let relation = Relation {
        nose_depth: length("nose_depth_mm", "nose_depth_expanded_mm"),
        anvil_height: length("anvil_height_mm", "anvil_height_expanded_mm"),
        stretch: length("stretch_mm", "stretch_expanded_mm"),
    };
    t.good(&KEYS).then_some(relation)
}

/// The relation as a table: the stick-outs at both ends of the travel.
pub(super) fn ends(relation: &Relation, travel: &Travel) -> Vec<(f64, f64)> {
    let most = travel.full_mm / travel.stop.pitch_mm;
    let at = |turns| {
        let stroke = stroke_at(travel.stop, travel.full_mm, turns);
        (stick_out_mm(relation, stroke), turns)
    };
    let mut ends = vec![at(0.0), at(most)];
    ends.sort_by(|a, b| a.0.total_cmp(&b.0));
    ends
}

/// Expanded uncertainty of the relation, turns.
pub(super) fn doubt_turns(relation: &Relation, travel: &Travel) -> f64 {
    let Relation {
        nose_depth: n,
        anvil_height: a,
        stretch: e,
    } = relation;
    let mm = n.expanded_mm.hypot(a.expanded_mm).hypot(e.expanded_mm);
    mm / travel.stop.pitch_mm
}

/// The first row that contradicts the relation by more than the table's own doubt and half a step of
/// rounding.
pub(super) fn contradiction(
    relation: &Relation,
    rows: &[Row],
    doubt_turns: f64,
    travel: &Travel,
) -> Option<(Range<usize>, Message)> {
    let allowed = doubt_turns + travel.step_turns / 2.0;
    rows.iter().enumerate().find_map(|(i, row)| {
        let (mm, turns) = row.pair;
        let implied_mm = stick_out_mm(relation, stroke_at(travel.stop, travel.full_mm, turns));
        let by_relation = turns + (mm - implied_mm) * travel.stop.turns_per_mm();
        let problem = Message::new("sheet-relation-contradicts")
            .with("row", i + 1)
            .number("mm", mm, 2)
            .number("table", turns, 3)
            .number("relation", by_relation, 3)
            .number("allowed", allowed, 3);
        let off = (by_relation - turns).abs();
        (off > allowed + 1e-9).then(|| (row.at.clone(), problem))
    })
}
