//! What is printed beside a gauge bar.

use calc::decision::Limits;
use calc::working::{fixed, places};

use super::GaugeBar;

impl GaugeBar {
    /// The value with its unit.
    pub fn value_text(&self) -> String {
        self.with_unit(&fixed(self.value, self.decimals))
    }

    /// The expanded uncertainty with a sign, such as `± 0.02`; one digit more than the value if it
    /// would otherwise read as none.
    pub fn expanded_text(&self) -> String {
        let mut decimals = self.decimals;
        while self.expanded > 0.0
            && self.expanded < 0.5 * 0.1_f64.powi(i32::try_from(decimals).unwrap_or(i32::MAX))
            && decimals < self.decimals + 3
        {
            decimals += 1;
        }
        format!("±\u{a0}{}", fixed(self.expanded, decimals))
    }

    /// The limits with their unit: `12.90 – 13.12 mm`, `≥ 30.40 kN`.
    pub fn limits_text(&self) -> String {
        let text = match limit_numbers(self.limits, self.decimals) {
            [Some(l), Some(u)] => format!("{l}\u{a0}–\u{a0}{u}"),
            [Some(l), None] => format!("≥\u{a0}{l}"),
            [None, Some(u)] => format!("≤\u{a0}{u}"),
            [None, None] => return String::new(),
        };
        self.with_unit(&text)
    }

    fn with_unit(&self, number: &str) -> String {
        format!("{number}\u{a0}{}", self.unit.symbol())
    }
}

/// The limits as numbers: exactly as stated, both with the same decimals, at least `least`.
pub(crate) fn limit_numbers(limits: Limits, least: usize) -> [Option<String>; 2] {
    let sides = [limits.lower(), limits.upper()];
    let decimals = sides.iter().flatten().map(|limit| places(*limit, least));
    let decimals = decimals.max().unwrap_or(least);
    sides.map(|side| side.map(|limit| fixed(limit, decimals)))
}
