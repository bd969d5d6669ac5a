//! Whether one more trial joint is worth its cost, and at which step: solved backwards, exactly for a
//! known spread.
//!
//! # Formula
//! State: n joints set, and m, how far the mean of the joints is expected to lie from the middle of the
//! window at the present setting. V_n(m) = min(r_n(m), c + min_k E V_{n+1}(m + k·q + Z)), where
//! r_n(m) is the expected share of rejects if the setting is signed off now, q the step of the adjuster,
//! c the cost of a joint as a share of rejects, and Z normal with variance τ_n² − τ_{n+1}², the shift that one
//! more reading brings. τ_n² = 1 / (1/u₀² + n / (σ² + u²)).
//!
//! # Source
//! Backward induction for optimal stopping: DeGroot, Optimal Statistical Decisions, 12.4 to 12.6 (from memory).

use super::Window;
use crate::normal::between;

/// Joints after which no more are planned.
const MOST: usize = 20;
/// Grid points for each standard deviation of one reading.
const FINENESS: f64 = 40.0;
/// Half of the places at which a shift is weighed, and their distance in standard deviations.
const PLACES: i32 = 10;
const APART: f64 = 0.4;

/// What the plan is made for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Terms {
    pub window: Window,
    pub step_mm: f64,
    pub offset_sd_mm: f64,
    pub spread_mm: f64,
    /// Standard uncertainty of a reading.
    pub reading_mm: f64,
    /// A joint's cost, as a share of rejects.
    pub joint_cost: f64,
}

impl Terms {
    /// Expected share of rejects with the joints expected `m` mm from the middle, known to `sd`.
    fn rejects(&self, m: f64, sd: f64) -> f64 {
        let sd = sd.hypot(self.spread_mm);
        let half = self.window.half_mm();
        1.0 - between((-half - m) / sd, (half - m) / sd)
    }
}

/// What to do at one state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Choice {
    /// What signing off now costs less than going on, as a share of rejects; negative where going on pays.
    pub gain: f64,
    /// Steps to turn before the next joint, if one is set.
    pub steps: i32,
    /// Joints that are still to be expected, this choice followed.
    pub further: f64,
}

/// The solved plan.
#[derive(Clone, Debug)]
pub(super) struct Plan {
    terms: Terms,
    half_width: f64,
    /// τ_n from n = 0.
    known: Vec<f64>,
    /// For n = 1 and on: a choice for each place of m.
    rows: Vec<Vec<Choice>>,
}

impl Plan {
    pub fn solve(terms: &Terms) -> Self {
        let noise = terms.spread_mm.hypot(terms.reading_mm);
        let half_width = terms.step_mm + 6.0 * noise;
        let places = (half_width / noise * FINENESS).ceil() as i32;
        let fine = half_width / f64::from(places);
        let known: Vec<f64> = (0..=MOST)
            .map(|n| (terms.offset_sd_mm.powi(-2) + n as f64 * noise.powi(-2)).powf(-0.5))
            .collect();
        let at = |i: usize| (i as i32 - places) as f64 * fine;
        let count = 2 * places as usize + 1;
        // The last row cannot go on.
        let mut value: Vec<f64> = (0..count)
            .map(|i| terms.rejects(at(i), known[MOST]))
            .collect();
        let mut further = vec![0.0; count];
        let mut rows = Vec::with_capacity(MOST - 1);
        for n in (1..MOST).rev() {
            let shift = (known[n].powi(2) - known[n + 1].powi(2)).max(0.0).sqrt();
            let weights = weights();
            // Everything that is looked at next, weighed: what it costs, and how many more joints.
            let ahead: Vec<(f64, f64)> = (0..count)
                .map(|i| {
                    let mut cost = 0.0;
                    let mut more = 0.0;
                    for (z, weight) in &weights {
                        let place = (at(i) + z * shift + half_width) / fine;
                        cost += weight * read(&value, place);
                        more += weight * read(&further, place);
                    }
                    (cost, more)
                })
                .collect();
            let mut row = Vec::with_capacity(count);
            for i in 0..count {
                let m = at(i);
                let (steps, cost, more) = best(m, terms.step_mm, |landed| {
                    let place = (landed + half_width) / fine;
                    read_both(&ahead, place)
                });
                let going_on = terms.joint_cost + cost;
                let stopping = terms.rejects(m, known[n]);
                value[i] = going_on.min(stopping);
                further[i] = if going_on < stopping { 1.0 + more } else { 0.0 };
                row.push(Choice {
                    gain: going_on - stopping,
                    steps,
                    further: further[i],
                });
            }
            rows.push(row);
        }
        rows.reverse();
        Self {
            terms: *terms,
            half_width,
            known,
            rows,
        }
    }

