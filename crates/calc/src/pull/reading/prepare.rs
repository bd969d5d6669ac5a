//! Zero, drift, filter, and where the load begins and ends.

use std::borrow::Cow;

use crate::CalcError;
use crate::error::within;
use crate::filters::butterworth::Butterworth;
use crate::filters::savitzky_golay::SavitzkyGolay;
use crate::filters::zero_phase::zero_phase;
use crate::filters::{LARGEST, sound};

use super::peak::{Peak, peak};
use super::{Ending, RecordedPull, Setup};

/// Samples under load below which nothing is read.
const FEWEST: usize = 24;
/// Away from home beyond this, mm.
const AWAY_MM: f64 = 0.06;
/// A break is over within so long, s, besides the filter's own width.
const BREAK_S: f64 = 0.012;
/// Samples at home again that show what the cell shows at rest.
const STILL: usize = 8;
/// The pace before a break is taken over so long, s.
const PACE_S: f64 = 0.01;
/// Under load is what holds so much of the level before the break.
const HELD: f64 = 0.75;
/// A sample that lies so much of the level below those before it has part in the fall.
const FALLS: f64 = 0.03;
/// Halves of a rest that differ by so many standard deviations are no noise.
const UNSTEADY: f64 = 4.0;
/// The noise is taken from about so many samples.
const MOST_OF_NOISE: usize = 2000;
/// During a break the stroke goes back by less than this, mm.
const RETREAT_MM: f64 = 0.2;

/// What is done against noise.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Filter {
    /// Zero-phase Butterworth of order 2, 1/200 of the time under load up to the end of the stroke wide, or none where samples are few.
    #[default]
    Usual,
    /// Nothing.
    None,
    /// Butterworth, forwards and back.
    Butterworth {
        /// Its order.
        order: usize,
        /// Its cut-off, Hz.
        cutoff_hz: f64,
    },
    /// Savitzky–Golay.
    SavitzkyGolay {
        /// Samples in the window, odd.
        window: usize,
        /// Degree of the polynomial.
        degree: usize,
    },
}

/// What was done to the force.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Told {
    /// Zero taken off, kN, at the beginning.
    pub zero_kn: f64,
    /// Where home lies on the sensor, what it shows too much taken off, mm.
    pub home_mm: f64,
    /// Its standard uncertainty anywhere in the pull, the drift taken off, kN.
    pub zero_u_kn: f64,
    /// Standard uncertainty of the drift, kN from the rest before to the rest after.
    pub drift_u_kn: f64,
    /// Drift taken off, kN from the rest before to the rest after; none where one of them is missing.
    pub drift_kn: Option<f64>,
    /// The filter that was used.
    pub filter: Filter,
    /// Samples a second.
    pub rate_hz: f64,
    /// Standard deviation of the force's noise, kN.
    pub noise_kn: f64,
}

impl Told {
    /// Half of what the filter smears, samples.
    pub(super) fn width(&self) -> usize {
        match self.filter {
            Filter::Butterworth { cutoff_hz, .. } => (0.5 / cutoff_hz * self.rate_hz) as usize,
            Filter::SavitzkyGolay { window, .. } => window / 2,
            Filter::None | Filter::Usual => 0,
        }
    }
}

/// A pull made ready.
pub(super) struct Ready<'a> {
    pub(super) time: &'a [f64],
    /// Stroke from home, mm.
    pub(super) stroke: Vec<f64>,
    /// Force without zero and drift, kN.
    pub(super) raw: Vec<f64>,
    /// The same, filtered.
    pub(super) filtered: Vec<f64>,
    /// The sample at which the stroke leaves home.
    pub(super) begin: usize,
    /// The sample at which the stroke is at its end: the break, or the stop reached.
    pub(super) end: usize,
    /// The sample from which on the force is gone.
    pub(super) gone: usize,
    /// The largest force.
    pub(super) peak: Peak,
    pub(super) ending: Ending,
    /// Where the force went within a sample or two, by a break or as a tool turns at once: somewhere between the last sample
    /// under load and the next.
    pub(super) sudden: Option<Sudden>,
    pub(super) told: Told,
}

