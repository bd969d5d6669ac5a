//! What good pulls of a model and fastener look like together, and whether another one is like them.
//!
//! # Formula
//! Each pull is brought to the same length, from the end of its take-up to its end: force f at 80 places, and the travel
//! between as one more. With mean m and spread s at each place, d = max |f − m| / s. The factor k is the
//! ⌈(n + 1) p⌉-th smallest of the d of each accepted pull against the others (left out one at a time), their
//! largest where that is more than n: so about ⌈(n + 1) p⌉ / (n + 1), or n / (n + 1), of good pulls lie wholly inside
//! m ± k · s, whatever the distribution. A pull is like them if d + w ≤ k at every place, d = |f − m| / s there and w the expanded
//! uncertainty of the force over s; unlike them if d − w > k at any.
//!
//! # Validity
//! At least 5 accepted pulls of one model, nose and fastener, alike in grip. The share is that of pulls yet to come,
//! not a confidence about each.
//!
//! # Source
//! Band by studentised deviation, factor by leaving out: conformal prediction, Lei et al., J. Am. Stat. Assoc. 113 (2018) 1094,
//! and Barber et al., Ann. Stat. 49 (2021) 486 (both from memory).

use crate::decision::Verdict;
use crate::error::within;
use crate::working::{Method, Working};
use crate::{CalcError, Message};

use super::reading::{Phase, Reading, Setup};

/// This method.
pub const METHOD: Method = Method {
    name: "pull-envelope",
    version: 2,
    source: "studentised band, factor by leaving one out: Lei et al., J. Am. Stat. Assoc. 113 (2018) 1094 (from memory)",
};

/// Places at which curves are compared.
const PLACES: usize = 80;
/// Fewest accepted pulls.
const FEWEST: usize = 5;
/// The spread is never taken to be less than this share of the largest mean, or this much travel, mm.
const LEAST_SHARE: f64 = 0.005;
const LEAST_MM: f64 = 0.1;
/// Places on each side over which a spread is evened out: few pulls give it but roughly.
const EVEN: usize = 3;

/// A pull brought to the same length as others.
#[derive(Clone, Debug, PartialEq)]
struct Aligned {
    /// Forces, kN, and the travel, mm, at the end.
    values: Vec<f64>,
    /// Stroke from home at which it begins, mm.
    begin_mm: f64,
}

impl Aligned {
    fn of(reading: &Reading) -> Result<Self, CalcError> {
        let take_up = reading.phases.iter().find(|f| f.phase == Phase::TakeUp);
        let loaded = reading.phases.iter().any(|f| f.phase == Phase::PullUp);
        let Some(take_up) = take_up.filter(|_| loaded) else {
            let have = reading.phases.len().min(1);
            let input = "phases";
            return Err(CalcError::TooFew {
                input,
                have,
                need: 2,
            });
        };
        let begin_mm = take_up.end_mm.value;
        let (step, force) = (reading.course.step_mm, &reading.course.force_kn);
        let travel = step * force.len() as f64 - begin_mm;
        let at = |place: usize| {
            let stroke = begin_mm + travel * (place as f64 + 0.5) / PLACES as f64;
            let x = (stroke / step - 0.5).clamp(0.0, (force.len() - 1) as f64);
            let i = (x as usize).min(force.len().saturating_sub(2));
            let next = force.get(i + 1).unwrap_or(&force[i]);
            force[i] + (next - force[i]) * (x - i as f64)
        };
        let mut values: Vec<f64> = (0..PLACES).map(at).collect();
        values.push(travel);
        Ok(Self { values, begin_mm })
    }
}

/// A band of good pulls.
#[derive(Clone, Debug, PartialEq)]
pub struct Envelope {
    mean: Vec<f64>,
    spread: Vec<f64>,
    /// How many spreads wide it is on each side.
    pub k: f64,
    /// Share of good pulls that lie wholly inside, about.
    pub share: f64,
    /// Largest deviation of each accepted pull from the others, in spreads.
    pub left_out: Vec<f64>,
}

