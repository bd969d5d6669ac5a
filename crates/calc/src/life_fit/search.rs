//! The largest likelihood: Newton's steps on a function that is concave, halved while they do not climb.

use super::likelihood::{Family, Place};
use crate::error::CalcError;

/// Steps before it is given up.
const MOST_STEPS: usize = 200;
/// Beyond this 1/σ the times of failure are as good as equal.
const STEEPEST: f64 = 1e8;

/// A place on the likelihood, by a = 1/σ and b = μ/σ.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Peak {
    pub(super) a: f64,
    pub(super) b: f64,
    pub(super) value: f64,
    /// Information: aa, ab, bb.
    pub(super) information: [f64; 3],
}

/// Value, gradient and information at one place. The density is that over the logarithm of time.
struct Here {
    value: f64,
    gradient: [f64; 2],
    information: [f64; 3],
}

fn here(rows: &[(Place, f64)], family: Family, a: f64, b: f64) -> Here {
    let mut found = Here {
        value: 0.0,
        gradient: [0.0; 2],
        information: [0.0; 3],
    };
    for (place, count) in rows {
        let term = family.term(place, |x| a * x - b);
        let times = match *place {
            Place::At(x) | Place::After(x) | Place::Before(x) => [x, x],
            Place::Between(low, high) => [low, high],
        };
        found.value += count * term.value;
        let [first, mixed, second] = term.curvature;
        let [x, y] = times;
        let [s, t] = term.slope;
        // z moves by x with a and by −1 with b.
        found.gradient[0] += count * (s * x + t * y);
        found.gradient[1] -= count * (s + t);
        found.information[0] -= count * (first * x * x + 2.0 * mixed * x * y + second * y * y);
        found.information[1] += count * (first * x + mixed * (x + y) + second * y);
        found.information[2] -= count * (first + 2.0 * mixed + second);
        if matches!(place, Place::At(_)) {
            found.value += count * a.ln();
            found.gradient[0] += count / a;
            found.information[0] += count / (a * a);
        }
    }
    found
}

/// Where the search begins: middle and width of all times.
fn start(rows: &[(Place, f64)], family: Family) -> (f64, f64) {
    let all: f64 = rows.iter().map(|r| r.1).sum();
    let middle = rows
        .iter()
        .map(|(p, count)| count * p.middle())
        .sum::<f64>()
        / all;
    if family == Family::Exponential {
        return (1.0, middle);
    }
    let squares = rows
        .iter()
        .map(|(p, count)| count * (p.middle() - middle).powi(2));
    let width = (squares.sum::<f64>() / all).sqrt().max(1e-6);
    (1.0 / width, middle / width)
}

/// The largest likelihood.
pub(super) fn largest(rows: &[(Place, f64)], family: Family) -> Result<Peak, CalcError> {
    let nowhere = CalcError::NotFinite { input: "σ" };
    let (mut a, mut b) = start(rows, family);
    let mut now = here(rows, family, a, b);
    for _ in 0..MOST_STEPS {
        let [g_a, g_b] = now.gradient;
        let [aa, ab, bb] = now.information;
        let (step_a, step_b) = if family == Family::Exponential {
            (0.0, g_b / bb)
        } else {
            let determinant = aa * bb - ab * ab;
            if determinant > 0.0 {
                (
                    (bb * g_a - ab * g_b) / determinant,
                    (aa * g_b - ab * g_a) / determinant,
                )
            } else {
                (g_a / aa.max(1.0), g_b / bb.max(1.0))
            }
        };
        if !(step_a.is_finite() && step_b.is_finite()) {
            return Err(nowhere);
        }
        let gain = g_a * step_a + g_b * step_b;
        let mut size = 1.0;
        let mut next = None;
        for _ in 0..60 {
            let (to_a, to_b) = (a + size * step_a, b + size * step_b);
            if to_a > 0.0 {
                let there = here(rows, family, to_a, to_b);
                // A step that climbs, or that moves no digit any more.
                if there.value.is_finite() && there.value >= now.value - 1e-13 * now.value.abs() {
                    next = Some((to_a, to_b, there));
                    break;
                }
            }
            size /= 2.0;
        }
        let Some((to_a, to_b, there)) = next else {
            return Err(nowhere);
        };
        (a, b, now) = (to_a, to_b, there);
        if a > STEEPEST {
            return Err(nowhere);
        }
        if gain.abs() < 1e-20 * (1.0 + now.value.abs()) || (size == 1.0 && gain.abs() < 1e-18) {
            return Ok(Peak {
                a,
                b,
                value: now.value,
                information: now.information,
            });
        }
    }
    Err(nowhere)
}

/// A line on which a likelihood is sought: a free and b = `slope` · a − `shift`, or a fixed and b free.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Line {
    Through { slope: f64, shift: f64 },
    Fixed(f64),
}

impl Line {
    /// σ fixed.
    pub(super) fn fixed(a: f64) -> Self {
        Self::Fixed(a)
    }

    /// μ + `shift` · σ fixed at `slope`.
    pub(super) fn through(slope: f64, shift: f64) -> Self {
        Self::Through { slope, shift }
    }
}

/// The largest value on `line`, from near `from`; −∞ where none is found.
pub(super) fn largest_on(
    rows: &[(Place, f64)],
    family: Family,
    line: Line,
    from: (f64, f64),
) -> f64 {
    if let (Family::Exponential, Line::Through { slope, shift }) = (family, line) {
        let found = here(rows, family, 1.0, slope - shift).value;
        return if found.is_finite() {
            found
        } else {
            f64::NEG_INFINITY
        };
    }
    let place = |s: f64| match line {
        Line::Through { slope, shift } => (s, slope * s - shift),
        Line::Fixed(a) => (a, s),
    };
    let direction = match line {
        Line::Through { slope, .. } => (1.0, slope),
        Line::Fixed(_) => (0.0, 1.0),
    };
    let at = |s: f64| {
        let (a, b) = place(s);
        here(rows, family, a, b)
    };
    let mut s = match line {
        Line::Through { .. } => from.0,
        // The same middle at another width.
        Line::Fixed(a) => from.1 / from.0 * a,
    };
    let mut now = at(s);
    // Off the peak e^z can be beyond all numbers: nearer to flat it is not.
    for _ in 0..60 {
        if now.value.is_finite() {
            break;
        }
        let Line::Through { .. } = line else { break };
        s /= 2.0;
        now = at(s);
    }
    if !now.value.is_finite() {
        return f64::NEG_INFINITY;
    }
    for _ in 0..MOST_STEPS {
        let (u, v) = direction;
        let slope = now.gradient[0] * u + now.gradient[1] * v;
        let [aa, ab, bb] = now.information;
        let bend = aa * u * u + 2.0 * ab * u * v + bb * v * v;
        let step = if bend > 0.0 { slope / bend } else { slope };
        if !step.is_finite() {
            break;
        }
        let mut size = 1.0;
        let mut next = None;
        for _ in 0..60 {
            let to = s + size * step;
            if matches!(line, Line::Fixed(_)) || to > 0.0 {
                let there = at(to);
                if there.value.is_finite() && there.value >= now.value {
                    next = Some((to, there));
                    break;
                }
            }
            size /= 2.0;
        }
        let Some((to, there)) = next else { break };
        let climbed = there.value - now.value;
        (s, now) = (to, there);
        if climbed < 1e-12 {
            break;
        }
    }
    now.value
}
