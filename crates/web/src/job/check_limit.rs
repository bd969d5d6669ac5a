//! The limit that a check's answer is held against, where a sheet states it.

use calc::Message;
use calc::decision::Limits;
use calc::units::Unit;
use maud::{Markup, html};
use shop::sheet::{Asked, BenchTestKind, Check};

use super::view::View;
use crate::show;

/// Each limit with what it belongs to: a bench test of the tool's model, or a criterion of what it sets.
pub fn shown(v: &View, check: &Check) -> Markup {
    let limits = of(v, check);
    html! {
        @for (name, limits, unit) in limits {
            p.hint {
                (v.say(&Message::new("check-limit")
                    .with("name", name)
                    .with("limits", show::limits(v.p, &limits, unit.symbol()))))
            }
        }
        @for (needed, unit) in under_the_pull(v, check) {
            p.warn { (v.say(&Message::new("check-under-pull").number("needed", needed, 2).with("unit", unit.symbol()))) }
        }
    }
}

/// What the gauge of a test that the check stands for must reach, where that is more than what it reads.
fn under_the_pull(v: &View, check: &Check) -> Vec<(f64, Unit)> {
    let Some(Asked::Test(id)) = check.asked_by.as_ref().map(|by| &by.what) else {
        return Vec::new();
    };
    let tests = v.model.bench_tests.iter().filter(|test| test.id == *id);
    let needed = tests.filter_map(|test| match &test.kind {
        BenchTestKind::Measured { unit, .. } => Some((v.model.force_behind(test)?, *unit)),
        BenchTestKind::Looked { .. } => None,
    });
    needed.collect()
}

fn of<'a>(v: &View<'a>, check: &Check) -> Vec<(&'a str, Limits, Unit)> {
    match check.asked_by.as_ref().map(|by| &by.what) {
        Some(Asked::Test(id)) => {
            let tests = v.model.bench_tests.iter().filter(|test| test.id == *id);
            tests
                .filter_map(|test| match &test.kind {
                    BenchTestKind::Measured { unit, limits, .. } => {
                        Some((test.name.as_str(), *limits, *unit))
                    }
                    BenchTestKind::Looked { .. } => None,
                })
                .collect()
        }
        Some(Asked::Criterion(id)) => {
            let set = v.desk.shelf.settable(v.model);
            set.filter_map(|(_, family)| {
                let criterion = family.criterion(id)?;
                Some((family.name.as_str(), criterion.limits, criterion.unit))
            })
            .collect()
        }
        Some(Asked::Feature(_)) | None => Vec::new(),
    }
}
