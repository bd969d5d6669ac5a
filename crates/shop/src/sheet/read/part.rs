//! Reads a part on the axis of a tool.

use std::collections::BTreeSet;

use calc::Message;
use calc::decision::{Rule, Verdict, judge};

use super::opening;
use super::shared::{self, READING};
use super::table::Table;
use super::value::{self, Span, Word};
use crate::sheet::{Part, Shape, Side, Wear};

impl Word for Shape {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("sleeve", Shape::Sleeve),
        ("rod", Shape::Rod),
        ("collet", Shape::Collet),
        ("spring", Shape::Spring),
        ("ring", Shape::Ring),
        ("nut", Shape::Nut),
        ("block", Shape::Block),
        ("key", Shape::Key),
    ];
}

pub(super) fn read(t: &Table, parts: &BTreeSet<String>, lubricants: &BTreeSet<String>) -> Part {
    let outside_mm = t.number("outside_mm", Span::LENGTH);
    let bore_mm = t.given("bore_mm", |v| value::number(v, Span::LENGTH));
    if t.good(&["outside_mm", "bore_mm"]) && bore_mm.is_some_and(|bore| bore >= outside_mm) {
        t.mistake("bore_mm", Message::new("sheet-bore-wider"));
    }
    let off_axis = t.flag("off_axis");
    Part {
        id: t.id("id"),
        name: t.string("name"),
        number: t.string("number"),
        price: t.money("price"),
        shape: t.word("shape"),
        length_mm: t.number("length_mm", Span::LENGTH),
        outside_mm,
        bore_mm,
        off_axis,
        after: t.has("after").then(|| t.references("after", parts)),
        from: t.given("from", value::word).unwrap_or(if off_axis {
            Side::Beside
        } else {
            Side::Nose
        }),
        lubricant: t.table_given("lubricant", |l| {
            (l.reference("id", lubricants), l.string("amount"))
        }),
        renew: t.flag("renew"),
        moves_setting: t.flag("moves_setting"),
        orientation: t.given("orientation", value::string),
        wear: t.tables("wear", "id", 0, wear),
        fitted: t.tables("fitted", "id", 0, opening::fit_check),
        caution: t.table_given("caution", shared::caution),
        minutes: t.number("minutes", Span(0.0, 600.0)),
        also_called: t.list_given("also_called", value::id),
    }
}

fn wear(t: &Table) -> Option<Wear> {
    let limits = shared::limits(t);
    let new = t.number("new", READING);
    if let Some(limits) = limits.filter(|_| t.good(&["new"]))
        && judge(new, 0.0, limits, Rule::Simple) != Ok(Verdict::Accept)
    {
        t.mistake("new", Message::new("sheet-new-outside-limits"));
    }
    Some(Wear {
        id: t.id("id"),
        what: t.string("what"),
        unit: shared::unit_of(t),
        new,
        life_pulls: t
            .given("life_pulls", |v| value::whole(v, 1, 100_000_000))
            .map(u64::from),
        limits: limits?,
    })
}