    /// What to do when the joints are expected `m` mm from the middle, known to `sd`.
    pub fn choice(&self, m: f64, sd: f64) -> Choice {
        let off = |n: &usize| (self.known[*n] - sd).abs();
        let n = (1..MOST).min_by(|a, b| off(a).total_cmp(&off(b)));
        let row = &self.rows[n.unwrap_or(1) - 1];
        let middle = (row.len() / 2) as f64;
        let place = (m / self.half_width + 1.0) * middle;
        if !(0.0..=middle * 2.0).contains(&place) {
            // So far off that nothing is lost by turning.
            let steps = -(m / self.terms.step_mm).round();
            let landed = self.choice(m + steps * self.terms.step_mm, sd);
            return Choice {
                gain: f64::MIN,
                steps: steps as i32,
                further: 1.0 + landed.further,
            };
        }
        row[place.round() as usize]
    }
}

/// The steps that leave the joints nearest to the middle: to stay, and the two about the middle.
fn best(m: f64, step: f64, ahead: impl Fn(f64) -> (f64, f64)) -> (i32, f64, f64) {
    let near = -(m / step).round() as i32;
    let mut best = (0, f64::INFINITY, 0.0);
    for steps in [0, near, near - 1, near + 1] {
        let landed = m + f64::from(steps) * step;
        // A place beyond a step's reach has no right value on the grid, and is never the best.
        if landed.abs() > step * 1.001 {
            continue;
        }
        let (cost, more) = ahead(landed);
        if cost < best.1 - 1e-12 {
            best = (steps, cost, more);
        }
    }
    best
}

fn weights() -> Vec<(f64, f64)> {
    let places: Vec<f64> = (-PLACES..=PLACES).map(|i| f64::from(i) * APART).collect();
    let sum: f64 = places.iter().map(|z| (-z * z / 2.0).exp()).sum();
    let weight = |z: &f64| (*z, (-z * z / 2.0).exp() / sum);
    places.iter().map(weight).collect()
}

/// A value between two grid places; the end's own beyond them.
fn read(values: &[f64], place: f64) -> f64 {
    let place = place.clamp(0.0, (values.len() - 1) as f64);
    let below = (place as usize).min(values.len() - 2);
    let part = place - below as f64;
    values[below] + part * (values[below + 1] - values[below])
}

fn read_both(values: &[(f64, f64)], place: f64) -> (f64, f64) {
    let place = place.clamp(0.0, (values.len() - 1) as f64);
    let below = (place as usize).min(values.len() - 2);
    let part = place - below as f64;
    let (one, other) = (values[below], values[below + 1]);
    (
        one.0 + part * (other.0 - one.0),
        one.1 + part * (other.1 - one.1),
    )
}

#[cfg(test)]
impl Plan {
    /// What a set-up by this plan costs after its first joint, as a share of rejects, on average over what
    /// that joint may read.
    pub fn promised(&self) -> f64 {
        const FINE: i32 = 4000;
        let shift = (self.known[0].powi(2) - self.known[1].powi(2)).sqrt();
        let (mut sum, mut weights) = (0.0, 0.0);
        for i in -FINE..=FINE {
            let z = f64::from(i) * 6.0 / f64::from(FINE);
            let weight = (-z * z / 2.0).exp();
            let m = z * shift;
            let choice = self.choice(m, self.known[1]);
            let cost = if choice.gain == f64::MIN {
                // Too far off to stay: it costs what going on from the place landed at costs.
                let landed = m + f64::from(choice.steps) * self.terms.step_mm;
                let there = self.choice(landed, self.known[1]);
                self.terms.rejects(landed, self.known[1]) + there.gain
            } else {
                self.terms.rejects(m, self.known[1]) + choice.gain.min(0.0)
            };
            sum += weight * cost;
            weights += weight;
        }
        sum / weights
    }
}
