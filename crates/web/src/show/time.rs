//! Days and moments, in the shop's time.

use calc::Message;
use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;

use crate::shell::Page;

/// `24 Nov 2026`.
pub fn day(date: Date) -> String {
    date.strftime("%-d %b %Y").to_string()
}

/// `24 Nov 08:12`.
pub fn moment(at: Timestamp, zone: &TimeZone) -> String {
    at.to_zoned_datetime(zone.clone())
        .strftime("%-d %b %H:%M")
        .to_string()
}

/// How long until `due`: `2 days left`, `today`, `3 days late`.
pub fn days_left(p: &Page, due: Date, today: Date) -> String {
    let days = today
        .until(due)
        .map_or(0, |span| i64::from(span.get_days()));
    let count = |n: i64| calc::message::Arg::Count(n);
    p.say(&match days {
        0 => Message::new("due-today"),
        d if d > 0 => Message::new("due-left").with("days", count(d)),
        d => Message::new("due-late").with("days", count(-d)),
    })
}
