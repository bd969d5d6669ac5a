//! Numbers of a pull, each with its standard uncertainty.

use std::collections::BTreeMap;

use super::energies::{energy, hysteresis};
use super::hold::{Hold, hold};
use super::known::{Known, Number};
use super::peak::largest_mean;
use super::phases::release_window;
use super::pieces::{Bins, Fitted};
use super::prepare::{Ready, mean};
use super::stick_slip::chatter;
use super::{Ending, Found, Phase, Setup, Slip, Value};
use crate::uncertainty_budget::{Budget, Part};

/// What a pull measures.
#[derive(Clone, Debug, PartialEq)]
pub struct Features {
    /// Largest force as recorded, zero and drift off, kN.
    pub peak_raw_kn: f64,
    /// Largest force behind the filter, kN.
    pub peak_kn: Value,
    /// Force at which pin or mandrel parted, kN.
    pub break_kn: Option<Value>,
    /// Force of the take-up, kN: what friction takes.
    pub take_up_kn: Option<Value>,
    /// Force in the middle half of the form, kN.
    pub plateau_kn: Option<Value>,
    /// Slope of the pull-up, kN/mm; soft with air in the oil.
    pub stiffness_kn_mm: Option<Value>,
    /// Stroke from home, mm.
    pub stroke_mm: Value,
    /// Energy up to the end of the stroke, J.
    pub energy_j: Value,
    /// Largest reverse load on the way back, kN, as a mean over 4 ms: a galled anvil holds the collar at one place.
    pub release_kn: Option<Value>,
    /// Leaving home to being home again, s.
    pub cycle_s: Option<Value>,
    /// The force gone to being home again, s.
    pub return_s: Option<Value>,
    /// What was held at a stop.
    pub hold: Option<Hold>,
    /// Energy that did not come back when the tool let go, J; after a stop only.
    pub hysteresis_j: Option<Value>,
    /// Rises and falls that are no slips, for each mm of stroke under load.
    pub stick_slip_per_mm: f64,
    /// Their mean size, kN; none of fewer than three, or where noise covers it.
    pub stick_slip_kn: Option<Value>,
    /// Mean size of the slips, kN; none where there are none.
    pub slip_kn: Option<Value>,
    /// What each of them is unsure by.
    parts: BTreeMap<Number, Vec<Part>>,
}

impl Features {
    /// The uncertainty budget of a number; `None` where there is no such number, or nothing makes it unsure.
    pub fn budget(&self, number: Number) -> Option<Budget> {
        number.budget(self.parts.get(&number)?)
    }
}

/// The numbers.
pub(super) fn features(
    ready: &Ready,
    bins: &Bins,
    fitted: &Fitted,
    phases: &[Found],
    slips: &[Slip],
    setup: &Setup,
) -> Features {
    let mut parts = BTreeMap::new();
    let mut keep = |number: Number, known: Known| {
        let plain = known.plain();
        parts.insert(number, known.parts);
        plain
    };
    let of = |phase: Phase| phases.iter().find(|found| found.phase == phase);
    let force = |known: Known| by_gauge(ready, setup, known);
    let at_end = at_end(ready, fitted);
    let peak = match &at_end {
        Some(load) if ends_at_peak(ready) => load.clone(),
        _ => Known::new(ready.peak.kn.value).and(&ready.peak.parts),
    };
    let break_kn = at_end.filter(|_| ready.ending == Ending::Break).map(force);
    let take_up = of(Phase::TakeUp).and_then(|found| {
        let inside = (0.2, found.end_mm.value - 0.2);
        over(bins, fitted, inside).map(force)
    });
    let plateau = of(Phase::Form).and_then(|found| middle(bins, fitted, found).map(force));
    let stroke = phases.iter().rfind(|found| found.phase != Phase::Eject);
    let end = stroke.map_or(Value { value: 0.0, u: 0.0 }, |found| found.end_mm);
    let own = (end.u.powi(2) - setup.stroke_u_mm.powi(2)).max(0.0).sqrt();
    let of_stroke = Known::new(end.value)
        .by("part-pull-gauge-stroke", (setup.stroke_u_mm, "mm"), 1.0)
        .by("part-pull-end", (own, "mm"), 1.0);
    let energy = energy(ready, fitted, setup, end.u);
    let hysteresis = hysteresis(ready, setup, energy.value);
    let release = of(Phase::Eject).and_then(|found| release(ready, found).map(force));
    let (stick_slip_per_mm, stick_slip) = chatter(ready, slips, setup);
    let slip = slip_size(ready, slips, setup);
    let home = home_again(ready);
    let dt = 1.0 / ready.told.rate_hz;
    let since = |from: usize| {
        let seconds = ready.time[home?] - ready.time[from];
        Some(Known::new(seconds).by("part-pull-clock", (dt, "s"), 2.0))
    };
    let (hold, loss) = hold(ready, setup).unzip();
    if let Some(loss) = loss.flatten() {
        keep(Number::HoldLoss, loss);
    }
    Features {
        peak_raw_kn: ready.peak.raw_kn,
        peak_kn: keep(Number::Peak, force(peak)),
        break_kn: break_kn.map(|known| keep(Number::Break, known)),
        take_up_kn: take_up.map(|known| keep(Number::TakeUp, known)),
        plateau_kn: plateau.map(|known| keep(Number::Plateau, known)),
        stiffness_kn_mm: stiffness(bins, fitted, setup).map(|known| keep(Number::Stiffness, known)),
        stroke_mm: keep(Number::Stroke, of_stroke),
        energy_j: keep(Number::Energy, energy),
        release_kn: release.map(|known| keep(Number::Release, known)),
        cycle_s: since(ready.begin).map(|known| keep(Number::Cycle, known)),
        return_s: since(ready.gone).map(|known| keep(Number::Return, known)),
        hold,
        hysteresis_j: hysteresis.map(|known| keep(Number::Hysteresis, known)),
        stick_slip_per_mm,
        stick_slip_kn: stick_slip.map(|known| keep(Number::StickSlip, known)),
        slip_kn: slip.map(|known| keep(Number::Slip, known)),
        parts,
    }
}

