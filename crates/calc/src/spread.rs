//! How far repeated readings lie apart, as a share of their mean.
//!
//! # Formula
//! d = (max − min) / |mean| · 100 %.
//!
//! # Source
//! Sample range, ISO 3534-1:2006, 2.10, over the mean; check value by hand.

use crate::Message;
use crate::error::{CalcError, within};
use crate::units::Unit;
use crate::working::{Method, Working};

/// This method.
pub const METHOD: Method = Method {
    name: "relative-range",
    version: 1,
    source: "sample range (ISO 3534-1:2006, 2.10) over the mean",
};

/// The range of `values` in percent of their mean.
///
/// # Errors
/// Fewer than two values, one that is not finite, a mean of 0.
pub fn percent(values: &[f64]) -> Result<f64, CalcError> {
    if values.len() < 2 {
        return Err(CalcError::TooFew {
            input: "x",
            have: values.len(),
            need: 2,
        });
    }
    for value in values {
        within("x", *value, -1e12, 1e12)?;
    }
    let (low, high) = ends(values);
    let mean = values.iter().sum::<f64>() / values.len() as f64;
    let mean = within("x̄", mean.abs(), 1e-12, 1e12)?;
    Ok((high - low) / mean * 100.0)
}

fn ends(values: &[f64]) -> (f64, f64) {
    let low = values.iter().copied().fold(f64::INFINITY, f64::min);
    let high = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    (low, high)
}

/// From the ends to the range; `None` where there is none.
pub fn working(values: &[f64], unit: Unit, decimals: usize) -> Option<Working> {
    let d = percent(values).ok()?;
    let (low, high) = ends(values);
    let mean = values.iter().sum::<f64>() / values.len() as f64;
    let symbol = unit.symbol();
    Some(
        Working::new(METHOD)
            .given(
                "x_max",
                Message::new("given-highest"),
                high,
                decimals,
                symbol,
            )
            .given("x_min", Message::new("given-lowest"), low, decimals, symbol)
            .given("x̄", Message::new("given-mean"), mean, decimals + 2, symbol)
            .step("d", "(x_max − x_min) / x̄ · 100", d, 1, "%"),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn by_hand() {
        // 86, 88, 88, 88, 92: range 6, mean 88.4, so 6.787 %. 32.11 to 31.90 about 32.01: 0.656 %.
        let d = percent(&[86.0, 88.0, 88.0, 88.0, 92.0]).expect("five");
        assert!((d - 6.787_330_3).abs() < 1e-6, "{d}");
        let d = percent(&[32.11, 31.90, 32.04, 31.92, 32.08]).expect("five");
        assert!((d - 0.656_044_99).abs() < 1e-6, "{d}");
        assert_eq!(percent(&[-2.0, -4.0]), percent(&[2.0, 4.0]));
    }

    #[test]
    fn refusals() {
        assert!(matches!(
            percent(&[1.0]),
            Err(CalcError::TooFew { have: 1, .. })
        ));
        assert!(percent(&[1.0, f64::NAN]).is_err());
        assert!(percent(&[1.0, -1.0]).is_err());
        assert_eq!(working(&[1.0], Unit::Millimetre, 2), None);
    }

    proptest! {
        #[test]
        fn neither_order_nor_scale_matters(values in prop::collection::vec(1.0..9.0f64, 2..9), by in 0.5..50.0f64) {
            let d = percent(&values).expect("good");
            let mut other: Vec<f64> = values.iter().map(|v| v * by).collect();
            other.reverse();
            prop_assert!(d >= 0.0 && (percent(&other).expect("good") - d).abs() < 1e-9);
        }
    }
}
