//! How long a part lasts: wear in a straight line, from the model's life and this part's own readings.
//!
//! # Formula
//! Size after n pulls: y = y₀ + b·n. Beforehand b is normal about b₀ = (L − y_new) / life with the spread
//! s_b = k·|b₀|; y₀ is the size when new, or a first reading with its doubt u₀. A reading y_i at n_i is
//! normal about the line with u_i = U_i / 2. The line after them is exact, conjugate: P = P₀ + Σ x·xᵀ/u²,
//! (y₀, b) = P⁻¹ · (P₀·prior + Σ x·y/u²), x = (1, n). Where y₀ is exact this is b = b₀ + Σ n·(y − y₀ − b₀·n)/u² /
//! P_b, P_b = 1/s_b² + Σ n²/u², u_b = 1/√P_b. The size at n is normal about the line with
//! u_y² = (1, n)·P⁻¹·(1, n)ᵀ, so P(beyond a limit at n) needs no approximation. Life left is the least m with
//! P(beyond at N + m) ≥ 1/2: (L − y₀) / b − N, exact for a ratio of normals; its interval is where that
//! probability reaches (1 ± level)/2. Between two limits with a stated life b is about 0 beforehand, with
//! s_b = the nearer distance / life: nobody says which way it wears.
//!
//! What the newest reading says by itself stands first: P(beyond) is never less than that of the reading
//! alone, Φ((y − L)/u). So a part that measured beyond its limit has no life left, whatever was believed.
//!
//! # Validity
//! Wear in proportion to pulls; readings independent. What a gauge does not tell is not in the interval: how
//! much the work of this tool varies. No reading: the model's life alone. Wear does not run backwards, but
//! the line may, where readings say so.
//!
//! # Errors
//! A size when new that is not inside the limits, pulls below 0 or beyond now, an uncertainty of a reading
//! that is not above 0, neither a stated life nor two places to draw a line through.
//!
//! # Source
//! Conjugate normal regression with known variances: Gelman et al., Bayesian Data Analysis, chapter 14 (from
//! memory). The straight line and the spread of one half are common practice, no source.

#[cfg(test)]
mod tests;
mod working;

use crate::bisection::bisect;
use crate::decision::Limits;
use crate::error::{CalcError, within};
use crate::normal::below;
use crate::working::Method;

pub use working::working;

/// This method.
pub const METHOD: Method = Method {
    name: "wear-life",
    version: 1,
    source: "conjugate normal regression, Gelman et al., Bayesian Data Analysis, chapter 14 (from memory); straight-line wear: common practice, no source",
};

/// How far the stated life may be off, as a share of the wear rate: one standard deviation. Common practice,
/// no source.
pub const PRIOR_SPREAD: f64 = 0.5;
/// Pulls beyond which a life is not told from one without end.
pub const MOST_PULLS: f64 = 1e9;
/// Standard deviations off the line at which a reading does not lie on it. Common practice, no source.
pub const OFF_THE_LINE: f64 = 3.0;

/// A size as measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Pulls since counting began.
    pub pulls: f64,
    /// Size.
    pub size: f64,
    /// Expanded uncertainty, k = 2.
    pub expanded: f64,
}

/// What is known of a part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part<'a> {
    /// Size when new.
    pub new: f64,
    /// Limits in service.
    pub limits: Limits,
    /// A first reading from which pulls are counted, where nobody knows when the part was new: size and
    /// expanded uncertainty. `None`: counting began with the new part.
    pub from: Option<(f64, f64)>,
    /// Sizes measured since.
    pub readings: &'a [Reading],
    /// Life that the model states, pulls.
    pub life_pulls: Option<f64>,
    /// How far that life may be off: standard deviation of the rate as a share of it.
    pub prior_spread: f64,
    /// Pulls since counting began.
    pub pulls: f64,
}

/// What is known of the line beforehand.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Prior {
    start: f64,
    /// 0 where the start is exact.
    start_u: f64,
    rate: f64,
    /// Infinite where nothing is known.
    rate_sd: f64,
}