/// A force with what gauge and zero bring to it.
fn by_gauge(ready: &Ready, setup: &Setup, known: Known) -> Known {
    let value = known.value;
    known
        .by("part-pull-gauge-share", (setup.force_u_share, ""), value)
        .by("part-pull-gauge-force", (setup.force_u_kn, "kN"), 1.0)
        .by("part-pull-zero", (ready.told.zero_u_kn, "kN"), 1.0)
}

/// The mean force between two strokes.
fn over(bins: &Bins, fitted: &Fitted, (from_mm, to_mm): (f64, f64)) -> Option<Known> {
    let (low, high) = (bins.place(from_mm), bins.place(to_mm));
    let inside = bins
        .x
        .iter()
        .zip(&bins.y)
        .filter(|(x, _)| (low..=high).contains(*x));
    let forces: Vec<f64> = inside.map(|(_, y)| *y).collect();
    let one = 1.0 / (forces.len() as f64).sqrt();
    let spread = (fitted.spread, "kN");
    let known = Known::new(mean(&forces));
    (!forces.is_empty()).then(|| known.estimated("part-pull-spread", spread, one, fitted.dof(bins)))
}

/// The force in the middle half of the form. With the ends of the form its middle moves, along the slope that it has.
fn middle(bins: &Bins, fitted: &Fitted, found: &Found) -> Option<Known> {
    let (a, b) = (found.begin_mm, found.end_mm);
    let way = b.value - a.value;
    let (from, half, to) = (
        a.value + way * 0.3,
        a.value + way * 0.55,
        a.value + way * 0.8,
    );
    let plateau = over(bins, fitted, (from, to))?;
    let halves = over(bins, fitted, (from, half)).zip(over(bins, fitted, (half, to)));
    let climb = halves.map_or(0.0, |(x, y)| y.value - x.value);
    // Of a form that is not longer than its ends are known, no more than its own rise.
    let moved = (0.45 * a.u).hypot(0.55 * b.u) / (0.25 * way);
    let moved = climb * moved.min(2.0);
    Some(plateau.by("part-pull-ends-of-form", (moved, "kN"), 1.0))
}

/// The slope of the pull-up.
fn stiffness(bins: &Bins, fitted: &Fitted, setup: &Setup) -> Option<Known> {
    let (slope, u) = *fitted.slopes.get(1)?;
    let (fit, bend) = ((u, "kN/mm"), (bends_by(bins, fitted), "kN/mm"));
    Some(
        Known::new(slope)
            .estimated("part-pull-fit", fit, 1.0, fitted.dof(bins))
            .by("part-pull-gauge-share", (setup.force_u_share, ""), slope)
            .by("part-pull-bend", bend, 1.0),
    )
}

/// The sample at which the stroke is home again.
fn home_again(ready: &Ready) -> Option<usize> {
    let near = 0.3f64.max(0.03 * ready.stroke[ready.end]);
    let after = ready.stroke.get(ready.gone..)?;
    after.iter().position(|s| *s < near).map(|i| ready.gone + i)
}

