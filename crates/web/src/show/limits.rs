//! Limits in words.

use calc::Message;
use calc::decision::Limits;
use calc::working::places;

use crate::shell::Page;

/// `25.2 – 26.8 mm`, or one side of it.
pub fn limits(p: &Page, limits: &Limits, unit: &str) -> String {
    let places = |x: f64| places(x, 0);
    p.say(&match (limits.lower(), limits.upper()) {
        (Some(l), Some(u)) => Message::new("limits-both")
            .number("lower", l, places(l))
            .number("upper", u, places(u))
            .with("unit", unit),
        (Some(l), None) => Message::new("limits-lower")
            .number("lower", l, places(l))
            .with("unit", unit),
        (None, Some(u)) => Message::new("limits-upper")
            .number("upper", u, places(u))
            .with("unit", unit),
        (None, None) => Message::new("limits-none"),
    })
}
