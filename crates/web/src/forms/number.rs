//! Numbers as people and measuring tools type them.
//!
//! A caliper that types like a keyboard sends `+0012.345 mm`, with a line end, a comma for the
//! point, or its suffix twice. A point and a comma both mean the decimal point: `1,234` is 1.234.
//! Groups of thousands are refused in measured values. A unit that is not the field's own is an
//! error that names both; it is never converted without a word.

use calc::Message;
use calc::units::Unit;

use super::fraction;

/// Reads a measured value of a field in `unit`. The suffix may be left out.
pub fn parse_number(raw: &str, unit: Unit) -> Result<f64, Message> {
    let text = plain(raw);
    if text.is_empty() {
        return Err(Message::new("number-missing").with("unit", unit.symbol()));
    }
    if unit == Unit::Turn
        && let Some(turns) = fraction::parse(without_turns(&text))
    {
        return Ok(turns);
    }
    let (number, suffix) = split(&text);
    let not_a_number = || {
        Message::new("number-not")
            .with("typed", shortened(&text))
            .with("unit", unit.symbol())
    };
    let value = decimal(number).ok_or_else(not_a_number)?;
    check_unit(suffix, unit, &text)?;
    Ok(value)
}

/// Reads a value in the unit written `symbol`, also one that no gauge reads (V, Ah), or in none.
pub fn parse_quantity(raw: &str, symbol: &str) -> Result<f64, Message> {
    if let Some(unit) = Unit::ALL.iter().find(|unit| unit.symbol() == symbol) {
        return parse_number(raw, *unit);
    }
    let text = plain(raw);
    let (number, suffix) = split(&text);
    let fits = suffix.is_empty() || suffix.eq_ignore_ascii_case(symbol);
    decimal(number).filter(|_| fits).ok_or_else(|| {
        let typed = shortened(&text);
        if symbol.is_empty() {
            return Message::new("quantity-not").with("typed", typed);
        }
        Message::new("number-not")
            .with("typed", typed)
            .with("unit", symbol)
    })
}

/// A number with a point or a comma.
fn decimal(number: &str) -> Option<f64> {
    let number = number.replace(',', ".");
    // Two separators are thousands or two readings in one box: nobody can tell which.
    let one_point = number.matches('.').count() <= 1;
    let digits = number.bytes().any(|b| b.is_ascii_digit());
    let value: f64 = number.parse().ok()?;
    (one_point && digits && value.is_finite()).then_some(value)
}

/// No tool makes more pulls in its life.
const MOST_COUNT: u64 = 99_999_999;

/// Reads a count (pulls, pieces). Spaces between groups of three are read over; points and commas
/// are refused, because they could be decimals.
pub fn parse_count(raw: &str) -> Result<u64, Message> {
    let text = plain(raw);
    if text.is_empty() {
        return Err(Message::new("count-missing"));
    }
    let not_a_count = || Message::new("count-not").with("typed", shortened(&text));
    let groups: Vec<&str> = text.split_whitespace().collect();
    let in_threes = groups.iter().skip(1).all(|group| group.len() == 3);
    let digits = groups.concat();
    if !in_threes || !digits.bytes().all(|b| b.is_ascii_digit()) {
        return Err(not_a_count());
    }
    let count = digits.parse().map_err(|_| not_a_count())?;
    if count > MOST_COUNT {
        let message = Message::new("count-too-many").with("typed", shortened(&text));
        return Err(message.with("most", MOST_COUNT));
    }
    Ok(count)
}

/// Without the line ends, tabs and nulls that a measuring tool sends; a minus is a hyphen.
fn plain(raw: &str) -> String {
    raw.trim_matches(|c: char| c.is_whitespace() || c.is_control())
        .replace('−', "-")
}

/// The number in front and what follows it.
fn split(text: &str) -> (&str, &str) {
    let numeric = |c: char| c.is_ascii_digit() || matches!(c, '+' | '-' | '.' | ',');
    let end = text.find(|c: char| !numeric(c)).unwrap_or(text.len());
    (&text[..end], text[end..].trim())
}

fn check_unit(suffix: &str, unit: Unit, text: &str) -> Result<(), Message> {
    if suffix.is_empty() {
        return Ok(());
    }
    match unit_of(suffix) {
        Some(read) if read == unit => Ok(()),
        Some(read) => Err(Message::new("number-other-unit")
            .with("typed", read.symbol())
            .with("unit", unit.symbol())),
        None => Err(Message::new("number-not")
            .with("typed", shortened(text))
            .with("unit", unit.symbol())),
    }
}

/// The unit of a suffix, also when it stands there twice: some measuring tools send a suffix that
/// the keyboard wedge adds again.
fn unit_of(suffix: &str) -> Option<Unit> {
    let tight: String = suffix.chars().filter(|c| !c.is_whitespace()).collect();
    let named = |text: &str| match text {
        "\"" | "″" | "inch" => Some(Unit::Inch),
        "turn" => Some(Unit::Turn),
        other => Unit::parse(other),
    };
    named(&tight).or_else(|| {
        let (first, second) = tight.split_at_checked(tight.len() / 2)?;
        (first == second).then(|| named(first)).flatten()
    })
}

fn without_turns(text: &str) -> &str {
    text.trim_end_matches("turns")
        .trim_end_matches("turn")
        .trim()
}

