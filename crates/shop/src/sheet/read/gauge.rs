//! Reads a gauge sheet.

use calc::Message;

use super::shared::{self, READING};
use super::table::Table;
use super::value::{self, Span, Word};
use crate::sheet::{Direction, Gauge, GaugeKind};

impl Word for Direction {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("clockwise", Direction::Clockwise),
        ("counter-clockwise", Direction::CounterClockwise),
    ];
}

pub(super) fn read(t: &Table) -> Option<Gauge> {
    let kind = t.word("kind");
    let unit = shared::unit_of(t);
    if t.good(&["kind", "unit"]) && shared::measures(kind) != unit.dimension() {
        let problem = Message::new("sheet-gauge-unit");
        t.mistake("unit", problem.with("unit", unit.symbol()));
    }
    let gauge = Gauge {
        id: t.id("id"),
        name: t.string("name"),
        kind,
        unit,
        range: t.interval("range", READING),
        resolution: t.number("resolution", Span(1e-6, 1e5)),
        expanded: t.number("expanded", Span(0.0, 1e5)),
        calibrated: t.date("calibrated"),
        due: t.date("due"),
        certificate: t.string("certificate"),
        directions: t.list_given("directions", value::word),
        length_mm: t.given("length_mm", |v| value::number(v, Span(30.0, 3000.0))),
    };
    if t.good(&["calibrated", "due"]) && gauge.due <= gauge.calibrated {
        t.mistake("due", Message::new("sheet-due"));
    }
    if t.good(&["range"]) && gauge.range.0 >= gauge.range.1 {
        t.mistake("range", Message::new("sheet-interval-reversed"));
    }
    if t.good(&["range", "resolution"]) && gauge.resolution > gauge.range.1 - gauge.range.0 {
        t.mistake("resolution", Message::new("sheet-resolution-coarse"));
    }
    if t.good(&["kind"]) {
        directions(t, &gauge);
    }
    Some(gauge)
}

/// A torque wrench is calibrated in one direction or both; other gauges have none.
fn directions(t: &Table, gauge: &Gauge) {
    let empty = gauge.directions.is_empty();
    match gauge.kind {
        GaugeKind::TorqueWrench if !t.has("directions") || (empty && t.good(&["directions"])) => {
            t.mistake("directions", Message::new("sheet-directions-missing"));
        }
        GaugeKind::TorqueWrench => {}
        _ => {
            if t.has("directions") {
                t.mistake("directions", Message::new("sheet-directions-not-wanted"));
            }
            if t.has("length_mm") {
                t.mistake("length_mm", Message::new("sheet-length-not-wanted"));
            }
        }
    }
}
