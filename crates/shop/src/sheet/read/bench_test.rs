//! Reads a bench test.

use calc::Message;

use super::shared;
use super::table::Table;
use super::value::{self, Span};
use crate::sheet::{BenchTest, BenchTestKind, Feature};

pub(super) fn read(t: &Table) -> Option<BenchTest> {
    let kind = if t.has("pass") {
        looked(t)
    } else {
        measured(t)
    };
    Some(BenchTest {
        id: t.id("id"),
        name: t.string("name"),
        method: t.string("method"),
        as_found: t.flag("as_found"),
        opens_adjuster: t.flag("opens_adjuster"),
        feature: feature(t),
        caution: t.table_given("caution", shared::caution),
        kind: kind?,
    })
}

/// What a recording answers it with: in the unit that the test asks for.
fn feature(t: &Table) -> Option<Feature> {
    let feature = t.given("feature", value::word::<Feature>)?;
    if t.has("pass") {
        t.mistake("feature", Message::new("sheet-pass-or-limits"));
    } else if t.good(&["unit", "feature"]) && feature.unit() != Some(shared::unit_of(t)) {
        let problem = Message::new("sheet-feature-unit").with("unit", feature.symbol());
        t.mistake("feature", problem);
    }
    Some(feature)
}

fn looked(t: &Table) -> Option<BenchTestKind> {
    for key in [
        "unit",
        "lower",
        "upper",
        "rule",
        "count",
        "spread_percent",
        "gauges",
    ] {
        if t.has(key) {
            t.mistake(key, Message::new("sheet-pass-or-limits"));
        }
    }
    let pass = t.string("pass");
    Some(BenchTestKind::Looked { pass })
}

fn measured(t: &Table) -> Option<BenchTestKind> {
    let limits = shared::limits(t);
    let unit = shared::unit_of(t);
    let count = t.given("count", |v| value::whole(v, 1, 100)).unwrap_or(1) as usize;
    let spread_percent = t.given("spread_percent", |v| value::number(v, Span(0.01, 100.0)));
    if spread_percent.is_some() && count < 2 && t.good(&["count"]) {
        t.mistake("spread_percent", Message::new("sheet-spread-of-one"));
    }
    let kind = BenchTestKind::Measured {
        unit,
        rule: shared::rule(t),
        count,
        spread_percent,
        gauges: shared::gauges(t, unit),
        limits: limits?,
    };
    Some(kind)
}