/// Where a pull lies in or out of the band.
#[derive(Clone, Debug, PartialEq)]
pub struct Compared {
    /// Whether it is like the good ones.
    pub verdict: Verdict,
    /// Its deviation at the place that decides, in spreads; the band is `k` wide.
    pub deviation: f64,
    /// Guard band there on each side of `k`, in spreads.
    pub guard: f64,
    /// Stroke from home of that place, mm; none where it is the travel that decides.
    pub worst_mm: Option<f64>,
    /// Whether it lies above the band's middle there.
    pub above: bool,
    /// Share of the places that lie outside.
    pub outside: f64,
}

/// One point of the band, for drawing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BandPoint {
    /// Share of the travel from the end of take-up to the end.
    pub share: f64,
    /// Lowest good force, kN.
    pub lower_kn: f64,
    /// Mean force, kN.
    pub mean_kn: f64,
    /// Highest good force, kN.
    pub upper_kn: f64,
}

/// Mean and spread of each value over the pulls that `keep` lets in.
fn moments(all: &[Aligned], keep: impl Fn(usize) -> bool) -> (Vec<f64>, Vec<f64>) {
    let kept: Vec<&Aligned> = (0..all.len())
        .filter(|i| keep(*i))
        .map(|i| &all[i])
        .collect();
    let n = kept.len() as f64;
    let of = |place: usize| {
        let mean = kept.iter().map(|a| a.values[place]).sum::<f64>() / n;
        let squares: f64 = kept.iter().map(|a| (a.values[place] - mean).powi(2)).sum();
        (mean, squares / (n - 1.0))
    };
    let (mean, variance): (Vec<f64>, Vec<f64>) = (0..=PLACES).map(of).unzip();
    let most = mean[..PLACES].iter().copied().fold(0.0, f64::max);
    let least = (LEAST_SHARE * most).max(1e-9);
    let even = |place: usize| {
        let around = &variance[place.saturating_sub(EVEN)..(place + EVEN + 1).min(PLACES)];
        let own = around.iter().sum::<f64>() / around.len() as f64;
        own.max(variance[place]).sqrt().hypot(least)
    };
    let mut spread: Vec<f64> = (0..PLACES).map(even).collect();
    spread.push(variance[PLACES].sqrt().hypot(LEAST_MM));
    (mean, spread)
}

/// The deviation at each place, in spreads.
fn deviations(values: &[f64], mean: &[f64], spread: &[f64]) -> impl Iterator<Item = f64> {
    let each = values.iter().zip(mean).zip(spread);
    each.map(|((f, m), s)| (f - m).abs() / s)
}

/// Verdict, and the place that decides: where a deviation `d` less its guard `w` is largest if that lies outside of `k`, else
/// where both together are.
fn decide(d: &[f64], w: &[f64], k: f64) -> (Verdict, usize) {
    let largest = |sign: f64| {
        let asked = d.iter().zip(w).map(|(d, w)| d + sign * w).enumerate();
        let most = asked.max_by(|a, b| a.1.total_cmp(&b.1));
        most.unwrap_or((0, 0.0))
    };
    let (out, surely) = largest(-1.0);
    let (place, at_most) = largest(1.0);
    if surely > k {
        (Verdict::Reject, out)
    } else if at_most <= k {
        (Verdict::Accept, place)
    } else {
        (Verdict::Undecided, place)
    }
}

impl Envelope {
    /// The band that holds `share` of good pulls, made from accepted ones.
    ///
    /// # Errors
    /// Fewer than 5 pulls, one that never got beyond its take-up, a share that is not between 0.5 and 1.
    pub fn of(accepted: &[&Reading], share: f64) -> Result<Self, CalcError> {
        let share = within("p", share, 0.5, 1.0 - 1e-9)?;
        let n = accepted.len();
        if n < FEWEST {
            let input = "n";
            return Err(CalcError::TooFew {
                input,
                have: n,
                need: FEWEST,
            });
        }
        let all = accepted
            .iter()
            .map(|r| Aligned::of(r))
            .collect::<Result<Vec<_>, _>>()?;
        let off = |i: usize| {
            let (mean, spread) = moments(&all, |j| j != i);
            deviations(&all[i].values, &mean, &spread).fold(0.0, f64::max)
        };
        let left_out: Vec<f64> = (0..n).map(off).collect();
        let mut sorted = left_out.clone();
        sorted.sort_unstable_by(f64::total_cmp);
        let rank = (((n + 1) as f64 * share).ceil() as usize).clamp(1, n);
        let (mean, spread) = moments(&all, |_| true);
        Ok(Self {
            mean,
            spread,
            k: sorted[rank - 1],
            share: rank as f64 / (n + 1) as f64,
            left_out,
        })
    }

