//! Days as people write them.

use calc::Message;
use jiff::civil::Date;

/// Reads a day written `2026-11-24`, or `24.11.2026` and `24/11/2026` (day first).
pub fn parse_date(raw: &str) -> Result<Date, Message> {
    let text = raw.trim();
    if text.is_empty() {
        return Err(Message::new("date-missing"));
    }
    let not = || Message::new("date-not").with("typed", text);
    let parts: Vec<&str> = text.split(['-', '.', '/']).collect();
    let [a, b, c] = parts.as_slice() else {
        return Err(not());
    };
    let number = |s: &str| s.trim().parse::<i16>().map_err(|_| not());
    let (year, month, day) = if a.trim().len() == 4 {
        (number(a)?, number(b)?, number(c)?)
    } else {
        (number(c)?, number(b)?, number(a)?)
    };
    let small = |n: i16| i8::try_from(n).map_err(|_| not());
    if !(1990..=2100).contains(&year) {
        return Err(not());
    }
    Date::new(year, small(month)?, small(day)?).map_err(|_| not())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn days() {
        let day = jiff::civil::date(2026, 11, 24);
        for raw in ["2026-11-24", "24.11.2026", " 24/11/2026 ", "2026/11/24"] {
            assert_eq!(parse_date(raw), Ok(day), "{raw}");
        }
        for raw in [
            "",
            "yesterday",
            "2026-13-01",
            "2026-02-30",
            "26-11-24",
            "1-2",
            "1-2-3-4",
        ] {
            assert!(parse_date(raw).is_err(), "{raw}");
        }
    }

    proptest! {
        #[test]
        fn never_panics(raw in ".{0,20}") {
            let _ = parse_date(&raw);
        }
    }
}