/// A long text cut for a message: the whole of it stays in its box.
fn shortened(text: &str) -> String {
    const LONGEST: usize = 40;
    match text.char_indices().nth(LONGEST) {
        Some((end, _)) => format!("{}…", &text[..end]),
        None => text.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn what_calipers_and_people_type() {
        for (raw, value) in [
            ("26.20", 26.2),
            ("+0012.345 mm", 12.345),
            ("+0012,345 mm", 12.345),
            ("  12.345mm\r\n", 12.345),
            ("12.345 mm mm", 12.345),
            ("12.345mmmm\t", 12.345),
            ("-0.02 MM", -0.02),
            ("−0.02", -0.02),
            (".5", 0.5),
            ("5.", 5.0),
            ("1,234", 1.234),
            ("\u{0}26.2\u{0}", 26.2),
        ] {
            assert_eq!(parse_number(raw, Unit::Millimetre), Ok(value), "{raw:?}");
        }
    }

    #[test]
    fn turns_may_be_fractions() {
        for raw in ["6½", "6 1/2", "6 1/2 turns", "6.5", "6,5 turn"] {
            assert_eq!(parse_number(raw, Unit::Turn), Ok(6.5), "{raw:?}");
        }
        assert!(parse_number("6½", Unit::Millimetre).is_err());
    }

    #[test]
    fn refuses_what_is_no_number() {
        for raw in [
            "NaN",
            "inf",
            "-inf",
            "mm",
            "+",
            ".",
            "12.3 12.4",
            "1,234.5",
            "1.234.567",
            "1e3",
            "0x10",
            "12.3.4 mm",
            "--1",
            "1-2",
            "12 furlong",
            "٣",
            "1 234",
        ] {
            let refusal = parse_number(raw, Unit::Millimetre).expect_err(raw);
            assert_eq!(refusal.id, "number-not", "{raw:?}");
        }
        let many = "9".repeat(400);
        assert!(parse_number(&many, Unit::Millimetre).is_err());
        let missing = parse_number(" \r\n", Unit::Millimetre).expect_err("nothing typed");
        assert_eq!(missing.id, "number-missing");
    }

    #[test]
    fn another_unit_is_refused_by_both_names() {
        for (raw, typed) in [("1.03 in", "in"), ("1.03\"", "in"), ("12 kN", "kN")] {
            let refusal = parse_number(raw, Unit::Millimetre).expect_err(raw);
            let expected = Message::new("number-other-unit")
                .with("typed", typed)
                .with("unit", "mm");
            assert_eq!(refusal, expected);
        }
        assert_eq!(parse_number("25 Nm", Unit::NewtonMetre), Ok(25.0));
        for raw in ["8 mm", "8 m m", "8mm"] {
            assert!(parse_number(raw, Unit::Metre).is_err(), "{raw}");
        }
    }

    #[test]
    fn quantities_in_units_that_no_gauge_reads() {
        for (raw, symbol, value) in [
            ("18 V", "V", 18.0),
            ("18,5", "V", 18.5),
            ("5 ah", "Ah", 5.0),
            ("0.85", "", 0.85),
            ("40 Nm", "N·m", 40.0),
        ] {
            assert_eq!(parse_quantity(raw, symbol), Ok(value), "{raw}");
        }
        for (raw, symbol, id) in [
            ("18 A", "V", "number-not"),
            ("85 %", "", "quantity-not"),
            ("1.2.3", "", "quantity-not"),
            ("NaN", "V", "number-not"),
            ("40 lbf·ft", "N·m", "number-other-unit"),
        ] {
            assert_eq!(parse_quantity(raw, symbol).expect_err(raw).id, id, "{raw}");
        }
    }

    #[test]
    fn counts() {
        for (raw, count) in [
            ("61480", 61_480),
            ("61 480", 61_480),
            ("61\u{202f}480", 61_480),
        ] {
            assert_eq!(parse_count(raw), Ok(count));
        }
        for raw in [
            "61.480",
            "61,480",
            "-1",
            "6 1480",
            "61 48",
            "many",
            "1e5",
            &"9".repeat(30),
        ] {
            assert_eq!(parse_count(raw).expect_err(raw).id, "count-not", "{raw:?}");
        }
        assert_eq!(parse_count("").expect_err("empty").id, "count-missing");
        assert_eq!(parse_count("99 999 999"), Ok(MOST_COUNT));
        let beyond = parse_count("100 000 000").expect_err("beyond");
        assert_eq!(beyond.id, "count-too-many");
    }

    proptest! {
        #[test]
        fn a_written_number_reads_back(value in -1e9..1e9f64, decimals in 0usize..6) {
            let written = format!("{value:.decimals$}");
            let expected: f64 = written.parse().expect("just written");
            for unit in Unit::ALL {
                // A doubled m is mm, another unit, and refused as such.
                let twice = unit.symbol().repeat(2);
                let doubled = Unit::parse(&twice).map_or(twice.as_str(), |_| unit.symbol());
                for text in [
                    written.clone(),
                    written.replace('.', ","),
                    format!(" {written} {}\r\n", unit.symbol()),
                    format!("{written}{doubled}"),
                ] {
                    prop_assert_eq!(parse_number(&text, *unit), Ok(expected), "{}", text);
                }
            }
        }

        #[test]
        fn a_suffix_of_another_unit_never_passes(value in -1e6..1e6f64) {
            for field in Unit::ALL {
                for typed in Unit::ALL.iter().filter(|typed| *typed != field) {
                    let text = format!("{value} {}", typed.symbol());
                    prop_assert!(parse_number(&text, *field).is_err(), "{} in {:?}", text, field);
                }
            }
        }

        #[test]
        fn any_text_gives_a_finite_number_or_a_message(raw in ".*") {
            for unit in Unit::ALL {
                if let Ok(value) = parse_number(&raw, *unit) {
                    prop_assert!(value.is_finite());
                }
            }
            parse_count(&raw).ok();
        }
    }
}
