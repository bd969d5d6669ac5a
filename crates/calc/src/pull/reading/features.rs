//! Numbers of a pull, each with its standard uncertainty.

use super::peak::largest_mean;
use super::phases::release_window;
use super::pieces::{Bins, Fitted};
use super::prepare::{Ready, mean};
use super::stick_slip::chatter;
use super::{Ending, Found, Phase, Setup, Slip, Value};
use crate::pull::integral::area;

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
}

/// A force held at a stop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hold {
    /// For how long, s.
    pub seconds: f64,
    /// What was lost in that time, kN.
    pub loss_kn: Value,
    /// What was lost in the first 60 s, kN, where it was held as long.
    pub loss_60_s_kn: Option<Value>,
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
    let told = &ready.told;
    let force = |value: f64, other: f64| Value {
        value,
        u: setup.force_u(value, other.hypot(told.zero_u_kn)),
    };
    let of = |phase: Phase| phases.iter().find(|found| found.phase == phase);
    let over = |from_mm: f64, to_mm: f64| {
        let (low, high) = (bins.place(from_mm), bins.place(to_mm));
        let inside = bins
            .x
            .iter()
            .zip(&bins.y)
            .filter(|(x, _)| (low..=high).contains(*x));
        let forces: Vec<f64> = inside.map(|(_, y)| *y).collect();
        let n = forces.len();
        (n > 0).then(|| force(mean(&forces), fitted.spread / (n as f64).sqrt()))
    };
    let middle = |found: &Found| {
        let (a, b) = (found.begin_mm, found.end_mm);
        let way = b.value - a.value;
        let (from, to) = (a.value + way * 0.3, a.value + way * 0.8);
        let mut plateau = over(from, to)?;
        // With the ends of the form its middle moves, along the slope that it has.
        let halves = over(from, a.value + way * 0.55).zip(over(a.value + way * 0.55, to));
        let climb = halves.map_or(0.0, |(x, y)| y.value - x.value);
        // Of a form that is not longer than its ends are known, no more than its own rise.
        let moved = (0.45 * a.u).hypot(0.55 * b.u) / (0.25 * way);
        plateau.u = plateau.u.hypot(climb * moved.min(2.0));
        Some(plateau)
    };
    let at_end = at_end(ready, fitted);
    let broke = ready.ending == Ending::Break;
    let break_kn = at_end
        .filter(|_| broke)
        .map(|load| force(load.value, load.u));
    let peak = at_end
        .filter(|_| ends_at_peak(ready))
        .unwrap_or(ready.peak.kn);
    let energy = energy_to_end(ready, fitted);
    let stroke = phases.iter().rfind(|found| found.phase != Phase::Eject);
    let (stick_slip_per_mm, stick_slip_kn) = chatter(ready, slips, setup);
    let home = home_again(ready);
    let dt = 1.0 / told.rate_hz;
    let seconds = |value: f64| Value { value, u: 2.0 * dt };
    Features {
        peak_raw_kn: ready.peak.raw_kn,
        peak_kn: force(peak.value, peak.u),
        break_kn,
        take_up_kn: of(Phase::TakeUp).and_then(|found| over(0.2, found.end_mm.value - 0.2)),
        plateau_kn: of(Phase::Form).and_then(middle),
        stiffness_kn_mm: fitted.slopes.get(1).map(|(slope, u)| Value {
            value: *slope,
            u: u.hypot(setup.force_u_share * slope)
                .hypot(bends_by(bins, fitted)),
        }),
        stroke_mm: stroke.map_or(Value { value: 0.0, u: 0.0 }, |found| found.end_mm),
        energy_j: Value {
            value: energy,
            u: energy_u(ready, setup, energy, ready.end, stroke.map(|s| s.end_mm.u)),
        },
        release_kn: of(Phase::Eject)
            .and_then(|found| release(ready, found))
            .map(|load| force(load.value, load.u)),
        cycle_s: home.map(|i| seconds(ready.time[i] - ready.time[ready.begin])),
        return_s: home.map(|i| seconds(ready.time[i] - ready.time[ready.gone])),
        hold: hold(ready, setup),
        hysteresis_j: hysteresis(ready, setup, energy),
        stick_slip_per_mm,
        stick_slip_kn,
        slip_kn: slip_size(slips),
    }
}

