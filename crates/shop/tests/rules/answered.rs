//! When an answer was given: no later than now, by the clock of the shop.

use jiff::ToSpan;
use jiff::civil::time;
use shop::job::{AnswerIn, Command, Desk, decide};

use crate::bench::TODAY;
use crate::quote::{quoted, said, three};

#[test]
fn nobody_answers_at_a_time_that_is_still_to_come() {
    // The desk's clock stands at nine, in a shop that is at UTC.
    let mut bench = quoted(three());
    let at = |day: i8, hour, minute| {
        Command::Answer(AnswerIn {
            at: Some(time(hour, minute, 0, 0)),
            on: TODAY.checked_add(i64::from(day).days()).ok(),
            received: TODAY.checked_add(-3.days()).expect("a day"),
            ..said(true, &[false, false])
        })
    };
    bench.refuses(at(0, 9, 1), "at: refuse-answer-later");
    bench.refuses(at(1, 8, 0), "on: refuse-answer-day");
    bench.refuses(at(-4, 8, 0), "on: refuse-answer-day");
    // Where the shop is, it is later.
    let zone = jiff::tz::TimeZone::fixed(jiff::tz::offset(2));
    let east = Desk {
        zone: &zone,
        ..bench.desk
    };
    let told = |desk: &Desk, command| decide(&bench.job(), command, desk).err().map(|r| r.len());
    assert_eq!(told(&east, at(0, 11, 0)), None);
    assert_eq!(told(&east, at(0, 11, 1)), Some(1));
    bench.does(at(-1, 23, 59));
    let mut bench = quoted(three());
    bench.does(at(0, 9, 0));
}
