//! The working of an explanation: what went in, and the first few causes against all.
//!
//! # Source
//! Bayes' theorem, as the method's own page states it.

use super::likelihood::{LOT_MM, PIN_TO_PIN_MM, base, mean};
use super::{METHOD, Measured, Weighed, count, expected, weigh};
use crate::Message;
use crate::error::CalcError;
use crate::working::{Working, figures};

/// The working of the most likely cause against all others.
///
/// # Errors
/// As [`weigh`].
pub fn working(m: &Measured) -> Result<Working, CalcError> {
    let weighed = weigh(m)?;
    let (stands_out, _) = expected(m)?;
    let base = base(m)?;
    let n = count(m.readings_mm)?;
    let u = base.standard.hypot(PIN_TO_PIN_MM / n.sqrt());
    let mut w = Working::new(METHOD)
        .given(
            "x̄",
            Message::new("given-stick-out"),
            mean(m.readings_mm),
            3,
            "mm",
        )
        .given("n", Message::new("given-count"), n, 0, "")
        .given(
            "σ",
            Message::new("given-pin-to-pin"),
            PIN_TO_PIN_MM,
            2,
            "mm",
        )
        .given("u_l", Message::new("given-lot"), LOT_MM, 2, "mm")
        .given(
            "u_g",
            Message::new("given-gauge-standard"),
            m.gauge_mm,
            4,
            "mm",
        );
    if let (Some(stack), Some(grip)) = (m.stack, m.grips.get(m.code)) {
        let middle = f64::midpoint(m.band_mm.0, m.band_mm.1);
        w = w
            .given("t", Message::new("given-stack"), stack.value_mm, 3, "mm")
            .given(
                "u_t",
                Message::new("given-standard"),
                stack.standard_mm,
                4,
                "mm",
            )
            .given(
                "g_c",
                Message::new("given-grip-middle"),
                grip.middle_mm(),
                3,
                "mm",
            )
            .given("M", Message::new("given-band-middle"), middle, 3, "mm")
            .step("E", "g_c + M − t", stands_out, 3, "mm")
            .step("u", "√(σ² / n + u_l² + u_g² + u_t²)", u, 4, "mm");
    } else {
        w = w
            .given("L", Message::new("given-lower"), m.band_mm.0, 2, "mm")
            .given("U", Message::new("given-upper"), m.band_mm.1, 2, "mm")
            .step("u", "√(σ² / n + u_l² + u_g²)", u, 4, "mm");
    }
    // On a scale on which the most likely one weighs 1.
    let top = weighed
        .first()
        .map_or(0.0, |c| c.prior.ln() + c.log_likelihood);
    let relative = |c: &Weighed| (c.prior.ln() + c.log_likelihood - top).exp();
    let sum: f64 = weighed.iter().map(relative).sum();
    for ((c, weight), (share, formula)) in weighed.iter().zip(WEIGHTS).zip(SHARES) {
        let value = relative(c);
        if value < 1e-4 {
            break;
        }
        w = w.given(weight, c.cause.said(), value, figures(value, 4), "");
        if weight == WEIGHTS[0] {
            w = w.step("Σ", "Σ π_i · f_i", sum, 4, "");
        }
        w = w.step(share, formula, c.probability, 4, "");
    }
    Ok(w.note(Message::new("note-causes")))
}

const WEIGHTS: [&str; 4] = ["π₁f₁", "π₂f₂", "π₃f₃", "π₄f₄"];
const SHARES: [(&str, &str); 4] = [
    ("P₁", "π₁f₁ / Σ"),
    ("P₂", "π₂f₂ / Σ"),
    ("P₃", "π₃f₃ / Σ"),
    ("P₄", "π₄f₄ / Σ"),
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stack::{Grip, Thickness};

    #[test]
    fn the_working_ends_in_the_probability_shown() {
        // Demo story, numbers as in the module above.
        let (low, high) = ([8.7, 11.9], [10.3, 13.5]);
        let grips = [0, 1].map(|i| Grip {
            min_mm: low[i],
            max_mm: high[i],
        });
        let m = Measured {
            readings_mm: &[29.20, 29.20, 29.21],
            gauge_mm: 0.015,
            grips: &grips,
            code: 1,
            band_mm: (25.2, 26.8),
            stack: Some(Thickness {
                value_mm: 9.5,
                standard_mm: 0.15,
            }),
            clamped: false,
        };
        let w = working(&m).expect("good");
        let step = |s: &str| w.steps.iter().find(|x| x.symbol == s).cloned();
        let e = step("E").expect("shown");
        assert_eq!(
            (e.filled.as_str(), e.value.as_str()),
            ("12.700 + 26.000 − 9.500", "29.200")
        );
        let first = weigh(&m).expect("good")[0].probability;
        assert_eq!(step("P₁").map(|s| s.value), Some(format!("{first:.4}")));
        let alone = Measured { stack: None, ..m };
        assert!(
            working(&alone)
                .expect("good")
                .steps
                .iter()
                .all(|s| s.symbol != "E")
        );
    }
}
