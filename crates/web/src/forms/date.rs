//! Days as people write them.

use calc::Message;
use jiff::civil::Date;

/// English months, as the pages write them.
const MONTHS: [&str; 12] = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];

/// Reads a day written `2026-11-24`, `24.11.2026` or `24/11/2026` (where only one of the two can be a month), or `24 Nov 2026`.
pub fn parse_date(raw: &str) -> Result<Date, Message> {
    let text = raw.trim();
    if text.is_empty() {
        return Err(Message::new("date-missing"));
    }
    let not = || Message::new("date-not").with("typed", text);
    let parts: Vec<&str> = text
        .split(['-', '.', '/', ' '])
        .filter(|part| !part.is_empty())
        .collect();
    let [a, b, c] = parts.as_slice() else {
        return Err(not());
    };
    let number = |s: &str| {
        let month = MONTHS
            .iter()
            .zip(1_i16..)
            .find(|(name, _)| s.len() >= 3 && name.starts_with(&s.to_ascii_lowercase()));
        month.map_or_else(|| s.parse::<i16>().map_err(|_| not()), |(_, n)| Ok(n))
    };
    // With strokes, half the world writes the month first.
    let could_be_month = |s: &str| s.parse().is_ok_and(|n: u8| (1..=12).contains(&n));
    if text.contains('/') && could_be_month(a) && could_be_month(b) && a != b {
        return Err(Message::new("date-two-ways").with("typed", text));
    }
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
        for raw in [
            "2026-11-24",
            "24.11.2026",
            " 24/11/2026 ",
            "2026/11/24",
            "24 Nov 2026",
            "24 november 2026",
        ] {
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
        for raw in ["05/06/2026", "5/6/2026", "12/1/2026"] {
            assert_eq!(parse_date(raw).expect_err(raw).id, "date-two-ways");
        }
        for (raw, day) in [("13/06/2026", 13), ("06/06/2026", 6), ("05.06.2026", 5)] {
            let wanted = jiff::civil::date(2026, 6, day);
            assert_eq!(parse_date(raw), Ok(wanted), "{raw}");
        }
    }

    proptest! {
        #[test]
        fn never_panics(raw in ".{0,20}") {
            let _ = parse_date(&raw);
        }
    }
}
