//! The energy of one pull, and what the drive draws for it.
//!
//! # Formula
//! W = F · s · c, c the mean force over the peak: 1 where the force is the same all along, 1/2 where it rises
//! evenly from nothing. Drawn: W / η.
//!
//! # Validity
//! A pull whose mean force is known or guessed; c = 1 is never too little. The energy of a recorded pull is the
//! area under its curve.
//!
//! # Source
//! Definition of work.

use crate::Message;
use crate::error::{CalcError, within};
use crate::working::{Method, Working};

/// This method.
pub const METHOD: Method = Method {
    name: "pull-work",
    version: 1,
    source: "definition of work",
};

/// One pull.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pull {
    /// Peak force, N.
    pub peak_n: f64,
    /// Stroke under load, mm.
    pub stroke_mm: f64,
    /// Mean force over peak force.
    pub fullness: f64,
    /// Share of what the drive draws that reaches the fastener.
    pub efficiency: f64,
}

/// What it takes, J.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Work {
    /// At the fastener.
    pub pull_j: f64,
    /// Drawn by the drive.
    pub drawn_j: f64,
}

/// The work of `pull`.
///
/// # Errors
/// A force, stroke, fullness or efficiency that is not above 0, a fullness or efficiency above 1.
pub fn work(pull: &Pull) -> Result<Work, CalcError> {
    let peak = within("F", pull.peak_n, 1e-6, 1e9)?;
    let stroke = within("s", pull.stroke_mm, 1e-6, 1e6)? / 1000.0;
    let fullness = within("c", pull.fullness, 1e-6, 1.0)?;
    let efficiency = within("η", pull.efficiency, 1e-6, 1.0)?;
    let pull_j = peak * stroke * fullness;
    Ok(Work {
        pull_j,
        drawn_j: pull_j / efficiency,
    })
}

/// The working of [`work`].
///
/// # Errors
/// As [`work`].
pub fn working(pull: &Pull) -> Result<Working, CalcError> {
    let found = work(pull)?;
    let given = |id: &'static str| Message::new(id);
    Ok(Working::new(METHOD)
        .given("F", given("given-peak"), pull.peak_n / 1000.0, 2, "kN")
        .given("s", given("given-stroke-length"), pull.stroke_mm, 2, "mm")
        .given("c", given("given-fullness"), pull.fullness, 2, "")
        .given("η", given("given-efficiency"), pull.efficiency, 2, "")
        .step("W", "F · s · c", found.pull_j, 1, "J")
        .step("E", "W / η", found.drawn_j, 1, "J"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const PULL: Pull = Pull {
        peak_n: 24_000.0,
        stroke_mm: 12.0,
        fullness: 0.6,
        efficiency: 0.55,
    };

    #[test]
    fn a_pull_by_hand() {
        // 24 kN over 12 mm, six tenths full: 172.8 J; at 55 %: 314.2 J.
        let found = work(&PULL).expect("good");
        assert!((found.pull_j - 172.8).abs() < 1e-9);
        assert!((found.drawn_j - 314.181_818_181_818).abs() < 1e-9);
    }

    #[test]
    fn refusals() {
        for bad in [
            Pull {
                peak_n: 0.0,
                ..PULL
            },
            Pull {
                stroke_mm: f64::NAN,
                ..PULL
            },
            Pull {
                fullness: 1.01,
                ..PULL
            },
            Pull {
                efficiency: 0.0,
                ..PULL
            },
            Pull {
                stroke_mm: f64::INFINITY,
                ..PULL
            },
        ] {
            assert!(work(&bad).is_err() && working(&bad).is_err(), "{bad:?}");
        }
    }

    proptest! {
        #[test]
        fn never_more_than_peak_times_stroke(c in 0.01..1.0f64, e in 0.01..1.0f64) {
            let found = work(&Pull { fullness: c, efficiency: e, ..PULL }).expect("good");
            prop_assert!(found.pull_j <= PULL.peak_n * PULL.stroke_mm / 1000.0);
            prop_assert!(found.drawn_j >= found.pull_j);
        }
    }
}