/// The sample at which the stroke is home again.
fn home_again(ready: &Ready) -> Option<usize> {
    let near = 0.3f64.max(0.03 * ready.stroke[ready.end]);
    let after = ready.stroke.get(ready.gone..)?;
    after.iter().position(|s| *s < near).map(|i| ready.gone + i)
}

/// Uncertainty of the `energy` of the samples from leaving home to `to`, whose stroke is known to `end_u`, mm, or as the sensor
/// knows it. A gauge that is off by a share is off by it everywhere, and so is the zero: out and back again it counts once
/// for what is left of the way. Only noise is new in each sample.
fn energy_u(ready: &Ready, setup: &Setup, energy: f64, to: usize, end_u: Option<f64>) -> f64 {
    let (from, stroke) = (ready.begin, &ready.stroke);
    let gauge = setup.force_u_share * energy;
    let zero = ready.told.zero_u_kn.hypot(setup.force_u_kn) * (stroke[to] - stroke[from]);
    // At a break the filter has let the force fall already.
    let end_kn = if ready.parted().is_some() {
        ready.peak.kn.value
    } else {
        ready.filtered[to]
    };
    let end = end_kn * end_u.unwrap_or(setup.stroke_u_mm);
    let begin = ready.filtered[from] * setup.stroke_u_mm;
    let steps = stroke[from..=to].windows(2).map(|s| (s[1] - s[0]).powi(2));
    let noise = ready.told.noise_kn * steps.sum::<f64>().sqrt();
    [zero, end, begin, noise]
        .into_iter()
        .fold(gauge, f64::hypot)
}

/// What the gauges bring to the `area` within the way out and back, J: a deviation that runs straight from rest to the peak, or from home
/// to the end, stretches it by its share.
fn around_u(ready: &Ready, setup: &Setup, area: f64) -> f64 {
    let force = setup.force_u_kn / ready.peak.kn.value;
    let stroke = setup.stroke_u_mm / ready.stroke[ready.end].max(1e-6);
    area.abs() * force.hypot(stroke)
}

/// The force at a sudden end, from the mean shortly before and what it climbs from there on.
fn at_end(ready: &Ready, fitted: &Fitted) -> Option<Value> {
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
    let each = [
        told.noise_kn / (w as f64).sqrt(),
        bent,
        rise_u * way,
        rise * sudden.u_mm(),
    ];
    Some(Value {
        value: mean(forces) + climbed,
        u: each.into_iter().fold(0.0, f64::hypot),
    })
}

/// Whether the force is largest where it ends.
fn ends_at_peak(ready: &Ready) -> bool {
    let near = ready.told.width().max(3);
    ready.peak.at + near >= ready.end
}

/// Energy from leaving home to the end of the stroke, J: at a break the way from the last sample to it, too.
fn energy_to_end(ready: &Ready, fitted: &Fitted) -> f64 {
    let inside = ready.begin..=ready.end;
    area(&ready.stroke[inside.clone()], &ready.raw[inside]) + beyond_j(ready, fitted)
}

