//! How values become places on the bar.

use super::GaugeBar;

/// Width of the viewBox.
pub(super) const WIDTH: f64 = 300.0;
/// Room left and right of the track for the arrows of values that lie far out.
const MARGIN: f64 = 16.0;

/// A straight scale over the part of the values that is drawn.
pub(super) struct Scale {
    from: f64,
    to: f64,
}

impl Scale {
    /// With two limits, they and their undecided zones stand in the middle, whatever the value: bars
    /// with the same limits can be compared at a glance. With one, the drawing reaches as far as
    /// the value asks for on the good side, and a while on the bad side.
    pub(super) fn of(bar: &GaugeBar) -> Self {
        let w = bar.expanded;
        match (bar.limits.lower(), bar.limits.upper()) {
            (Some(l), Some(u)) => {
                let beside = (0.45 * (u - l)).max(1.5 * w);
                Self {
                    from: l - beside,
                    to: u + beside,
                }
            }
            (Some(l), None) => {
                let reach = reach(l, w, bar.value - l);
                Self {
                    from: l - 0.5 * reach,
                    to: l + reach,
                }
            }
            (None, upper) => {
                let u = upper.unwrap_or(bar.value);
                let reach = reach(u, w, u - bar.value);
                Self {
                    from: u - reach,
                    to: u + 0.5 * reach,
                }
            }
        }
    }

    /// Left and right end of the track.
    pub(super) fn ends(&self) -> (f64, f64) {
        (MARGIN, WIDTH - MARGIN)
    }

    /// Whether `value` lies in what is drawn.
    pub(super) fn shows(&self, value: f64) -> bool {
        (self.from..=self.to).contains(&value)
    }

    /// Place of `value`, at the nearer end if it lies outside.
    pub(super) fn x(&self, value: f64) -> f64 {
        let (left, right) = self.ends();
        let share = (value.clamp(self.from, self.to) - self.from) / (self.to - self.from);
        left + share * (right - left)
    }
}

/// How far the drawing reaches on the good side of the only limit, when the value lies `inside` it
/// (negative: outside).
fn reach(limit: f64, w: f64, inside: f64) -> f64 {
    let least = (6.0 * w).max(0.05 * limit.abs());
    let least = if least > 0.0 { least } else { 1.0 };
    // Values on the bad side get room too, but not so much that the undecided zone is lost.
    let wanted = if inside >= 0.0 {
        1.25 * (inside + w)
    } else {
        (-2.5 * (inside - w)).min(5.0 * least)
    };
    least.max(wanted)
}