impl Ready<'_> {
    /// Degrees of freedom of the noise.
    pub(super) fn noise_dof(&self) -> f64 {
        noise_dof(self.raw.len())
    }

    /// Where pin or mandrel parted.
    pub(super) fn parted(&self) -> Option<Sudden> {
        self.sudden.filter(|_| self.ending == Ending::Break)
    }
}

/// A sudden end of the force.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Sudden {
    /// Way from the last sample under load to it, mm: it came anywhere within twice of it, each place as likely
    /// (JCGM 100:2008, 4.3.7).
    pub(super) beyond_mm: f64,
    /// Standard deviation of the stroke's noise, mm.
    pub(super) noise_mm: f64,
}

impl Sudden {
    /// After the sample `end`.
    fn after(stroke: &[f64], begin: usize, end: usize, rate_hz: f64) -> Self {
        let rows = ((PACE_S * rate_hz) as usize).clamp(4, end - begin);
        let part = &stroke[end - rows..=end];
        let step = (part[rows] - part[0]) / rows as f64;
        let off = |(i, s): (usize, &f64)| (s - part[0] - step * i as f64).powi(2);
        let squares: f64 = part.iter().enumerate().map(off).sum();
        Self {
            beyond_mm: step.max(0.0) / 2.0,
            noise_mm: (squares / rows as f64).sqrt(),
        }
    }

    /// Standard uncertainty of where it came, mm.
    pub(super) fn u_mm(&self) -> f64 {
        self.noise_mm.hypot(self.beyond_mm / 3f64.sqrt())
    }
}

pub(super) fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len().max(1) as f64
}

/// Standard deviation of the noise, from how far samples lie off the line through their neighbours.
fn noise(force: &[f64]) -> f64 {
    let every = (force.len() / MOST_OF_NOISE).max(1);
    let off = |w: &[f64]| (w[0] - 2.0 * w[1] + w[2]).abs();
    let mut all: Vec<f64> = force.windows(3).step_by(every).map(off).collect();
    if all.is_empty() {
        return 0.0;
    }
    let middle = all.len() / 2;
    let (_, median, _) = all.select_nth_unstable_by(middle, f64::total_cmp);
    // Of normal noise: median |second difference| = 0.6745 · √6 standard deviations.
    *median / (0.674_489_75 * 6f64.sqrt())
}

/// Degrees of freedom of the noise of `samples`: a median of second differences is as unsure as a standard deviation of a fourth as many
/// values (found by drawing normal noise many times, 24 to 1000 samples; no source).
fn noise_dof(samples: usize) -> f64 {
    samples.min(MOST_OF_NOISE) as f64 / 4.0
}

