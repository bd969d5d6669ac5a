//! How wide letters are, from the bundled fonts: drawings break and fit their texts by it.

use std::sync::LazyLock;

use typst::foundations::Bytes;
use typst::layout::Abs;
use typst::text::{Font, FontInstance, FontVariant, FontVariations};

/// Weight of letters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Weight {
    /// 400.
    Regular,
    /// 600.
    SemiBold,
    /// 700.
    Bold,
}

impl Weight {
    /// As in `font-weight`.
    pub(crate) fn number(self) -> u32 {
        match self {
            Self::Regular => 400,
            Self::SemiBold => 600,
            Self::Bold => 700,
        }
    }
}

/// A letter that the font lacks is taken to be this wide, in em.
const UNKNOWN_EM: f64 = 1.0;

static FACES: LazyLock<Vec<FontInstance>> = LazyLock::new(|| {
    crate::typeset::FONTS
        .iter()
        .filter_map(|data| Font::new(Bytes::new(*data), 0))
        .map(|font| {
            font.instantiate(
                FontVariant::default(),
                Abs::pt(10.0),
                &FontVariations::default(),
            )
        })
        .collect()
});

/// Width of `text` in a size of one.
fn ems(text: &str, weight: Weight) -> f64 {
    let face = FACES.get(weight as usize);
    let of = |letter| {
        let glyph = face?.ttf().glyph_index(letter)?;
        face?.x_advance(glyph.0).map(|em| em.get())
    };
    text.chars()
        .map(|letter| of(letter).unwrap_or(UNKNOWN_EM))
        .sum()
}

/// Width of `text` set in `size`.
pub(crate) fn width(text: &str, weight: Weight, size: f64) -> f64 {
    ems(text, weight) * size
}

/// `text` in lines no wider than `room`; a word that is wider by itself is broken, a no-break space
/// is part of a word.
pub(crate) fn lines(text: &str, weight: Weight, size: f64, room: f64) -> Vec<String> {
    let fits = |line: &str| width(line, weight, size) <= room;
    let mut lines: Vec<String> = Vec::new();
    for word in text.split([' ', '\n']).filter(|word| !word.is_empty()) {
        if let Some(last) = lines.last_mut() {
            let longer = format!("{last} {word}");
            if fits(&longer) {
                *last = longer;
                continue;
            }
        }
        lines.push(String::new());
        for letter in word.chars() {
            if let Some(last) = lines.last_mut() {
                let longer = format!("{last}{letter}");
                if fits(&longer) || last.is_empty() {
                    *last = longer;
                } else {
                    lines.push(letter.to_string());
                }
            }
        }
    }
    lines
}

/// The largest size from `sizes` (largest first) in which `text` takes no more than `most` lines,
/// with those lines. If none does, the lines of the smallest, however many.
pub(crate) fn fitted(
    text: &str,
    weight: Weight,
    sizes: &[f64],
    room: f64,
    most: usize,
) -> (f64, Vec<String>) {
    let mut found = (0.0, Vec::new());
    for size in sizes {
        found = (*size, lines(text, weight, *size, room));
        if found.1.len() <= most {
            break;
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn widths_come_from_the_font() {
        // Inter's figures are as wide as each other; bold ones are wider.
        let regular = width("0", Weight::Regular, 100.0);
        assert!((50.0..75.0).contains(&regular), "{regular}");
        assert!(width("0", Weight::Bold, 100.0) > regular);
        assert!(width("iiii", Weight::Regular, 10.0) < width("mmmm", Weight::Regular, 10.0));
        assert_eq!(width("", Weight::Regular, 10.0), 0.0);
    }

    #[test]
    fn lines_keep_every_letter_and_their_room() {
        let text = "left-hand thread: turn counter-clockwise to free";
        for room in [30.0, 90.0, 400.0] {
            let lines = lines(text, Weight::Bold, 12.0, room);
            for line in &lines {
                assert!(width(line, Weight::Bold, 12.0) <= room, "{line}");
            }
            let squeezed = |s: &str| s.replace(' ', "");
            assert_eq!(squeezed(&lines.concat()), squeezed(text));
        }
    }

    #[test]
    fn letters_shrink_before_lines_grow() {
        let (size, lines) = fitted("Tulvane TB-32", Weight::Bold, &[20.0, 10.0], 100.0, 1);
        assert_eq!((size, lines.len()), (10.0, 1));
        let (size, lines) = fitted("Tulvane TB-32", Weight::Bold, &[20.0, 10.0], 400.0, 1);
        assert_eq!((size, lines.len()), (20.0, 1));
    }
}