/// Energy from the last sample under load to the break, J.
pub(super) fn beyond_j(ready: &Ready, fitted: &Fitted) -> f64 {
    let load = at_end(ready, fitted).zip(ready.parted());
    load.map_or(0.0, |(load, parted)| load.value * parted.beyond_mm)
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
fn release(ready: &Ready, found: &Found) -> Option<Value> {
    let (high, low) = (found.begin_mm.value, found.end_mm.value);
    let from = ready.gone.min(ready.raw.len());
    let inside = |s: &f64| (low..=high).contains(s);
    let first = from + ready.stroke[from..].iter().position(inside)?;
    let last = from + ready.stroke[from..].iter().rposition(inside)?;
    let forces: Vec<f64> = ready.raw[first..=last].iter().map(|f| -f).collect();
    let w = release_window(ready).min(forces.len());
    largest_mean(&forces, w, ready.told.noise_kn)
}

/// What was held while the stroke stood at its end.
fn hold(ready: &Ready, setup: &Setup) -> Option<Hold> {
    if ready.ending == Ending::Break {
        return None;
    }
    let standing = ready.stroke[ready.end] - 0.1;
    let part = &ready.stroke[ready.end..ready.gone.max(ready.end)];
    let stands = part.iter().take_while(|s| **s > standing).count();
    // The tool lets go some samples before that shows: about as many as it takes for as much again.
    let again = part[stands..].iter().take_while(|s| **s > standing - 0.1);
    let count = stands.saturating_sub(2 * again.count() + 2);
    let last = ready.end + count.saturating_sub(1);
    let seconds = ready.time[last] - ready.time[ready.end];
    let w = (count / 20).clamp(1, 2000);
    if count < 20 {
        return None;
    }
    let noise = ready.told.noise_kn * (2.0 / w as f64).sqrt();
    // Both ends of the line through the means: half a window in from each.
    let begin = mean(&ready.raw[ready.end..ready.end + w]);
    let lost = |to: usize| {
        let loss = begin - mean(&ready.raw[to + 1 - w..=to]);
        let rows = (to + 1 - ready.end) as f64;
        let beyond = rows / (rows - w as f64).max(1.0);
        let whole = loss * beyond;
        // What the drift is not known by counts for the time that it is held.
        let drift = ready.told.drift_u_kn * rows / ready.raw.len() as f64;
        // It is lost faster at first: the line through the means leaves a part of what they are lengthened by.
        let line = (whole - loss) / 3f64.sqrt();
        Value {
            value: whole,
            u: [
                drift,
                line,
                setup.force_difference_u(whole, ready.peak.kn.value),
            ]
            .into_iter()
            .fold(noise * beyond, f64::hypot),
        }
    };
    let minute = (ready.end..=last).find(|i| ready.time[*i] - ready.time[ready.end] >= 60.0);
    Some(Hold {
        seconds,
        loss_kn: lost(last),
        loss_60_s_kn: minute.map(lost),
    })
}

/// Energy that did not come back.
fn hysteresis(ready: &Ready, setup: &Setup, energy: f64) -> Option<Value> {
    if ready.ending != Ending::Stop {
        return None;
    }
    let back = area(
        &ready.stroke[ready.end..=ready.gone],
        &ready.raw[ready.end..=ready.gone],
    );
    let below = below_j(ready);
    // The stroke goes back, so what is given back counts negative.
    let value = energy + back - below;
    // A zero drops out but for the way that is left; so does a gauge that is wrong by the same everywhere.
    let zeroed = Setup {
        force_u_kn: 0.0,
        ..setup.clone()
    };
    let each = [
        energy_u(ready, &zeroed, value, ready.gone, None),
        around_u(ready, setup, value),
        below / 3f64.sqrt(),
    ];
    Some(Value {
        value,
        u: each.into_iter().fold(0.0, f64::hypot),
    })
}

/// What is given back below the force at which it counts as gone, J: as the force fell from half of the peak to there, so it goes on to
/// nothing; between none of it and twice as much.
fn below_j(ready: &Ready) -> f64 {
    let half = 0.5 * ready.peak.kn.value;
    let from = ready.filtered[..ready.gone]
        .iter()
        .rposition(|f| *f >= half);
    let from = from.unwrap_or(ready.gone);
    let (high, low) = (ready.filtered[from], ready.filtered[ready.gone].max(0.0));
    let way = (ready.stroke[from] - ready.stroke[ready.gone]).max(0.0);
    match high > low {
        true => low * low * way / (high - low) / 2.0,
        false => 0.0,
    }
}

/// Mean size of the slips. What one is not known by is taken to be common to all (JCGM 100:2008, 5.2.2, note 1): most of it is the
/// way in which they are read, and noise helps those to be told that it makes larger.
fn slip_size(slips: &[Slip]) -> Option<Value> {
    let of = |each: fn(&Slip) -> f64| mean(&slips.iter().map(each).collect::<Vec<_>>());
    (!slips.is_empty()).then(|| Value {
        value: of(|slip| slip.drop_kn.value),
        u: of(|slip| slip.drop_kn.u),
    })
}
