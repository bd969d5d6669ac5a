//! Amounts as people write them: decimals, never floats.

use calc::Message;
use rust_decimal::Decimal;

/// Reads an amount such as `48`, `48.00` or `48,50`: at most two decimals, not negative.
pub fn parse_money(raw: &str) -> Result<Decimal, Message> {
    let text = raw.trim();
    if text.is_empty() {
        return Err(Message::new("money-missing"));
    }
    let not = || Message::new("money-not").with("typed", text);
    let plain = text.replace(',', ".");
    let (whole, cents) = plain.split_once('.').unwrap_or((&plain, ""));
    let digits = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
    if whole.is_empty() || whole.len() > 9 || cents.len() > 2 || !digits(whole) || !digits(cents) {
        return Err(not());
    }
    plain.trim_end_matches('.').parse().map_err(|_| not())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts() {
        for (raw, cents) in [
            ("48", 4800),
            ("48.5", 4850),
            (" 48,50 ", 4850),
            ("0", 0),
            ("1.", 100),
        ] {
            assert_eq!(parse_money(raw), Ok(Decimal::new(cents, 2)), "{raw}");
        }
        for raw in [
            "",
            "-1",
            "1.234",
            "1e3",
            "1,234.00",
            "NaN",
            "9999999999",
            ".5",
        ] {
            assert!(parse_money(raw).is_err(), "{raw}");
        }
    }
}
