//! What a force loses while it is held at a stop.

use super::known::Known;
use super::prepare::{Ready, mean};
use super::{Ending, Setup, Value};

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

/// What was held while the stroke stood at its end, and what the loss in the first 60 s is unsure by.
pub(super) fn hold(ready: &Ready, setup: &Setup) -> Option<(Hold, Option<Known>)> {
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
        let known = Known::new(whole)
            .estimated("part-pull-noise", (noise, "kN"), beyond, ready.noise_dof())
            .by("part-pull-drift", (drift, "kN"), 1.0)
            .by("part-pull-line", (line, "kN"), 1.0);
        setup.of_difference(known, ready.peak.kn.value)
    };
    let minute = (ready.end..=last).find(|i| ready.time[*i] - ready.time[ready.end] >= 60.0);
    let minute = minute.map(lost);
    let held = Hold {
        seconds,
        loss_kn: lost(last).plain(),
        loss_60_s_kn: minute.as_ref().map(Known::plain),
    };
    Some((held, minute))
}
