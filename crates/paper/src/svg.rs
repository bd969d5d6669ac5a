//! Small things that every drawing needs.

/// Ink of lines and letters on paper.
pub(crate) const INK: &str = "#1c2a31";
/// Letters and lines that stay behind.
pub(crate) const SOFT: &str = "#566972";
/// What the eye is to find first.
pub(crate) const BRASS: &str = "#a8791f";
/// Brass dark enough for letters.
pub(crate) const DARK_BRASS: &str = "#7a5610";
/// Good.
pub(crate) const GREEN: &str = "#2c7a4b";
/// Bad.
pub(crate) const RED: &str = "#b0352c";
/// Letters of every drawing.
pub(crate) const LETTERS: &str = "Inter, system-ui, sans-serif";

/// `text` as it may stand in an element or an attribute.
pub(crate) fn escaped(text: &str) -> String {
    text.chars()
        // XML has no way to write these.
        .filter(|c| !c.is_control() || matches!(c, '\t' | '\n'))
        .fold(String::with_capacity(text.len()), |mut out, c| {
            match c {
                '&' => out.push_str("&amp;"),
                '<' => out.push_str("&lt;"),
                '>' => out.push_str("&gt;"),
                '"' => out.push_str("&quot;"),
                c => out.push(c),
            }
            out
        })
}

/// A length as written in a drawing: hundredths, without needless zeros.
pub(crate) fn n(length: f64) -> String {
    let rounded = (length * 100.0).round() / 100.0;
    // No "-0".
    format!("{}", if rounded == 0.0 { 0.0 } else { rounded })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_short() {
        for (length, written) in [(1.0, "1"), (-0.001, "0"), (12.345, "12.35"), (-3.1, "-3.1")] {
            assert_eq!(n(length), written);
        }
    }

    #[test]
    fn nothing_breaks_out_of_an_attribute() {
        assert_eq!(escaped("<\"&>\u{1}\u{7f}"), "&lt;&quot;&amp;&gt;");
    }
}
