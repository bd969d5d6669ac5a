//! Long numbers in groups of three.

/// Narrow no-break space: a number never breaks over two lines.
const GAP: char = '\u{202f}';

/// `number` (digits, perhaps with sign and decimals) with its whole part in groups of three, from
/// five digits on; shorter ones stay whole, as ISO 80000-1 allows.
pub(crate) fn grouped(number: &str) -> String {
    let (sign, rest) = match number.strip_prefix('-') {
        Some(rest) => ("-", rest),
        None => ("", number),
    };
    let whole = rest.split_once('.').map_or(rest, |(whole, _)| whole);
    if whole.len() < 5 || !whole.bytes().all(|b| b.is_ascii_digit()) {
        return number.to_owned();
    }
    let mut text = String::from(sign);
    for (i, digit) in whole.chars().enumerate() {
        if i > 0 && (whole.len() - i).is_multiple_of(3) {
            text.push(GAP);
        }
        text.push(digit);
    }
    text.push_str(&rest[whole.len()..]);
    text
}

#[cfg(test)]
mod tests {
    use super::grouped;

    #[test]
    fn groups() {
        for (plain, written) in [
            ("0", "0"),
            ("1047", "1047"),
            ("61480", "61\u{202f}480"),
            ("-1234567.25", "-1\u{202f}234\u{202f}567.25"),
            ("12.123456", "12.123456"),
            ("NaN", "NaN"),
        ] {
            assert_eq!(grouped(plain), written);
        }
    }
}
