//! Reads what a sheet says of opening and closing, and refuses an order in which parts wait for one
//! another.

use std::collections::BTreeSet;

use calc::Message;
use toml::de::DeValue;

use super::shared;
use super::table::Table;
use super::value::{Span, Word};
use crate::route::{DeadEnd, dead_ends};
use crate::sheet::{AfterOpening, FitCheck, GaugeKind, Part, Shows, Side};

impl Word for Side {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("nose", Side::Nose),
        ("tail", Side::Tail),
        ("side", Side::Beside),
    ];
}

pub(super) fn fit_check(t: &Table) -> Option<FitCheck> {
    let limits = shared::limits(t);
    let unit = shared::unit_of(t);
    Some(FitCheck {
        id: t.id("id"),
        what: t.string("what"),
        unit,
        gauges: gauges_given(t, unit),
        limits: limits?,
    })
}

pub(super) fn after_opening(
    t: &Table,
    parts: &BTreeSet<String>,
    lubricants: &BTreeSet<String>,
) -> Option<AfterOpening> {
    let shows = shows(t);
    let named = t.references("parts", parts);
    if !t.has("parts") || (t.good(&["parts"]) && named.is_empty()) {
        t.mistake("parts", Message::new("sheet-opening-parts"));
    }
    Some(AfterOpening {
        id: t.id("id"),
        parts: named,
        what: t.string("what"),
        minutes: t.number("minutes", Span(0.0, 600.0)),
        fills: t.table_given("fills", |l| {
            (l.reference("id", lubricants), l.string("amount"))
        }),
        caution: t.table_given("caution", shared::caution),
        shows: shows?,
    })
}

fn shows(t: &Table) -> Option<Shows> {
    const NUMBER: [&str; 4] = ["unit", "lower", "upper", "gauges"];
    if t.has("pass") {
        for key in NUMBER.into_iter().filter(|key| t.has(key)) {
            t.mistake(key, Message::new("sheet-pass-or-limits"));
        }
        return Some(Shows::Look(t.string("pass")));
    }
    // Every key is asked for, so that none of them counts as unknown.
    let is_number = NUMBER.into_iter().filter(|key| t.has(key)).count() > 0;
    if !is_number {
        return Some(Shows::Nothing);
    }
    let limits = shared::limits(t);
    let unit = shared::unit_of(t);
    Some(Shows::Reading {
        unit,
        gauges: gauges_given(t, unit),
        limits: limits?,
    })
}

fn gauges_given(t: &Table, unit: calc::units::Unit) -> Vec<GaugeKind> {
    if t.has("gauges") {
        shared::gauges(t, unit)
    } else {
        Vec::new()
    }
}

/// Refuses parts that wait for one another, and parts that nothing leads to.
pub(super) fn order(t: &Table, parts: &[Part]) {
    let named = |circle: &[usize]| {
        let ids = circle.iter().chain(circle.first());
        let ids: Vec<&str> = ids.map(|i| parts[*i].id.as_str()).collect();
        ids.join(" → ")
    };
    for end in dead_ends(parts) {
        let (part, problem) = match &end {
            DeadEnd::Circle(circle) => {
                let message = Message::new("sheet-circle").with("circle", named(circle));
                (circle[0], message)
            }
            DeadEnd::Behind(part, circle) => {
                let message = Message::new("sheet-unreachable")
                    .with("part", parts[*part].id.as_str())
                    .with("circle", named(circle));
                (*part, message)
            }
        };
        at_part(t, &parts[part].id, problem);
    }
}

/// Reports a mistake at the `after` of a part, or at its head where that is left out.
fn at_part(t: &Table, id: &str, problem: Message) {
    let Some(DeValue::Array(tables)) = t.spanned("part").map(toml::Spanned::get_ref) else {
        return;
    };
    let named = |table: &&toml::Spanned<DeValue>| {
        let entries = table.get_ref().as_table();
        let named = entries.and_then(|e| e.get("id")?.get_ref().as_str());
        named == Some(id)
    };
    if let Some(table) = tables.iter().find(named) {
        let after = table.get_ref().as_table().and_then(|e| e.get("after"));
        let at = after.map_or_else(|| table.span(), toml::Spanned::span);
        t.source.report(at, format!("part[{id}].after"), problem);
    }
}
