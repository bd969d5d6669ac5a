//! What the cause, the model sheet and the shop card propose to quote.

use rust_decimal::Decimal;

use crate::entry::{OptionKind, PriceLine};
use crate::estimate::{BENCH_MINUTES, hours, parts_for};
use crate::job::Job;
use crate::labour::Times;
use crate::route;
use crate::sheet::{FaultModel, Part, ToolModel};

/// A line that the sheets propose. Without a price it must be typed before it can be stored.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposed {
    /// The part; `None` for labour and for a new tool.
    pub part: Option<String>,
    /// The line. Words are left empty where there is no part: a page names labour and new tool.
    pub line: PriceLine,
    /// Whether the sheets know its price.
    pub priced: bool,
}

/// Hands-on minutes by the sheet of the route to all of `parts` and back; 0 where there is none.
pub fn route_minutes(model: &ToolModel, parts: &[&Part]) -> f64 {
    let ids: Vec<&str> = parts.iter().map(|part| part.id.as_str()).collect();
    route::to(model, &ids).map_or(0.0, |route| route.minutes())
}

/// The parts whose life in pulls the sheet knows and that are not among `repair`.
pub fn wear_parts<'a>(model: &'a ToolModel, repair: &[&Part]) -> Vec<&'a Part> {
    let wears = |p: &&Part| p.wear.iter().any(|w| w.life_pulls.is_some());
    let parts = model.parts.iter().filter(wears);
    parts
        .filter(|p| !repair.iter().any(|r| r.id == p.id))
        .collect()
}

/// The lines proposed for an option of `kind`, with labour last, by the shop's own `times`. `due` are the ids of the wear parts
/// whose life ends within the year; `None` where nobody can tell: then all that wear are proposed.
pub fn proposed(
    job: &Job,
    model: &ToolModel,
    faults: &FaultModel,
    per_hour: Decimal,
    kind: OptionKind,
    due: Option<&[String]>,
    times: &Times,
) -> Vec<Proposed> {
    let repair = parts_for(job, model, faults);
    let way = times.minutes(model, &repair);
    let (parts, minutes) = match kind {
        OptionKind::Work => (repair, way + f64::from(BENCH_MINUTES)),
        OptionKind::AddOn => {
            let mut wear = wear_parts(model, &repair);
            wear.retain(|part| due.is_none_or(|due| due.contains(&part.id)));
            let both: Vec<&Part> = repair.iter().chain(&wear).copied().collect();
            let more = times.minutes(model, &both) - way;
            (wear, more)
        }
        OptionKind::Instead => return vec![new_tool(model)],
    };
    let mut lines: Vec<Proposed> = parts.into_iter().map(renewed).collect();
    // Parts that lie on the way cost no time of their own.
    if minutes > 0.0 {
        lines.push(Proposed {
            part: None,
            line: PriceLine {
                count: hours(minutes),
                each: per_hour,
                ..PriceLine::default()
            },
            priced: true,
        });
    }
    lines
}

fn renewed(part: &Part) -> Proposed {
    Proposed {
        part: Some(part.id.clone()),
        line: PriceLine {
            what: part.name.clone(),
            number: part.number.clone(),
            count: Decimal::ONE,
            each: part.price,
            ..PriceLine::default()
        },
        // A part that costs nothing is one whose price nobody has written into the sheet.
        priced: !part.price.is_zero(),
    }
}

fn new_tool(model: &ToolModel) -> Proposed {
    Proposed {
        part: None,
        line: PriceLine {
            count: Decimal::ONE,
            each: model.price_new.unwrap_or_default(),
            ..PriceLine::default()
        },
        priced: model.price_new.is_some(),
    }
}

/// The model's part with this part number, however its letters are written.
pub fn part_numbered<'a>(model: &'a ToolModel, number: &str) -> Option<&'a Part> {
    let number = number.trim();
    let mut parts = model.parts.iter();
    parts.find(|part| part.number.eq_ignore_ascii_case(number))
}
