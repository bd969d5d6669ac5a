//! Peaks of a series: height, prominence, width.
//!
//! # Formula
//! A peak is higher than what stands on both sides of it; a flat one is told by its middle value, rounded down. Its prominence is
//! its height over the higher of its two bases: the lowest values on the way to higher ground or the end on each side. Its
//! width is taken at half its prominence, between straight lines.
//!
//! # Source
//! Topographic prominence; conventions of `scipy.signal.find_peaks`, against which it is held.

use crate::CalcError;
use crate::error::within;
use crate::filters::sound;
use crate::working::Method;

/// This method.
pub const METHOD: Method = Method {
    name: "peaks",
    version: 1,
    source: "topographic prominence; conventions of scipy.signal.find_peaks",
};

/// A peak.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Peak {
    /// Its place.
    pub index: usize,
    /// Its value.
    pub height: f64,
    /// How far it stands over its higher base.
    pub prominence: f64,
    /// The lowest place on its left, nearest to it.
    pub left_base: usize,
    /// The lowest place on its right, nearest to it.
    pub right_base: usize,
    /// Width at half the prominence, in places.
    pub width_half: f64,
}

/// The place and value of the highest; the first, if several are.
///
/// # Errors
/// No value, or one that is not finite.
pub fn highest(values: &[f64]) -> Result<(usize, f64), CalcError> {
    sound("x", values)?;
    let mut found = None;
    for (i, value) in values.iter().enumerate() {
        if found.is_none_or(|(_, most)| *value > most) {
            found = Some((i, *value));
        }
    }
    found.ok_or(CalcError::TooFew {
        input: "x",
        have: 0,
        need: 1,
    })
}

/// The peaks of `values` that stand out by `least_prominence` at least.
///
/// # Errors
/// A value that is not finite, a prominence below 0.
pub fn peaks(values: &[f64], least_prominence: f64) -> Result<Vec<Peak>, CalcError> {
    let least = within("h", least_prominence, 0.0, 1e300)?;
    sound("x", values)?;
    let mut found = Vec::new();
    let mut i = 1;
    while i + 1 < values.len() {
        let mut end = i;
        if values[i - 1] < values[i] {
            while end + 1 < values.len() && values[end + 1] == values[i] {
                end += 1;
            }
            if end + 1 < values.len() && values[end + 1] < values[i] {
                let peak = peak(values, (i + end) / 2);
                if peak.prominence >= least {
                    found.push(peak);
                }
            }
        }
        i = end + 1;
    }
    Ok(found)
}

fn peak(values: &[f64], index: usize) -> Peak {
    let height = values[index];
    let lowest = |places: &mut dyn Iterator<Item = usize>| {
        let (mut base, mut low) = (index, height);
        for i in places {
            if values[i] > height {
                break;
            }
            if values[i] < low {
                (base, low) = (i, values[i]);
            }
        }
        (base, low)
    };
    let (left_base, left) = lowest(&mut (0..index).rev());
    let (right_base, right) = lowest(&mut (index + 1..values.len()));
    let prominence = height - left.max(right);
    let at = height - prominence / 2.0;
    Peak {
        index,
        height,
        prominence,
        left_base,
        right_base,
        width_half: width(values, index, (left_base, right_base), at),
    }
}

fn width(values: &[f64], index: usize, (left_base, right_base): (usize, usize), at: f64) -> f64 {
    let mut i = index;
    while left_base < i && at < values[i] {
        i -= 1;
    }
    let mut left = i as f64;
    if values[i] < at {
        left += (at - values[i]) / (values[i + 1] - values[i]);
    }
    let mut i = index;
    while i < right_base && at < values[i] {
        i += 1;
    }
    let mut right = i as f64;
    if values[i] < at {
        right -= (at - values[i]) / (values[i - 1] - values[i]);
    }
    right - left
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_triangle_by_hand() {
        let found = peaks(&[0.0, 1.0, 2.0, 1.0, 0.0], 0.0).expect("finite");
        assert_eq!(found.len(), 1);
        assert_eq!((found[0].index, found[0].prominence), (2, 2.0));
        assert_eq!(found[0].width_half, 2.0);
        assert_eq!(peaks(&[0.0, 1.0, 1.0], 0.0), Ok(vec![]));
        assert_eq!(highest(&[1.0, 3.0, 3.0]), Ok((1, 3.0)));
    }

    #[test]
    fn refusals() {
        assert!(peaks(&[0.0, f64::NAN, 0.0], 0.0).is_err());
        assert!(peaks(&[0.0], -1.0).is_err());
        assert!(highest(&[]).is_err());
    }

    proptest! {
        #[test]
        fn none_stands_out_more_than_the_whole_series_is_high(values in prop::collection::vec(-5i32..5, 0..50)) {
            let values: Vec<f64> = values.into_iter().map(f64::from).collect();
            for peak in peaks(&values, 0.5).expect("finite") {
                prop_assert!(peak.prominence >= 0.5 && peak.prominence <= 9.0);
                prop_assert!(peak.left_base < peak.index && peak.index < peak.right_base);
                prop_assert!(peak.width_half > 0.0 && peak.width_half <= values.len() as f64);
            }
        }
    }
}
