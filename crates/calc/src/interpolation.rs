//! Straight-line interpolation in a table; outside the table it refuses.
//!
//! # Formula
//! y = y₁ + (x − x₁)·(y₂ − y₁)/(x₂ − x₁) between neighbouring rows.
//!
//! # Source
//! Any textbook; check values: `numpy.interp` 2.4.6.

use crate::error::{CalcError, within};
use crate::working::Method;

/// This method.
pub const METHOD: Method = Method {
    name: "table-straight-line",
    version: 1,
    source: "straight line between neighbouring rows of the sheet's table",
};

/// The two rows that a value lies between, and what the line gives there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Between {
    /// Row at or below.
    pub below: (f64, f64),
    /// Row above.
    pub above: (f64, f64),
    /// Interpolated value.
    pub value: f64,
    /// Slope of the line there.
    pub slope: f64,
}

/// The value at `x` of the table `rows` (first column strictly increasing).
///
/// # Errors
/// Fewer than two rows, a first column that does not increase, or `x` outside the table.
pub fn linear(rows: &[(f64, f64)], x: f64) -> Result<Between, CalcError> {
    if rows.len() < 2 {
        return Err(CalcError::TooFew {
            input: "rows",
            have: rows.len(),
            need: 2,
        });
    }
    for (i, pair) in rows.windows(2).enumerate() {
        // Written so that NaN counts as "does not increase".
        if pair[1].0.partial_cmp(&pair[0].0) != Some(std::cmp::Ordering::Greater) {
            return Err(CalcError::NotIncreasing { row: i + 2 });
        }
    }
    let x = within("x", x, rows[0].0, rows[rows.len() - 1].0)?;
    let upper = rows.partition_point(|row| row.0 < x).max(1);
    let (below, above) = (rows[upper - 1], rows[upper]);
    let slope = (above.1 - below.1) / (above.0 - below.0);
    Ok(Between {
        below,
        above,
        value: below.1 + (x - below.0) * slope,
        slope,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const ROWS: [(f64, f64); 5] = [
        (0.0, 0.0),
        (5.0, 1.2),
        (10.0, 2.9),
        (20.0, 3.1),
        (40.0, 3.0),
    ];

    #[test]
    fn matches_numpy_inside_and_refuses_outside() {
        // numpy 2.4.6, np.interp on the same table.
        for (x, y) in [
            (0.0, 0.0),
            (2.5, 0.6),
            (5.0, 1.2),
            (17.0, 3.04),
            (40.0, 3.0),
        ] {
            let got = linear(&ROWS, x).expect("inside").value;
            assert!((got - y).abs() <= 1e-12, "{x}: {got}");
        }
        for x in [-1.0, 50.0, f64::NAN] {
            assert!(linear(&ROWS, x).is_err());
        }
    }

    #[test]
    fn a_table_needs_two_rising_rows() {
        assert!(linear(&ROWS[..1], 0.0).is_err());
        assert_eq!(
            linear(&[(0.0, 1.0), (2.0, 2.0), (2.0, 3.0)], 1.0),
            Err(CalcError::NotIncreasing { row: 3 })
        );
        assert!(linear(&[(0.0, 1.0), (f64::NAN, 2.0)], 0.0).is_err());
    }

    proptest! {
        #[test]
        fn rows_come_back_and_values_stay_between(x in 0.0..40.0f64) {
            for row in ROWS {
                prop_assert!((linear(&ROWS, row.0).expect("row").value - row.1).abs() < 1e-12);
            }
            let b = linear(&ROWS, x).expect("inside");
            let (low, high) = (b.below.1.min(b.above.1), b.below.1.max(b.above.1));
            prop_assert!(low - 1e-12 <= b.value && b.value <= high + 1e-12);
        }
    }
}
