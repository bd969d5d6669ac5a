//! Filters for recorded series: noise goes, places in time stay.
//!
//! A filter hides: what it is and what the raw value was is always told beside a filtered one.
//!
//! # Source
//! Each file names its own.

pub mod butterworth;
pub mod savitzky_golay;
pub mod zero_phase;

use crate::CalcError;
use crate::error::within;

/// Largest value of a series that is still taken: beyond, squares and sums lose all digits.
pub(crate) const LARGEST: f64 = 1e12;

/// Refuses a series with a value that is not finite or beyond [`LARGEST`].
pub(crate) fn sound(input: &'static str, values: &[f64]) -> Result<(), CalcError> {
    for value in values {
        within(input, *value, -LARGEST, LARGEST)?;
    }
    Ok(())
}

/// The values at some places.
///
/// # Errors
/// A place behind the end.
pub fn at(values: &[f64], places: &[u64]) -> Result<Vec<f64>, CalcError> {
    let last = values.len().saturating_sub(1);
    let pick = |place: &u64| {
        let found = usize::try_from(*place).ok().and_then(|i| values.get(i));
        found.copied().ok_or(CalcError::OutOfRange {
            input: "i",
            value: *place as f64,
            min: 0.0,
            max: last as f64,
        })
    };
    places.iter().map(pick).collect()
}