/// The line of a part, and what follows from it.
#[derive(Clone, Debug, PartialEq)]
pub struct Life {
    /// Size where counting began.
    pub start: f64,
    /// Change of size per pull; with its sign.
    pub rate: f64,
    /// Standard uncertainty of that.
    pub rate_se: f64,
    /// Pulls since counting began.
    pub pulls: f64,
    /// How many readings it rests on, a first one from which pulls are counted among them.
    pub readings: usize,
    /// Most standard uncertainties by which a reading lies off the line.
    pub misfit: f64,
    limits: Limits,
    prior: Prior,
    /// Σ n² / u² and Σ n · (y − y₀ − b₀ · n) / u².
    sums: (f64, f64),
    /// P⁻¹: variance of the start, of the rate, and what they share.
    cov: (f64, f64, f64),
    /// P(beyond a limit) by the newest reading alone.
    newest_beyond: f64,
}

/// The line of `part`.
///
/// # Errors
/// As the head of this module says.
pub fn life(part: &Part) -> Result<Life, CalcError> {
    let prior = prior(part)?;
    let pulls = within("N", part.pulls, 0.0, MOST_PULLS)?;
    let mut sums = [0.0; 5];
    for reading in part.readings {
        let n = within("n", reading.pulls, 0.0, pulls)?;
        let y = within("y", reading.size, -1e9, 1e9)?;
        let u = within("U", reading.expanded, 1e-9, 1e9)? / 2.0;
        let beyond = y - prior.start - prior.rate * n;
        for (sum, term) in sums.iter_mut().zip([1.0, n, n * n, beyond, n * beyond]) {
            *sum += term / (u * u);
        }
    }
    let [s1, sn, snn, sy, sny] = sums;
    if prior.rate_sd == f64::INFINITY && snn <= 0.0 {
        return Err(CalcError::TooFew {
            input: "n",
            have: 0,
            need: 1,
        });
    }
    let p_rate = snn + 1.0 / (prior.rate_sd * prior.rate_sd);
    let (start, rate, cov) = if prior.start_u > 0.0 {
        let p_start = s1 + 1.0 / (prior.start_u * prior.start_u);
        let determinant = p_start * p_rate - sn * sn;
        let cov = (
            p_rate / determinant,
            p_start / determinant,
            -sn / determinant,
        );
        let start = prior.start + cov.0 * sy + cov.2 * sny;
        (start, prior.rate + cov.2 * sy + cov.1 * sny, cov)
    } else {
        (
            prior.start,
            prior.rate + sny / p_rate,
            (0.0, 1.0 / p_rate, 0.0),
        )
    };
    let off = |n: f64, y: f64, u: f64| ((y - start - rate * n) / u).abs();
    let misfits = part.readings.iter();
    let misfit = misfits
        .map(|r| off(r.pulls, r.size, r.expanded / 2.0))
        .fold(0.0, f64::max);
    let newest = part
        .readings
        .iter()
        .max_by(|a, b| a.pulls.total_cmp(&b.pulls))
        .map(|r| (r.size, r.expanded))
        .or(part.from);
    Ok(Life {
        start,
        rate,
        rate_se: cov.1.sqrt(),
        pulls,
        readings: part.readings.len() + usize::from(part.from.is_some()),
        misfit,
        limits: part.limits,
        prior,
        sums: (snn, sny),
        cov,
        newest_beyond: newest.map_or(0.0, |(y, w)| beyond(y, w / 2.0, part.limits)),
    })
}