/// The force at a sudden end, from the mean shortly before and what it climbs from there on.
pub(super) fn at_end(ready: &Ready, fitted: &Fitted) -> Option<Known> {
    let sudden = ready.sudden?;
    let told = &ready.told;
    let within = ready.end - ready.begin;
    let w = ((0.003 * told.rate_hz) as usize).clamp(4, 200).min(within);
    // The fall itself takes a part of a millisecond.
    let last = ready.end - ((0.0005 * told.rate_hz) as usize).min(within - w);
    let (stroke, forces) = (
        &ready.stroke[last + 1 - w..=last],
        &ready.raw[last + 1 - w..=last],
    );
    let (rise, rise_u) = fitted.slopes.last().copied().unwrap_or((0.0, 0.0));
    let rise = rise.max(0.0);
    let way = ready.stroke[ready.end] + sudden.beyond_mm - mean(stroke);
    let climbed = rise * way.max(0.0);
    // The curve bends: it climbs by half as much or as much again, as a limit.
    let bent = climbed / 2.0 / 3f64.sqrt();
    let (noise, one) = ((told.noise_kn, "kN"), 1.0 / (w as f64).sqrt());
    Some(
        Known::new(mean(forces) + climbed)
            .estimated("part-pull-noise", noise, one, ready.noise_dof())
            .by("part-pull-climb", (bent, "kN"), 1.0)
            .by("part-pull-fit", (rise_u, "kN/mm"), way)
            .by("part-pull-end", (sudden.u_mm(), "mm"), rise),
    )
}

/// Whether the force is largest where it ends.
fn ends_at_peak(ready: &Ready) -> bool {
    let near = ready.told.width().max(3);
    ready.peak.at + near >= ready.end
}

/// What the pull-up bends by, kN/mm: its slope over the whole less that of its middle, two readings of the same.
fn bends_by(bins: &Bins, fitted: &Fitted) -> f64 {
    let ends = fitted.bends.first().zip(fitted.bends.get(1));
    let Some(((from, _), (to, _))) = ends else {
        return 0.0;
    };
    let slope_within = |share: f64| {
        let (low, high) = (from + share * (to - from), to - share * (to - from));
        let inside = || {
            bins.x
                .iter()
                .zip(&bins.y)
                .filter(move |(x, _)| (low..=high).contains(*x))
        };
        let n = inside().count() as f64;
        let x0 = inside().map(|(x, _)| x).sum::<f64>() / n;
        let y0 = inside().map(|(_, y)| y).sum::<f64>() / n;
        let sums = inside().fold((0.0, 0.0), |(xx, xy), (x, y)| {
            (xx + (x - x0).powi(2), xy + (x - x0) * (y - y0))
        });
        (n >= 6.0).then(|| sums.1 / sums.0)
    };
    match (fitted.slopes.get(1), slope_within(0.2)) {
        (Some((slope, _)), Some(middle)) => (slope - middle).abs(),
        _ => 0.0,
    }
}

/// The largest reverse load of the eject.
fn release(ready: &Ready, found: &Found) -> Option<Known> {
    let (high, low) = (found.begin_mm.value, found.end_mm.value);
    let from = ready.gone.min(ready.raw.len());
    let inside = |s: &f64| (low..=high).contains(s);
    let first = from + ready.stroke[from..].iter().position(inside)?;
    let last = from + ready.stroke[from..].iter().rposition(inside)?;
    let forces: Vec<f64> = ready.raw[first..=last].iter().map(|f| -f).collect();
    let w = release_window(ready).min(forces.len());
    largest_mean(&forces, w, ready.told.noise_kn, ready.noise_dof())
}

/// Mean size of the slips. What one is not known by is taken to be common to all (JCGM 100:2008, 5.2.2, note 1): most of it is the
/// way in which they are read, and noise helps those to be told that it makes larger.
fn slip_size(ready: &Ready, slips: &[Slip], setup: &Setup) -> Option<Known> {
    let of = |each: fn(&Slip) -> f64| mean(&slips.iter().map(each).collect::<Vec<_>>());
    let known = Known::new(of(|slip| slip.drop_kn.value));
    let read = (of(|slip| slip.drop_kn.u), "kN");
    let known = known.by("part-pull-read-off", read, 1.0);
    (!slips.is_empty()).then(|| setup.of_difference(known, ready.peak.kn.value))
}