    /// How many pulls it is made of.
    pub fn count(&self) -> usize {
        self.left_out.len()
    }

    /// The band, place by place.
    pub fn band(&self) -> Vec<BandPoint> {
        let point = |place: usize| {
            let (mean, wide) = (self.mean[place], self.k * self.spread[place]);
            BandPoint {
                share: (place as f64 + 0.5) / PLACES as f64,
                lower_kn: mean - wide,
                mean_kn: mean,
                upper_kn: mean + wide,
            }
        };
        (0..PLACES).map(point).collect()
    }

    /// Whether `reading` is like the good ones.
    ///
    /// # Errors
    /// A pull that never got beyond its take-up.
    pub fn compare(&self, reading: &Reading, setup: &Setup) -> Result<Compared, CalcError> {
        let aligned = Aligned::of(reading)?;
        let deviations: Vec<f64> = deviations(&aligned.values, &self.mean, &self.spread).collect();
        let expanded = |place: usize| match place < PLACES {
            true => 2.0 * setup.force_u(aligned.values[place], reading.told.zero_u_kn),
            false => 2.0 * setup.stroke_u_mm,
        };
        let guards: Vec<f64> = (0..=PLACES)
            .map(|place| expanded(place) / self.spread[place])
            .collect();
        let (verdict, place) = decide(&deviations, &guards, self.k);
        let is_outside =
            |i: &usize| (aligned.values[*i] - self.mean[*i]).abs() > self.k * self.spread[*i];
        let travel = aligned.values[PLACES];
        let stroke = aligned.begin_mm + travel * (place as f64 + 0.5) / PLACES as f64;
        Ok(Compared {
            verdict,
            deviation: deviations[place],
            guard: guards[place],
            worst_mm: (place < PLACES).then_some(stroke),
            above: aligned.values[place] > self.mean[place],
            outside: (0..PLACES).filter(is_outside).count() as f64 / PLACES as f64,
        })
    }

    /// How [`Self::compare`] came to its verdict.
    pub fn working(&self, compared: &Compared) -> Working {
        let given = |id: &'static str| Message::new(id);
        let count = self.count() as f64;
        Working::new(METHOD)
            .given("n", given("given-accepted-pulls"), count, 0, "")
            .given("p", given("given-band-share"), 100.0 * self.share, 1, "%")
            .step(
                "k",
                "d of the accepted pulls, in order, at p",
                self.k,
                2,
                "",
            )
            .step("d", "|f − m| / s", compared.deviation, 2, "")
            .step("w", "U(f) / s", compared.guard, 2, "")
            .note(Message::new("note-band"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_place_is_asked_with_its_own_guard() {
        // The largest deviation is sure; a smaller one beside it is not.
        assert_eq!(
            decide(&[2.0, 1.5], &[0.1, 2.0], 3.0),
            (Verdict::Undecided, 1)
        );
        assert_eq!(decide(&[2.0, 1.5], &[0.1, 1.5], 3.0), (Verdict::Accept, 1));
        // The largest deviation is unsure; a smaller one lies outside for sure.
        assert_eq!(decide(&[5.0, 4.0], &[3.0, 0.5], 3.0), (Verdict::Reject, 1));
        assert_eq!(
            decide(&[5.0, 3.4], &[3.0, 0.5], 3.0),
            (Verdict::Undecided, 0)
        );
    }
}