/// Makes `pull` ready.
pub(super) fn prepare<'a>(pull: &'a RecordedPull, setup: &Setup) -> Result<Ready<'a>, CalcError> {
    let n = pull.time_s.len();
    for (input, column) in [
        ("s", &pull.stroke_mm),
        ("F", &pull.force_kn),
        ("t", &pull.time_s),
    ] {
        if column.len() != n {
            return Err(CalcError::Uneven {
                input,
                have: column.len(),
                need: n,
            });
        }
        sound(input, column)?;
    }
    let too_few = |have| CalcError::TooFew {
        input: "F",
        have,
        need: FEWEST,
    };
    if n < FEWEST {
        return Err(too_few(n));
    }
    let span = within("t", pull.time_s[n - 1] - pull.time_s[0], 1e-6, LARGEST)?;
    let rate_hz = (n - 1) as f64 / span;
    let noise_kn = noise(&pull.force_kn);
    let highest = pull
        .force_kn
        .iter()
        .enumerate()
        .max_by(|a, b| a.1.total_cmp(b.1));
    let top = highest.map_or(0, |(i, _)| i);
    let mut stroke_mm = Cow::Borrowed(&pull.stroke_mm);
    if !setup.stroke_deviations.is_exact() {
        setup.stroke_deviations.correct(stroke_mm.to_mut());
    }
    // Home is where the stroke stands while nothing happens yet.
    let left_home = |home: f64, by_mm: f64| {
        let before = stroke_mm[..top].iter();
        before.clone().rposition(|s| (s - home).abs() < by_mm)
    };
    // Of a long recording with a short rest, only the rest: its first rows say how long it may be.
    let few_rows = 3.min(top.max(1));
    let rough = left_home(mean(&stroke_mm[..few_rows]), 2.0 * AWAY_MM);
    let few = (rough.unwrap_or(0) / 2).clamp(3, 64).min(top.max(1));
    let left = left_home(mean(&stroke_mm[..few]), AWAY_MM);
    let rest = left.unwrap_or(0).max(few.min(top));
    let home = mean(&stroke_mm[..rest.max(1)]);
    let stroke: Vec<f64> = stroke_mm.iter().map(|s| s - home).collect();
    let begin = rest.min(top);
    let (mut raw, zero) = match pull.zero_kn {
        Some(known) => without_known_zero(&pull.force_kn, &stroke, known, noise_kn),
        None => without_zero(&pull.force_kn, &stroke, begin, noise_kn),
    };
    setup.force_deviations.correct(&mut raw);
    let most = stroke[begin..].iter().copied().fold(f64::MIN, f64::max);
    let reached = stroke[begin..].iter().position(|s| *s >= most - AWAY_MM);
    let loaded = raw[begin..]
        .iter()
        .filter(|f| **f > 0.2 * (raw[top]))
        .count();
    if loaded < FEWEST {
        return Err(too_few(loaded));
    }
    // What is held at the stop makes the filter no slower: it would swing over the stop.
    let pulled_s = loaded.min(reached.unwrap_or(loaded)).max(FEWEST) as f64 / rate_hz;
    let (filtered, filter) = filtered(&raw, setup.filter, rate_hz, pulled_s)?;
    let peak_kn = filtered[begin..].iter().copied().fold(f64::MIN, f64::max);
    within("F", peak_kn, 1e-9, LARGEST)?;
    let last = filtered
        .iter()
        .rposition(|f| *f > 0.5 * peak_kn)
        .unwrap_or(n - 1);
    let told = Told {
        filter,
        rate_hz,
        noise_kn,
        home_mm: home,
        ..zero
    };
    let (end, gone, ending) = ending(&stroke, &raw, &filtered, last, &told);
    let peak = peak(&raw, &filtered, begin, last, &told, noise_dof(n))?;
    if end <= begin + FEWEST {
        return Err(too_few(end.saturating_sub(begin)));
    }
    let at_once = match ending {
        Ending::Break => true,
        Ending::Stop => gone <= end + 2,
        Ending::Unknown => false,
    };
    let sudden = at_once.then(|| Sudden::after(&stroke, begin, end, rate_hz));
    Ok(Ready {
        time: &pull.time_s,
        stroke,
        raw,
        filtered,
        begin,
        end,
        gone,
        peak,
        ending,
        sudden,
        told,
    })
}

/// The force without what the cell shows at rest.
fn without_zero(force: &[f64], stroke: &[f64], begin: usize, noise: f64) -> (Vec<f64>, Told) {
    let n = force.len();
    // The tool is on its way some rows before that shows: about as many as it takes for as much again.
    let again = stroke[begin..].iter().position(|s| s.abs() > 2.0 * AWAY_MM);
    let hidden = 2 * again.unwrap_or(0) + 2;
    let head = begin.saturating_sub(hidden).max(begin / 2).max(1);
    let zero = mean(&force[..head]);
    let back = home_again(stroke);
    let tail = &force[back..];
    let still = tail.len() >= STILL && back > head;
    let drift = still.then(|| mean(tail) - zero);
    let from = (head - 1) as f64 / 2.0;
    let to = (back + n - 1) as f64 / 2.0;
    let slope = drift.map_or(0.0, |d| d / (to - from));
    let raw = force.iter().enumerate();
    let raw = raw
        .map(|(i, f)| f - zero - slope * (i as f64 - from))
        .collect();
    let head_u = rest_u(&force[..head], noise, slope);
    let tail_u = if still {
        rest_u(tail, noise, slope)
    } else {
        0.0
    };
    let told = Told {
        zero_kn: zero,
        home_mm: 0.0,
        zero_u_kn: head_u.max(tail_u),
        drift_u_kn: if still { head_u.hypot(tail_u) } else { 0.0 },
        drift_kn: drift,
        filter: Filter::None,
        rate_hz: 0.0,
        noise_kn: noise,
    };
    (raw, told)
}

