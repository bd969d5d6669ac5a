//! How large a part is drawn: to scale while it is small, less and less so as it grows.

use super::AxisPart;

/// Shortest drawn length.
const SHORTEST: f64 = 7.0;
/// Smallest drawn diameter.
const THINNEST: f64 = 8.0;
/// Largest drawn diameter, on a narrow drawing and on a wide one, and its share of the width.
const THICKEST: (f64, f64) = (64.0, 96.0);
const SHARE: f64 = 0.2;
/// Up to this share of the largest diameter a length is to scale.
const TRUE_LENGTH: f64 = 0.63;
/// Longest drawn length, in largest diameters.
const LONGEST: f64 = 1.35;
/// What is so much thicker than three quarters of the parts has the largest diameter.
const THICKER: f64 = 1.3;
/// Units per millimetre, smallest and largest.
const SCALES: (f64, f64) = (0.9, 2.1);
/// A part drawn shorter than this share of its length is shown broken.
const BROKEN: f64 = 0.75;

/// One scale for all parts of a drawing.
pub(super) struct Size {
    scale: f64,
    thickest: f64,
    longest: f64,
}

/// A part as drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Drawn {
    pub(super) length: f64,
    pub(super) diameter: f64,
    pub(super) bore: Option<f64>,
    /// Drawn much shorter than it is.
    pub(super) broken: bool,
}

impl Size {
    /// The scale that suits the thicker parts; no part is longer than `room`.
    pub(super) fn of(parts: &[AxisPart], room: f64) -> Self {
        let mut outside: Vec<f64> = parts.iter().map(|p| millimetres(p.outside_mm)).collect();
        outside.sort_by(f64::total_cmp);
        // One part much thicker than the rest must not make those small.
        let thick = outside.get(outside.len() * 3 / 4).copied().unwrap_or(1.0);
        let thickest = (SHARE * room).clamp(THICKEST.0, THICKEST.1);
        Self {
            scale: (thickest / (THICKER * thick.max(1.0))).clamp(SCALES.0, SCALES.1),
            thickest,
            longest: (LONGEST * thickest).min(room),
        }
    }

    pub(super) fn drawn(&self, part: &AxisPart) -> Drawn {
        let wanted = millimetres(part.length_mm) * self.scale;
        let length = eased(wanted, TRUE_LENGTH * self.thickest, self.longest).max(SHORTEST);
        let outside = millimetres(part.outside_mm);
        let diameter =
            eased(outside * self.scale, 0.8 * self.thickest, self.thickest).max(THINNEST);
        // The bore keeps its share of the diameter, and a wall that can be seen.
        let bore = part
            .bore_mm
            .map(millimetres)
            .filter(|bore| *bore > 0.0 && *bore < outside)
            .map(|bore| (diameter * bore / outside).clamp(2.0, diameter - 3.0));
        Drawn {
            length,
            diameter,
            bore,
            broken: length < BROKEN * wanted,
        }
    }
}

/// A size that can be drawn; what is none counts as nothing.
fn millimetres(value: f64) -> f64 {
    if value.is_finite() {
        value.max(0.0)
    } else {
        0.0
    }
}

/// `x` up to `knee`; beyond, it comes ever closer to `most` and never reaches it. What is longer
/// stays longer.
fn eased(x: f64, knee: f64, most: f64) -> f64 {
    if x <= knee {
        return x.min(most);
    }
    let room = most - knee;
    if room <= 0.0 {
        return most;
    }
    knee + room * (1.0 - (-(x - knee) / room).exp())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn longer_is_drawn_longer_and_never_too_long() {
        let mut last = 0.0;
        for x in [1.0, 30.0, 60.0, 61.0, 90.0, 200.0] {
            let drawn = eased(x, 60.0, 130.0);
            assert!(drawn > last && drawn <= 130.0, "{x} {drawn}");
            last = drawn;
        }
        assert!(eased(1e12, 60.0, 130.0) <= 130.0);
        assert_eq!(eased(500.0, 60.0, 40.0), 40.0);
    }
}