fn prior(part: &Part) -> Result<Prior, CalcError> {
    let limits = part.limits;
    let least = limits.lower().unwrap_or(-1e9);
    let most = limits.upper().unwrap_or(1e9);
    let new = within("y₀", part.new, least, most)?;
    let spread = within("k", part.prior_spread, 1e-3, 10.0)?;
    let (start, start_u) = match part.from {
        Some((size, expanded)) => (
            within("y", size, -1e9, 1e9)?,
            within("U", expanded, 1e-9, 1e9)? / 2.0,
        ),
        None => (new, 0.0),
    };
    let Some(stated) = part.life_pulls else {
        return Ok(Prior {
            start,
            start_u,
            rate: 0.0,
            rate_sd: f64::INFINITY,
        });
    };
    let stated = within("n_L", stated, 1.0, MOST_PULLS)?;
    let (rate, rate_sd) = match (limits.lower(), limits.upper()) {
        (Some(l), Some(u)) => (0.0, (new - l).min(u - new) / stated),
        (one, other) => {
            let limit = one.or(other).unwrap_or(new);
            let rate = (limit - new) / stated;
            (rate, spread * rate.abs())
        }
    };
    // A part that is at its limit when new says nothing of how fast it wears.
    if rate_sd <= 0.0 {
        return Err(CalcError::OutOfRange {
            input: "y₀",
            value: new,
            min: least,
            max: most,
        });
    }
    Ok(Prior {
        start,
        start_u,
        rate,
        rate_sd,
    })
}

/// P(a size known to be `y` with standard uncertainty `u` lies beyond a limit).
fn beyond(y: f64, u: f64, limits: Limits) -> f64 {
    let share = |past: f64| match u > 0.0 {
        true => below(past / u),
        false => f64::from(u8::from(past > 0.0)),
    };
    let above = limits.upper().map_or(0.0, |limit| share(y - limit));
    let under = limits.lower().map_or(0.0, |limit| share(limit - y));
    (above + under).min(1.0)
}

impl Life {
    /// Size after `pulls`, by the line, with its standard uncertainty.
    pub fn at(&self, pulls: f64) -> (f64, f64) {
        let (aa, bb, ab) = self.cov;
        let variance = aa + 2.0 * pulls * ab + pulls * pulls * bb;
        (self.start + self.rate * pulls, variance.max(0.0).sqrt())
    }

    /// Probability that the part is beyond a limit after `pulls` since counting began.
    pub fn beyond_at(&self, pulls: f64) -> f64 {
        let (y, u) = self.at(pulls);
        beyond(y, u, self.limits).max(self.newest_beyond)
    }

    /// Probability that it is beyond a limit now.
    pub fn beyond_now(&self) -> f64 {
        self.beyond_at(self.pulls)
    }

    /// Probability that it is beyond a limit when `pulls` more were made.
    pub fn beyond_after(&self, pulls: f64) -> f64 {
        self.beyond_at(self.pulls + pulls)
    }

    /// Pulls after which it is beyond a limit with probability `share`; infinite where that is never.
    ///
    /// # Errors
    /// A share outside 0 to 1, both ends excluded.
    pub fn pulls_until(&self, share: f64) -> Result<f64, CalcError> {
        let share = within("p", share, f64::MIN_POSITIVE, 1.0 - f64::EPSILON)?;
        if self.beyond_now() >= share {
            return Ok(0.0);
        }
        if self.beyond_after(MOST_PULLS) < share {
            return Ok(f64::INFINITY);
        }
        Ok(bisect(0.0, MOST_PULLS, |m| self.beyond_after(m) < share))
    }

    /// Pulls that are left: as likely more as less. 0 where the newest reading lies beyond a limit.
    ///
    /// # Errors
    /// None that is not a mistake here.
    pub fn left(&self) -> Result<f64, CalcError> {
        self.pulls_until(0.5)
    }

    /// Between how many and how many pulls the life ends with probability `level`.
    ///
    /// # Errors
    /// A level outside 0 to 1, both ends excluded.
    pub fn interval(&self, level: f64) -> Result<(f64, f64), CalcError> {
        let level = within("level", level, f64::MIN_POSITIVE, 1.0 - f64::EPSILON)?;
        let low = self.pulls_until(f64::midpoint(1.0, -level))?;
        Ok((low, self.pulls_until(f64::midpoint(1.0, level))?))
    }

    /// Whether a reading lies so far off the line that something else is going on.
    pub fn is_off_the_line(&self) -> bool {
        self.misfit > OFF_THE_LINE
    }
}
