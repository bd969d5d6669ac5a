//! How likely each cause makes the readings.
//!
//! # Source
//! Convolution of uniform and normal densities, as the method's own page states it; sizes are common
//! practice, no source, washers as ISO 7089 from M5 to M12 (from memory).

use super::{Cause, Measured};
use crate::blurred_uniform::{Span, density};
use crate::error::{CalcError, within};
use crate::normal::between;
use crate::stack::Grip;

/// How pins of one carton and their seating differ, standard deviation, mm (common practice, no
/// source).
pub(super) const PIN_TO_PIN_MM: f64 = 0.10;
/// How the middle of a carton lies off its nominal length, standard deviation, mm (common practice,
/// no source).
pub(super) const LOT_MM: f64 = 0.10;
/// What readings that nothing explains differ by, standard deviation, mm.
const ANYHOW_MM: f64 = 1.0;
/// Stick-outs over which an unknown cause may lie anywhere, mm.
const ANYWHERE_MM: f64 = 40.0;
/// Washers: from where to where, mm.
const WASHER: Span = (1.0, 2.5);
/// Collars: from where to where, mm.
const COLLAR: Span = (4.0, 20.0);
/// How often it is a washer rather than a collar.
const WASHER_SHARE: f64 = 2.0 / 3.0;
/// How far a stack may lie off what was stated, mm.
const STACK_OFF_MM: f64 = 4.0;
/// The place of the code `steps` beside the one written down.
pub(super) fn beside(m: &Measured, steps: i32) -> Option<usize> {
    let at = i32::try_from(m.code).ok()?.checked_add(steps)?;
    let at = usize::try_from(at).ok()?;
    (at < m.grips.len()).then_some(at)
}

/// How much longer the pin of the code `steps` beside is.
fn longer_mm(m: &Measured, steps: i32) -> Option<f64> {
    let other = m.grips.get(beside(m, steps)?)?;
    Some(other.middle_mm() - m.grips.get(m.code)?.middle_mm())
}

/// Where the stick-out lies if nothing is wrong.
pub(super) struct Base {
    /// Ends, mm; the same where the stack is known.
    pub(super) span: Span,
    /// Standard uncertainty that all pins share.
    pub(super) standard: f64,
}

pub(super) fn base(m: &Measured) -> Result<Base, CalcError> {
    let grip = written(m)?;
    let low = within("L", m.band_mm.0, -1e4, 1e4)?;
    let high = within("U", m.band_mm.1, low, 1e4)?;
    let gauge = within("u_g", m.gauge_mm, 0.0, 1e3)?;
    let shared = LOT_MM.hypot(gauge);
    Ok(match m.stack {
        None => Base {
            span: (low, high),
            standard: shared,
        },
        Some(stack) => {
            let t = within("t", stack.value_mm, 0.0, 1e4)?;
            let u = within("u_t", stack.standard_mm, 0.0, 1e3)?;
            let stands_out = grip.middle_mm() + f64::midpoint(low, high) - t;
            Base {
                span: (stands_out, stands_out),
                standard: shared.hypot(u),
            }
        }
    })
}

pub(super) fn written<'a>(m: &Measured<'a>) -> Result<&'a Grip, CalcError> {
    m.grips.get(m.code).ok_or(CalcError::OutOfRange {
        input: "c",
        value: m.code as f64,
        min: 0.0,
        max: m.grips.len().saturating_sub(1) as f64,
    })
}

impl Base {
    pub(super) fn log_likelihood(&self, m: &Measured, cause: Cause, suits_code: f64) -> f64 {
        let x = m.readings_mm;
        let all = |shift: Span| self.pins(x, shift, PIN_TO_PIN_MM);
        // On every pin alike, or on one of them.
        let all_or_one = |shift: Span| {
            if x.len() == 1 {
                return all(shift);
            }
            0.5 * all(shift) + 0.5 * self.one_off(x, shift)
        };
        let still = (0.0, 0.0);
        let likelihood = match cause {
            Cause::AsItShould => all(still),
            Cause::NotClamped => all((-3.0, -0.5)),
            Cause::HeadNotSeated => all_or_one((-1.0, -0.2)),
            Cause::RodAside => 0.5 * (all_or_one((-0.8, -0.2)) + all_or_one((0.2, 0.8))),
            Cause::LeftOn => {
                let back = |span: Span| (-span.1, -span.0);
                WASHER_SHARE * all(back(WASHER)) + (1.0 - WASHER_SHARE) * all(back(COLLAR))
            }
            Cause::LayerMissing => all(WASHER),
            Cause::WrongPin(k) => all(twice(longer_mm(m, k))),
            // The stack says itself that it is another code's: nothing is left to move.
            Cause::WrongCode(_) if m.stack.is_some() => all(still),
            Cause::WrongCode(k) => {
                let of_stack = longer_mm(m, -k).map(|l| -l);
                all(twice(of_stack.or_else(|| longer_mm(m, k))))
            }
            Cause::MixedCarton => self.mixed(m),
            Cause::StackDiffers => self.stack_differs(m, suits_code),
            Cause::Other => {
                let mean = 1.0 / ANYWHERE_MM;
                // In logarithms: far apart enough, every plain number is 0.
                let near = log_scatter(x, PIN_TO_PIN_MM);
                let far = log_scatter(x, ANYHOW_MM);
                let top = near.max(far);
                let sum = 0.5 * (near - top).exp() + 0.5 * (far - top).exp();
                return top + sum.ln() + mean.ln();
            }
        };
        likelihood.ln()
    }

