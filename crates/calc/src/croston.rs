//! Demand for a part that is asked for now and then: Croston's forecast.
//!
//! # Formula
//! At each demand: size z += α · (y − z), interval p += α · (periods since the last demand − p); both start at the first demand
//! and its place. Forecast per period z / p; corrected (1 − α / 2) · z / p.
//!
//! # Validity
//! Demand without a trend. The plain forecast is too high on average, the corrected one nearly right.
//!
//! # Source
//! Croston, Operational Research Quarterly 23(3), 1972; Syntetos and Boylan, International Journal of Forecasting 21(2), 2005
//! (both from memory). Check values: statsforecast 2.1.1.

use crate::Message;
use crate::error::{CalcError, within};
use crate::working::{Method, Working};

/// This method.
pub const METHOD: Method = Method {
    name: "croston-demand",
    version: 1,
    source: "Croston (1972); Syntetos and Boylan (2005), from memory",
};

/// A forecast.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Forecast {
    /// Size of a demand.
    pub size: f64,
    /// Periods from one demand to the next.
    pub interval: f64,
    /// Smoothing α.
    pub smoothing: f64,
}

impl Forecast {
    /// Demand per period, plain.
    pub fn plain(&self) -> f64 {
        self.size / self.interval
    }

    /// Demand per period, corrected for its bias.
    pub fn corrected(&self) -> f64 {
        (1.0 - self.smoothing / 2.0) * self.plain()
    }
}

/// The forecast after `demand`, one value a period.
///
/// # Errors
/// No demand at all, one below 0 or not finite, a smoothing outside 0 to 1 (0 excluded).
pub fn forecast(demand: &[f64], smoothing: f64) -> Result<Forecast, CalcError> {
    let smoothing = within("α", smoothing, 1e-9, 1.0)?;
    for y in demand {
        within("y", *y, 0.0, 1e15)?;
    }
    let mut found: Option<Forecast> = None;
    let mut since = 0.0;
    for y in demand {
        since += 1.0;
        if *y <= 0.0 {
            continue;
        }
        found = Some(match found {
            None => Forecast {
                size: *y,
                interval: since,
                smoothing,
            },
            Some(f) => Forecast {
                size: f.size + smoothing * (y - f.size),
                interval: f.interval + smoothing * (since - f.interval),
                smoothing,
            },
        });
        since = 0.0;
    }
    found.ok_or(CalcError::TooFew {
        input: "y",
        have: 0,
        need: 1,
    })
}

/// From size and interval to the forecast.
pub fn working(f: &Forecast) -> Working {
    Working::new(METHOD)
        .given("z", Message::new("given-demand-size"), f.size, 4, "")
        .given(
            "p",
            Message::new("given-demand-interval"),
            f.interval,
            4,
            "",
        )
        .given("α", Message::new("given-smoothing"), f.smoothing, 3, "")
        .step("y", "z / p", f.plain(), 4, "")
        .step("y_c", "(1 − α / 2) · z / p", f.corrected(), 4, "")
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn by_hand() {
        // 0, 4, 0, 0, 8 with α = 0.5: z 4 then 6, p 2 then 2.5: 2.4, corrected 1.8.
        let f = forecast(&[0.0, 4.0, 0.0, 0.0, 8.0], 0.5).expect("good");
        assert_eq!((f.size, f.interval), (6.0, 2.5));
        assert!((f.plain() - 2.4).abs() < 1e-15 && (f.corrected() - 1.8).abs() < 1e-15);
    }

    #[test]
    fn refusals() {
        assert!(forecast(&[], 0.1).is_err());
        assert!(forecast(&[0.0, 0.0], 0.1).is_err());
        assert!(forecast(&[1.0, -1.0], 0.1).is_err());
        assert!(forecast(&[1.0, f64::NAN], 0.1).is_err());
        for smoothing in [0.0, 1.1, f64::NAN] {
            assert!(forecast(&[1.0], smoothing).is_err());
        }
    }

    proptest! {
        #[test]
        fn steady_demand_is_foretold(y in 0.1..50.0f64, gap in 1usize..6, n in 1usize..8, a in 0.01..1.0f64) {
            let demand: Vec<f64> = (1..=gap * n).map(|i| if i % gap == 0 { y } else { 0.0 }).collect();
            let f = forecast(&demand, a).expect("good");
            prop_assert!((f.plain() - y / gap as f64).abs() < 1e-9);
        }
    }
}