/// Standard uncertainty of the mean of what the cell shows at rest, kN: noise, and where it does not stand but for its drift of
/// `slope` a sample, what its halves differ by, as a limit.
fn rest_u(rest: &[f64], noise: f64, slope: f64) -> f64 {
    let n = rest.len();
    let u = noise / (n.max(1) as f64).sqrt();
    let (before, after) = rest.split_at(n / 2);
    let off = (mean(after) - mean(before) - slope * n as f64 / 2.0).abs();
    match n >= STILL && off > UNSTEADY * 2.0 * u {
        true => u.hypot(off / 3f64.sqrt()),
        false => u,
    }
}

/// The sample from which on the stroke is home for good.
fn home_again(stroke: &[f64]) -> usize {
    let out = stroke.iter().rposition(|s| s.abs() > 2.0 * AWAY_MM);
    out.map_or(stroke.len(), |i| i + 1)
}

/// The force without a zero that is known. It is taken as it is, drift or not: what the rest after the pull shows besides
/// makes it the less sure.
fn without_known_zero(force: &[f64], stroke: &[f64], zero: f64, noise: f64) -> (Vec<f64>, Told) {
    let tail = &force[home_again(stroke)..];
    let off = match tail.len() >= STILL {
        true => (mean(tail) - zero) / 3f64.sqrt(),
        false => 0.0,
    };
    let told = Told {
        zero_kn: zero,
        home_mm: 0.0,
        zero_u_kn: off.abs(),
        drift_u_kn: off.abs(),
        drift_kn: None,
        filter: Filter::None,
        rate_hz: 0.0,
        noise_kn: noise,
    };
    (force.iter().map(|f| f - zero).collect(), told)
}

/// The force filtered, and by what.
pub(super) fn filtered(
    raw: &[f64],
    filter: Filter,
    rate_hz: f64,
    pulled_s: f64,
) -> Result<(Vec<f64>, Filter), CalcError> {
    match filter {
        Filter::None => Ok((raw.to_vec(), filter)),
        Filter::Butterworth { order, cutoff_hz } => {
            let low_pass = Butterworth::low_pass(order, 2.0 * cutoff_hz / rate_hz)?;
            Ok((zero_phase(&low_pass, raw)?, filter))
        }
        Filter::SavitzkyGolay { window, degree } => {
            let savitzky_golay = SavitzkyGolay {
                window,
                degree,
                derivative: 0,
            };
            Ok((savitzky_golay.smooth(raw, 1.0)?, filter))
        }
        Filter::Usual => {
            let cutoff_hz = 100.0 / pulled_s;
            match cutoff_hz < 0.25 * rate_hz && raw.len() > 9 {
                true => self::filtered(
                    raw,
                    Filter::Butterworth {
                        order: 2,
                        cutoff_hz,
                    },
                    rate_hz,
                    pulled_s,
                ),
                false => Ok((raw.to_vec(), Filter::None)),
            }
        }
    }
}

/// Where the stroke ends, where the force is gone, and how it went. `last` is the last sample over half the peak.
fn ending(
    stroke: &[f64],
    raw: &[f64],
    filtered: &[f64],
    last: usize,
    told: &Told,
) -> (usize, usize, Ending) {
    let n = raw.len();
    let width = told.width();
    let reach = width + (BREAK_S * told.rate_hz) as usize + 2;
    let level = filtered[last.saturating_sub(2 * width)..=last]
        .iter()
        .copied()
        .fold(0.0, f64::max);
    let low = |f: &f64| *f < 0.2 * level;
    let gone = filtered[last..]
        .iter()
        .position(low)
        .map_or(n, |i| last + i);
    if gone >= n {
        return (stop(stroke, n - 1), n - 1, Ending::Unknown);
    }
    let high = filtered[..=last]
        .iter()
        .rposition(|f| *f >= 0.85 * level)
        .unwrap_or(last);
    // A tool that lets go moves back meanwhile.
    let retreat = stroke[high] - stroke[gone];
    if gone - high <= reach && retreat < RETREAT_MM {
        // The break itself: the last raw sample, averaged over few, above half of the level.
        let from = high.saturating_sub(width);
        let few = |i: &usize| mean(&raw[i.saturating_sub(2)..=*i]) > 0.5 * level;
        let at = (from..=gone).rev().find(few).unwrap_or(last);
        let held = (from..=at).rev().find(|i| raw[*i] >= HELD * level);
        let held = held.map_or(at, |i| before_fall(raw, i, reach, level, told));
        return (held, gone, Ending::Break);
    }
    (stop(stroke, last), gone, Ending::Stop)
}

