//! From pieces to phases.

use super::energies::beyond_j;
use super::pieces::{Bins, Fitted};
use super::prepare::{Ready, mean};
use super::{Ending, Found, Phase, Setup, Slip, Value};
use crate::pull::integral::area;

/// Reverse load from which on there is an eject, share of the peak.
const REVERSE: f64 = 0.02;

/// The phases in order.
pub(super) fn phases(
    ready: &Ready,
    bins: &Bins,
    fitted: &Fitted,
    slips: &[Slip],
    setup: &Setup,
) -> Vec<Found> {
    let bend = |i: usize| fitted.bends.get(i).copied();
    let stroke_u = setup.stroke_u_mm;
    let value = |value: f64, u: f64| Value {
        value,
        u: u.hypot(stroke_u),
    };
    // The end itself is as sure as one sample's step, and the noise of the stroke about it.
    let step = ready.stroke[ready.end] / (ready.end - ready.begin) as f64;
    let around =
        ready.stroke[ready.end.saturating_sub(4)..(ready.end + 1).min(ready.stroke.len())].to_vec();
    let middle = mean(&around);
    let noise = mean(
        &around
            .iter()
            .map(|s| (s - middle).abs())
            .collect::<Vec<_>>(),
    );
    let end = match ready.parted() {
        Some(parted) => value(ready.stroke[ready.end] + parted.beyond_mm, parted.u_mm()),
        None => value(end_stroke(ready), step.hypot(noise)),
    };
    let whole = [(Phase::TakeUp, 0), (Phase::PullUp, 1), (Phase::Form, 3)];
    let mut found = Vec::new();
    let mut begin = Value {
        value: 0.0,
        u: stroke_u,
    };
    let mut from = ready.begin;
    for (phase, last) in whole {
        let bend = bend(last).map(|(x, u)| value(bins.stroke(x), u));
        let to = bend.map_or(ready.end, |b| reached(ready, from, b.value));
        found.push(one(
            ready,
            phase,
            (begin, bend.unwrap_or(end)),
            (from, to),
            slips,
            setup,
        ));
        let Some(bend) = bend else {
            break;
        };
        (begin, from) = (bend, to);
        let pieces_left = fitted.slopes.len() > last + 1;
        if phase == Phase::Form && pieces_left {
            found.push(one(
                ready,
                Phase::Clamp,
                (begin, end),
                (from, ready.end),
                slips,
                setup,
            ));
        }
    }
    // What lies between the last sample and the break.
    if let Some(last) = found.last_mut() {
        last.energy_j.value += beyond_j(ready, fitted);
    }
    found.extend(eject(ready, setup));
    found
}

/// Stroke at the end of the pull: at a stop the mean of where it stands.
fn end_stroke(ready: &Ready) -> f64 {
    match ready.ending {
        Ending::Break => ready.stroke[ready.end],
        Ending::Stop | Ending::Unknown => {
            let most = ready.stroke[ready.end] - 0.05;
            let standing: Vec<f64> = ready.stroke[ready.end..ready.gone]
                .iter()
                .copied()
                .filter(|s| *s > most)
                .collect();
            if standing.is_empty() {
                ready.stroke[ready.end]
            } else {
                mean(&standing)
            }
        }
    }
}

/// The first sample from `from` on with this stroke.
fn reached(ready: &Ready, from: usize, stroke: f64) -> usize {
    let part = &ready.stroke[from..ready.end];
    part.iter()
        .position(|s| *s >= stroke)
        .map_or(ready.end, |i| from + i)
}

fn one(
    ready: &Ready,
    phase: Phase,
    (begin, end): (Value, Value),
    (from, to): (usize, usize),
    slips: &[Slip],
    setup: &Setup,
) -> Found {
    let energy = area(&ready.stroke[from..=to], &ready.raw[from..=to]);
    let inside = slips
        .iter()
        .filter(|s| s.samples.0 >= from && s.samples.0 < to);
    let lost: f64 = inside.map(|s| s.lost_mm).sum();
    let travel = end.value - begin.value;
    // At a break the filter has let the force fall already.
    let at_end = ready.parted().is_some() && to == ready.end;
    let end_kn = if at_end {
        ready.peak.kn.value
    } else {
        ready.filtered[to]
    };
    let edge = end_kn * end.u;
    let start = ready.filtered[from] * begin.u;
    let gauge = setup.force_u_share * energy;
    let zero = (ready.told.zero_u_kn.hypot(setup.force_u_kn)) * travel;
    Found {
        phase,
        begin_mm: begin,
        end_mm: end,
        travel_mm: Value {
            value: travel - lost,
            u: begin.u.hypot(end.u),
        },
        energy_j: Value {
            value: energy,
            u: edge.hypot(start).hypot(gauge).hypot(zero),
        },
    }
}

/// Samples over which a reverse load is averaged: 4 ms.
pub(super) fn release_window(ready: &Ready) -> usize {
    ((0.004 * ready.told.rate_hz) as usize).max(1)
}

/// The reverse load on the way back, if there is one.
fn eject(ready: &Ready, setup: &Setup) -> Option<Found> {
    let after = ready.gone.min(ready.raw.len() - 1);
    // The tool rings after a break: only where the stroke is on its way back.
    let away = ready.stroke[ready.end] - 0.3;
    let back = ready.stroke[after..].iter().position(|s| *s < away)? + after;
    let part = &ready.filtered[back..];
    let w = release_window(ready);
    let least = part
        .windows(w)
        .step_by(w.div_ceil(2))
        .map(mean)
        .fold(0.0, f64::min);
    let noise = ready.told.noise_kn / (w as f64).sqrt();
    if -least < (REVERSE * ready.peak.kn.value).max(6.0 * noise) {
        return None;
    }
    let half = |f: &f64| *f < 0.5 * least;
    let from = back + part.iter().position(half)?;
    let to = back + part.iter().rposition(half)?;
    let near = |i: usize| {
        let around = &ready.stroke[i.saturating_sub(2)..(i + 3).min(ready.stroke.len())];
        Value {
            value: mean(around),
            u: setup.stroke_u_mm.hypot(0.05),
        }
    };
    let (begin, end) = (near(from), near(to));
    let energy = area(&ready.stroke[from..=to], &ready.raw[from..=to]);
    Some(Found {
        phase: Phase::Eject,
        begin_mm: begin,
        end_mm: end,
        travel_mm: Value {
            value: begin.value - end.value,
            u: begin.u.hypot(end.u),
        },
        energy_j: Value {
            value: energy,
            u: setup.force_u(energy.abs(), 0.0).max(0.05 * energy.abs()),
        },
    })
}
