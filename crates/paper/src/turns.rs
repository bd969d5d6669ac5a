//! Turns of an adjuster: as a number that hands can set, and as a drawing.

use calc::screw_stop::Rotation;
use calc::working::fixed;

const EIGHTHS: [&str; 8] = ["", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞"];

/// `turns` as a whole number with a fraction sign, such as `6½`; a setting that is not a whole
/// number of eighths keeps two decimals.
pub fn fraction(turns: f64) -> String {
    let eighths = turns * 8.0;
    let nearest = eighths.round();
    if !(0.0..=8e6).contains(&nearest) || (eighths - nearest).abs() > 1e-6 {
        return fixed(turns, 2);
    }
    // In range by the test above, so the casts lose nothing.
    let (whole, rest) = ((nearest / 8.0).floor(), nearest as usize % 8);
    match (whole as u64, EIGHTHS[rest]) {
        (0, "") => "0".to_owned(),
        (0, part) => part.to_owned(),
        (whole, part) => format!("{whole}{part}"),
    }
}

/// Side of the square that an arrow is drawn in.
pub(crate) const ARROW_SIDE: f64 = 48.0;

/// An arrow that turns the way `rotation` says, as an SVG element. The word always stands beside
/// it, so the drawing is hidden from screen readers.
pub fn turn_arrow(rotation: Rotation) -> String {
    format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" class="turn" viewBox="0 0 {ARROW_SIDE} {ARROW_SIDE}" aria-hidden="true">{}</svg>"#,
        arrow(rotation)
    )
}

/// The arrow without its frame, in a square of [`ARROW_SIDE`].
pub(crate) fn arrow(rotation: Rotation) -> String {
    let mirrored = match rotation {
        Rotation::Clockwise => "",
        Rotation::CounterClockwise => r#" transform="translate(48 0) scale(-1 1)""#,
    };
    format!(
        r##"<g{mirrored}><path class="turn-arc" d="M11 35A17 17 0 1 1 39.5 31" fill="none" stroke="#a8791f" stroke-width="5" stroke-linecap="round"/><path class="turn-head" d="M34.4 43.6L31 26.5L47.6 31.9Z" fill="#a8791f"/></g>"##
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn eighths_are_written_with_a_sign() {
        for (turns, written) in [
            (0.0, "0"),
            (0.125, "⅛"),
            (6.5, "6½"),
            (7.25, "7¼"),
            (2.625, "2⅝"),
            (10.0, "10"),
            (6.33, "6.33"),
            (-0.5, "-0.50"),
        ] {
            assert_eq!(fraction(turns), written);
        }
        assert_eq!(fraction(f64::NAN), "NaN");
    }

    #[test]
    fn the_two_senses_mirror_each_other() {
        let (with, against) = (
            turn_arrow(Rotation::Clockwise),
            turn_arrow(Rotation::CounterClockwise),
        );
        assert_eq!(
            against.replace(r#" transform="translate(48 0) scale(-1 1)""#, ""),
            with
        );
        assert_ne!(against, with);
    }
}