/// From sample `at` back, by `reach` at most, over those that have part in the fall already.
fn before_fall(raw: &[f64], at: usize, reach: usize, level: f64, told: &Told) -> usize {
    let least = (FALLS * level).max(UNSTEADY * told.noise_kn);
    let holds = |i: &usize| {
        let before = mean(&raw[i.saturating_sub(4)..*i]);
        raw[*i] > before - least
    };
    let few = reach.min(at);
    (at - few..=at).rev().find(holds).unwrap_or(at)
}

/// The sample at which the stroke has reached its end, up to `last`.
fn stop(stroke: &[f64], last: usize) -> usize {
    let most = stroke[..=last].iter().copied().fold(f64::MIN, f64::max);
    let reached = stroke[..=last]
        .iter()
        .position(|s| *s >= most - AWAY_MM / 2.0);
    reached.unwrap_or(last)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn noise_is_told_apart_from_shape() {
        // A steep line with alternating steps of 0.1 has no curvature but theirs: |second difference| 0.4.
        let force: Vec<f64> = (0..100)
            .map(|i| f64::from(i) * 3.0 + f64::from(i % 2) * 0.1)
            .collect();
        let wanted = 0.2 / (0.674_489_75 * 6f64.sqrt());
        assert!((noise(&force) - wanted).abs() < 1e-9, "{}", noise(&force));
        assert_eq!(noise(&[1.0]), 0.0);
    }

    #[test]
    fn a_known_zero_stays_and_the_rest_after_makes_it_unsure() {
        let stroke: Vec<f64> = [5.0; 30].into_iter().chain([0.0; 10]).collect();
        let force: Vec<f64> = [12.0; 30].into_iter().chain([2.3; 10]).collect();
        let (raw, told) = without_known_zero(&force, &stroke, 2.0, 0.01);
        assert!((raw[0] - 10.0).abs() < 1e-12 && (raw[39] - 0.3).abs() < 1e-12);
        assert_eq!((told.zero_kn, told.drift_kn), (2.0, None));
        // As a limit: half the width over √3.
        assert!((told.zero_u_kn - 0.3 / 3f64.sqrt()).abs() < 1e-12);
        // No rest after: nothing to hold it against.
        let (_, told) = without_known_zero(&force[..35], &stroke[..35], 2.0, 0.01);
        assert_eq!(told.zero_u_kn, 0.0);
    }

    #[test]
    fn a_rest_that_does_not_stand_is_less_sure() {
        let wiggle = |i: i32| f64::from(i % 3 - 1) * 0.01;
        let rest = |jump: f64| -> Vec<f64> {
            (0..60)
                .map(|i| wiggle(i) + if i < 30 { 0.0 } else { jump })
                .collect()
        };
        let noise = 0.01;
        assert!((rest_u(&rest(0.0), noise, 0.0) - noise / 60f64.sqrt()).abs() < 1e-12);
        let jumped = rest_u(&rest(0.4), noise, 0.0);
        assert!((jumped - 0.4 / 3f64.sqrt()).abs() < 1e-3, "{jumped}");
        // A drift that is taken off is no jump.
        let drifts: Vec<f64> = (0..60).map(|i| wiggle(i) + 0.01 * f64::from(i)).collect();
        assert!(rest_u(&drifts, noise, 0.01) < 0.002);
        assert_eq!(rest_u(&[], noise, 0.0), noise);
    }

    #[test]
    fn zero_and_drift_go_exactly() {
        let n = 200;
        let stroke: Vec<f64> = (0..n)
            .map(|i| if (50..150).contains(&i) { 5.0 } else { 0.0 })
            .collect();
        let force: Vec<f64> = (0..n)
            .map(|i| 0.7 + 0.01 * i as f64 + if (50..150).contains(&i) { 10.0 } else { 0.0 })
            .collect();
        let (raw, told) = without_zero(&force, &stroke, 50, 0.0);
        // 150 rows between the middles of the rests, less what is left out before the stroke shows.
        assert!((told.drift_kn.expect("both rests") - 1.5).abs() < 0.02);
        assert!(raw[10].abs() < 1e-9 && (raw[100] - 10.0).abs() < 1e-9 && raw[190].abs() < 1e-9);
    }
}
