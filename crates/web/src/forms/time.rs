//! Times of day as people write them.

use calc::Message;
use jiff::civil::Time;

/// Reads a time of day such as `14:20`, `14.20` or `9:05`, by the clock of 24 hours.
pub fn parse_time(raw: &str) -> Result<Time, Message> {
    let text = raw.trim();
    let not = || Message::new("time-not").with("typed", text);
    let (hour, minute) = text.split_once([':', '.']).ok_or_else(not)?;
    let digits = |s: &str| (1..=2).contains(&s.len()) && s.bytes().all(|b| b.is_ascii_digit());
    if !digits(hour) || !digits(minute) || minute.len() != 2 {
        return Err(not());
    }
    let (Ok(hour), Ok(minute)) = (hour.parse(), minute.parse()) else {
        return Err(not());
    };
    Time::new(hour, minute, 0, 0).map_err(|_| not())
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::time;

    #[test]
    fn times() {
        for (raw, hour, minute) in [("14:20", 14, 20), ("9.05", 9, 5), (" 00:00 ", 0, 0)] {
            assert_eq!(parse_time(raw), Ok(time(hour, minute, 0, 0)), "{raw}");
        }
        for raw in [
            "",
            "14",
            "24:00",
            "14:60",
            "2 pm",
            "14:2",
            "-1:00",
            "14:200",
            "١٤:٢٠",
        ] {
            assert!(parse_time(raw).is_err(), "{raw}");
        }
    }
}
