//! How near a computed value must come.

use serde::Deserialize;

/// How near: within `abs`, or within `rel` of the expected value. Neither means equal.
#[derive(Clone, Copy, Debug, Default, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Near {
    /// Largest difference.
    pub abs: Option<f64>,
    /// Largest difference as a share of the expected value.
    pub rel: Option<f64>,
}

impl Near {
    /// Whether `computed` comes near enough to `expected`.
    pub fn holds(self, expected: f64, computed: f64) -> bool {
        if expected == computed {
            return true;
        }
        // NaN is near to nothing.
        let off = (computed - expected).abs();
        self.abs.is_some_and(|abs| off <= abs)
            || self
                .rel
                .is_some_and(|rel| expected.is_finite() && off <= rel * expected.abs())
    }

    /// How far off `computed` is, in units of what is allowed; above 1 is too far.
    pub(crate) fn strain(self, expected: f64, computed: f64) -> f64 {
        if expected == computed {
            return 0.0;
        }
        let abs = self.abs.unwrap_or(0.0);
        let rel = self.rel.unwrap_or(0.0) * expected.abs();
        (computed - expected).abs() / abs.max(rel)
    }

    /// In signs: `± 0.005`, `× 1e-9`, `=`.
    pub fn signs(self) -> String {
        let abs = self.abs.map(|abs| format!("± {abs}"));
        let rel = self.rel.map(|rel| format!("× {rel:e}"));
        match (abs, rel) {
            (Some(abs), Some(rel)) => format!("{abs}, {rel}"),
            (Some(one), None) | (None, Some(one)) => one,
            (None, None) => "=".to_owned(),
        }
    }

    fn is_sound(self) -> bool {
        let sound = |x: f64| x.is_finite() && x >= 0.0;
        self.abs.is_none_or(sound) && self.rel.is_none_or(sound)
    }
}

/// How near each value of a case must come.
#[derive(Clone, Debug, Default, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tolerance {
    /// Largest difference, for all values that have none of their own.
    pub abs: Option<f64>,
    /// Largest difference as a share of the expected value, likewise.
    pub rel: Option<f64>,
    /// By the name of a value, inner ones with a point: `bases.fill_rate`.
    #[serde(default)]
    pub keys: std::collections::BTreeMap<String, Near>,
}

impl Tolerance {
    /// What holds for the value at `path`, whose list places are left out.
    pub fn at(&self, path: &str) -> Near {
        let plain: String = path
            .split('[')
            .map(|part| part.split_once(']').map_or(part, |(_, rest)| rest))
            .collect();
        let covers = |key: &str| {
            plain
                .strip_prefix(key)
                .is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
        };
        let own = self.keys.iter().filter(|(key, _)| covers(key));
        own.max_by_key(|(key, _)| key.len())
            .map_or(self.general(), |(_, near)| *near)
    }

    pub(crate) fn is_sound(&self) -> bool {
        self.general().is_sound() && self.keys.values().all(|near| near.is_sound())
    }

    fn general(&self) -> Near {
        Near {
            abs: self.abs,
            rel: self.rel,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(abs: Option<f64>, rel: Option<f64>) -> Near {
        Near { abs, rel }
    }

    #[test]
    fn absolute_or_relative_or_equal() {
        assert!(near(Some(0.005), None).holds(26.09, 26.0869));
        assert!(!near(Some(0.005), None).holds(26.09, 26.08));
        assert!(near(None, Some(1e-3)).holds(1000.0, 1000.9));
        assert!(!near(None, Some(1e-3)).holds(0.0, 1e-12));
        assert!(near(None, None).holds(3.0, 3.0));
        assert!(!near(None, None).holds(3.0, 3.000_000_1));
        assert!(!near(Some(1.0), Some(1.0)).holds(1.0, f64::NAN));
        assert!(near(None, None).holds(f64::INFINITY, f64::INFINITY));
        assert!(!near(Some(1e9), Some(1.0)).holds(f64::INFINITY, 5.0));
    }

    #[test]
    fn the_nearest_name_rules() {
        let keys = [
            ("bases".to_owned(), near(Some(1.0), None)),
            ("bases.ebo".to_owned(), near(Some(2.0), None)),
        ];
        let tolerance = Tolerance {
            abs: Some(0.5),
            rel: None,
            keys: keys.into(),
        };
        assert_eq!(tolerance.at("bases[2].ebo").abs, Some(2.0));
        assert_eq!(tolerance.at("bases[2].rate").abs, Some(1.0));
        assert_eq!(tolerance.at("basestock").abs, Some(0.5));
        assert_eq!(tolerance.at("total").abs, Some(0.5));
    }
}
