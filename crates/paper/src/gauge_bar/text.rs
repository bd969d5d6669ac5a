//! What is printed beside a gauge bar.

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
        let side = |limit| fixed(limit, places(limit, self.decimals));
        let text = match (self.limits.lower(), self.limits.upper()) {
            (Some(l), Some(u)) => format!("{}\u{a0}–\u{a0}{}", side(l), side(u)),
            (Some(l), None) => format!("≥\u{a0}{}", side(l)),
            (None, Some(u)) => format!("≤\u{a0}{}", side(u)),
            (None, None) => return String::new(),
        };
        self.with_unit(&text)
    }

    fn with_unit(&self, number: &str) -> String {
        format!("{number}\u{a0}{}", self.unit.symbol())
    }
}