    /// Likelihood of pins that all moved alike.
    fn pins(&self, x: &[f64], shift: Span, pin_to_pin: f64) -> f64 {
        let n = x.len() as f64;
        let u = self.standard.hypot(pin_to_pin / n.sqrt());
        log_scatter(x, pin_to_pin).exp() * density(mean(x), self.span, shift, u)
    }

    /// Likelihood of a stack that is not the one stated.
    fn stack_differs(&self, m: &Measured, suits_code: f64) -> f64 {
        let x = m.readings_mm;
        let of_stated = suits_code * self.pins(x, (-STACK_OFF_MM, STACK_OFF_MM), PIN_TO_PIN_MM);
        // The code suits the stack that is there: the stick-out lies in the band, and what was stated
        // lies anywhere near the stack instead of anywhere in the grip.
        let u = self.standard.hypot(PIN_TO_PIN_MM / (x.len() as f64).sqrt());
        let off = self.span.0 - mean(x);
        let near = between((off - STACK_OFF_MM) / u, (off + STACK_OFF_MM) / u);
        let wide = m.grips.get(m.code).map_or(0.0, |g| g.max_mm - g.min_mm);
        let in_band = Base {
            span: m.band_mm,
            standard: LOT_MM.hypot(m.gauge_mm),
        };
        let of_real =
            in_band.pins(x, (0.0, 0.0), PIN_TO_PIN_MM) * near * wide / (2.0 * STACK_OFF_MM);
        0.5 * of_stated + 0.5 * of_real
    }

    /// Likelihood of one pin that moved alone, whichever it is.
    fn one_off(&self, x: &[f64], shift: Span) -> f64 {
        let n = x.len() as f64;
        let among = PIN_TO_PIN_MM * (1.0 + 1.0 / (n - 1.0)).sqrt();
        let of = |i: usize| {
            let mut rest = x.to_vec();
            let pin = rest.remove(i);
            let beside_rest = density(pin - mean(&rest), shift, (0.0, 0.0), among);
            self.pins(&rest, (0.0, 0.0), PIN_TO_PIN_MM) * beside_rest
        };
        (0..x.len()).map(of).sum::<f64>() / n
    }

    /// Likelihood of pins of the code written down among those of a neighbour, over every split.
    fn mixed(&self, m: &Measured) -> f64 {
        let x = m.readings_mm;
        let n = x.len();
        let steps: Vec<f64> = [-1, 1]
            .into_iter()
            .filter_map(|k| longer_mm(m, k))
            .collect();
        let splits = (1_u32 << n) - 2;
        let mut sum = 0.0;
        for step in &steps {
            for split in 1..=splits {
                let is_other = |i: usize| split >> i & 1 == 1;
                let moved = |(i, x): (usize, &f64)| if is_other(i) { x - step } else { *x };
                let home: Vec<f64> = x.iter().enumerate().map(moved).collect();
                sum += self.pins(&home, (0.0, 0.0), PIN_TO_PIN_MM);
            }
        }
        sum / f64::from(splits) / steps.len() as f64
    }
}

/// A shift of exactly this much; one that there is not moves nothing into nowhere.
fn twice(shift: Option<f64>) -> Span {
    let shift = shift.unwrap_or(f64::INFINITY);
    (shift, shift)
}

pub(super) fn mean(x: &[f64]) -> f64 {
    x.iter().sum::<f64>() / x.len() as f64
}

/// Logarithm of how likely readings lie about their own mean as they do.
fn log_scatter(x: &[f64], deviation: f64) -> f64 {
    let n = x.len() as f64;
    let mean = mean(x);
    let squares: f64 = x.iter().map(|x| (x - mean).powi(2)).sum();
    let norm = deviation * (2.0 * std::f64::consts::PI).sqrt();
    -squares / (2.0 * deviation.powi(2)) - (n - 1.0) * norm.ln() - 0.5 * n.ln()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scatter_by_hand() {
        // Two pins 0.2 mm apart: SS = 0.02, exp(−0.02 / 0.02) / (0.1 √(2π) √2) = 1.037 768.
        let got = log_scatter(&[26.0, 26.2], 0.1).exp();
        assert!((got - 1.037_768).abs() < 1e-6, "{got}");
        // One pin does not scatter.
        assert!(log_scatter(&[26.0], 0.1).abs() < 1e-12);
    }
}
