//! Energy of a pull, and what of it did not come back.
//!
//! A gauge that is off by a share is off by it everywhere, and so is the zero: out and back again it counts once for what is left of
//! the way. Only noise is new in each sample.

use super::features::at_end;
use super::known::Known;
use super::pieces::Fitted;
use super::prepare::Ready;
use super::{Ending, Setup};
use crate::pull::integral::area;

/// Energy up to the end of the stroke, J, which is known to `end_u`, mm.
pub(super) fn energy(ready: &Ready, fitted: &Fitted, setup: &Setup, end_u: f64) -> Known {
    let known = Known::new(energy_to_end(ready, fitted));
    let way = ready.stroke[ready.end] - ready.stroke[ready.begin];
    let known = known.by("part-pull-gauge-force", (setup.force_u_kn, "kN"), way);
    of_samples(known, ready, setup, (ready.end, end_u))
}

/// What the samples from leaving home to `to` bring to an energy: the stroke there is known to `end_u`, mm.
fn of_samples(known: Known, ready: &Ready, setup: &Setup, (to, end_u): (usize, f64)) -> Known {
    let (from, stroke) = (ready.begin, &ready.stroke);
    let way = stroke[to] - stroke[from];
    // At a break the filter has let the force fall already.
    let end_kn = if ready.parted().is_some() {
        ready.peak.kn.value
    } else {
        ready.filtered[to]
    };
    let steps = stroke[from..=to].windows(2).map(|s| (s[1] - s[0]).powi(2));
    let steps = steps.sum::<f64>().sqrt();
    let (value, begin_kn, dof) = (known.value, ready.filtered[from], ready.noise_dof());
    known
        .by("part-pull-gauge-share", (setup.force_u_share, ""), value)
        .by("part-pull-zero", (ready.told.zero_u_kn, "kN"), way)
        .by("part-pull-end", (end_u, "mm"), end_kn)
        .by("part-pull-home", (setup.stroke_u_mm, "mm"), begin_kn)
        .estimated("part-pull-noise", (ready.told.noise_kn, "kN"), steps, dof)
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

/// Energy that did not come back. A zero drops out but for the way that is left; so does a gauge that is wrong by the same everywhere. One
/// whose deviation runs straight from rest to the peak, or from home to the end, stretches it by its share.
pub(super) fn hysteresis(ready: &Ready, setup: &Setup, energy: f64) -> Option<Known> {
    if ready.ending != Ending::Stop {
        return None;
    }
    let back = area(
        &ready.stroke[ready.end..=ready.gone],
        &ready.raw[ready.end..=ready.gone],
    );
    let below = below_j(ready);
    // The stroke goes back, so what is given back counts negative.
    let known = Known::new(energy + back - below);
    let known = of_samples(known, ready, setup, (ready.gone, setup.stroke_u_mm));
    let value = known.value;
    let (peak, stroke) = (ready.peak.kn.value, ready.stroke[ready.end].max(1e-6));
    Some(
        known
            .by(
                "part-pull-gauge-force",
                (setup.force_u_kn, "kN"),
                value / peak,
            )
            .by(
                "part-pull-gauge-stroke",
                (setup.stroke_u_mm, "mm"),
                value / stroke,
            )
            .by("part-pull-below", (below / 3f64.sqrt(), "J"), 1.0),
    )
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
