//! Fractions as people write turns of an adjuster: `6½`, `6 1/2`, `3/4`.

/// The value of a whole number with a fraction, or of a fraction alone; `None` for all else.
pub fn parse(text: &str) -> Option<f64> {
    let text = text.trim();
    if let Some((at, sign)) = text.char_indices().find(|(_, c)| value_of(*c).is_some()) {
        let rest = text[at + sign.len_utf8()..].trim();
        let whole = text[..at].trim();
        let whole = if whole.is_empty() {
            0.0
        } else {
            digits(whole)?
        };
        return rest.is_empty().then_some(whole + value_of(sign)?);
    }
    let (top, bottom) = text.split_once(['/', '⁄'])?;
    let (whole, top) = match top.trim().split_once(char::is_whitespace) {
        Some((whole, top)) => (digits(whole)?, top.trim()),
        None => (0.0, top.trim()),
    };
    let (top, bottom) = (digits(top)?, digits(bottom.trim())?);
    (bottom > top).then(|| whole + top / bottom)
}

/// A short run of plain digits.
fn digits(text: &str) -> Option<f64> {
    let plain = !text.is_empty() && text.len() <= 6 && text.bytes().all(|b| b.is_ascii_digit());
    plain.then(|| text.parse().ok()).flatten()
}

/// The value of a one-character fraction.
fn value_of(sign: char) -> Option<f64> {
    Some(match sign {
        '½' => 0.5,
        '¼' => 0.25,
        '¾' => 0.75,
        '⅛' => 0.125,
        '⅜' => 0.375,
        '⅝' => 0.625,
        '⅞' => 0.875,
        '⅓' => 1.0 / 3.0,
        '⅔' => 2.0 / 3.0,
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::parse;

    #[test]
    fn fractions() {
        for (text, value) in [
            ("6½", Some(6.5)),
            ("6 ½", Some(6.5)),
            ("¾", Some(0.75)),
            ("6 1/2", Some(6.5)),
            ("3/4", Some(0.75)),
            ("12⅝", Some(12.625)),
            ("6 5⁄8", Some(6.625)),
            ("61/2", None),
            ("1/0", None),
            ("6 1/2 1", None),
            ("½ 6", None),
            ("½½", None),
            ("6", None),
            ("/", None),
            ("-6½", None),
            ("", None),
        ] {
            assert_eq!(parse(text), value, "{text:?}");
        }
    }
}
