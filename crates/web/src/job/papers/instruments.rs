//! The gauges on a paper, each with the calibration that was used.

use std::collections::BTreeMap;

use calc::working::fixed;
use paper::model::Instrument;
use shop::entry::{GaugeCalibrated, PinRecord, PullsRead, Reading};
use shop::job::Stamped;
use shop::sheet::Gauge;

use crate::job::names;
use crate::job::view::View;
use crate::show;

/// How the calibration of a gauge is found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Listing {
    /// The one that was used, whatever took the numbers.
    AsUsed,
    /// As up to `bench-proof 3`: by its sheet where recorded pulls alone were taken with it, or differences of readings.
    OfReadings,
}

/// A calibration on the record that was used.
#[derive(Clone, Copy)]
struct Used {
    number: u32,
    /// Something was taken off what the gauge indicated.
    corrects: bool,
}

/// A gauge that took something.
struct Seen<'a> {
    id: &'a str,
    gauge: &'a Gauge,
    /// The calibration that was used last; `None` where the sheet alone spoke.
    last: Option<Used>,
    was_stale: bool,
}

/// The gauges that took `readings` and `pulls`, by name.
pub fn listed<'a>(
    v: &View<'a>,
    readings: impl Iterator<Item = &'a Reading>,
    pulls: impl Iterator<Item = &'a Stamped<PullsRead>>,
    how: Listing,
) -> Vec<Instrument> {
    let of_readings = readings.map(|reading| {
        let used = reading.calibration.map(|used| Used {
            number: used.number,
            corrects: used.deviation.is_some(),
        });
        (&reading.gauge, used, !reading.in_date)
    });
    let of_pulls = pulls.flat_map(|read| {
        let read = &read.body;
        read.gauges.iter().map(move |pin| {
            let used = read.corrected_by(&pin.id).map(|number| Used {
                number,
                corrects: true,
            });
            let used = used.filter(|_| how == Listing::AsUsed);
            (pin, used, !read.in_date)
        })
    });
    let mut found: BTreeMap<&str, Seen> = BTreeMap::new();
    for (pin, used, was_stale) in of_readings.chain(of_pulls) {
        let Some(gauge) = gauge_of(v, pin) else {
            continue;
        };
        let seen = found.entry(&gauge.name).or_insert(Seen {
            id: &pin.id,
            gauge,
            last: None,
            was_stale: false,
        });
        let number = |used: Option<Used>| used.map(|used| used.number);
        if number(used) > number(seen.last) {
            seen.last = used;
        }
        seen.was_stale |= was_stale;
    }
    found
        .into_values()
        .map(|seen| said(v, &seen, how))
        .collect()
}

fn gauge_of<'a>(v: &View<'a>, pin: &PinRecord) -> Option<&'a Gauge> {
    v.desk.shelf.gauge(&pin.into())
}

fn said(v: &View, seen: &Seen, how: Listing) -> Instrument {
    let gauge = seen.gauge;
    let history = v.desk.shelf.gauge_history(seen.id);
    let calibration = |used: Option<Used>| history?.calibration(used?.number);
    let due = calibration(seen.last).map_or(gauge.due, |c| c.due);
    let of = seen
        .last
        .filter(|used| how == Listing::AsUsed || used.corrects);
    let of = calibration(of);
    let certificate = of.map_or(&gauge.certificate, |c| &c.certificate);
    let expanded = of.map_or(gauge.expanded, GaugeCalibrated::widest);
    Instrument {
        tag: gauge.name.clone(),
        was_stale: seen.was_stale,
        name: format!("{}, {certificate}", v.t(names::gauge_kind(gauge.kind))),
        expanded: format!(
            "{} {}",
            fixed(expanded, gauge.decimals() + 1),
            gauge.unit.symbol()
        ),
        due: show::day(due),
    }
}
