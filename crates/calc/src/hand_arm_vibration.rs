//! Hand–arm vibration of a day: A(8), points, and how long a tool may be held.
//!
//! # Formula
//! A_i(8) = a_hv · √(T / 8 h); A(8) = √(Σ A_i(8)²). Points 2 · a² · T, T in hours: 100 at the action value, 400 at the limit.
//! Time to a value A: T = 8 h · (A / a_hv)², at most 24 h.
//!
//! # Validity
//! a_hv is the vibration total value, frequency-weighted, in m/s². Declared values are measured on a bench, at work they
//! are often higher. A single strong jerk, as the break of a mandrel, is judged only in part by an average.
//!
//! # Source
//! ISO 5349-1:2001; Directive 2002/44/EC, article 3: action value 2.5 m/s², limit 5 m/s²; points as in the public
//! guidance of the British regulator.

use crate::Message;
use crate::error::{CalcError, within};
use crate::working::{Method, Working};

/// The day.
pub const DAY: Method = Method {
    name: "hand-arm-vibration-a8",
    version: 1,
    source: "ISO 5349-1:2001; Directive 2002/44/EC, article 3",
};

/// How long a tool may be held.
pub const TIME: Method = Method {
    name: "hand-arm-vibration-time",
    version: 1,
    source: DAY.source,
};

/// Action value of A(8), m/s².
pub const ACTION: f64 = 2.5;
/// Limit value of A(8), m/s².
pub const LIMIT: f64 = 5.0;
/// The day that everything is brought to, h.
const DAY_HOURS: f64 = 8.0;
/// No day is longer, h.
pub const LONGEST_HOURS: f64 = 24.0;
/// No hand holds more, m/s².
const STRONGEST: f64 = 10_000.0;

/// One tool in use.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Task {
    /// Vibration total value, m/s².
    pub a_hv: f64,
    /// Time with the hand on the trigger, h.
    pub hours: f64,
}

impl Task {
    /// The points of the task.
    pub fn points(&self) -> f64 {
        2.0 * self.a_hv * self.a_hv * self.hours
    }
}

/// The day of one pair of hands.
#[derive(Clone, Debug, PartialEq)]
pub struct Day {
    /// A_i(8) of each task, m/s².
    pub partial: Vec<f64>,
    /// A(8), m/s².
    pub a8: f64,
}

impl Day {
    /// Whether it lies above the action value.
    pub fn is_above_action(&self) -> bool {
        self.a8 > ACTION
    }

    /// Whether it lies above the limit value.
    pub fn is_above_limit(&self) -> bool {
        self.a8 > LIMIT
    }
}

/// The exposure of `tasks` on one day.
///
/// # Errors
/// No task, a vibration outside 0 to 10 000 m/s², hours below 0 or more than 24 together.
pub fn day(tasks: &[Task]) -> Result<Day, CalcError> {
    if tasks.is_empty() {
        return Err(CalcError::TooFew {
            input: "tasks",
            have: 0,
            need: 1,
        });
    }
    for task in tasks {
        within("a_hv", task.a_hv, 0.0, STRONGEST)?;
        within("T", task.hours, 0.0, LONGEST_HOURS)?;
    }
    let hours = tasks.iter().map(|t| t.hours).sum::<f64>();
    within("ΣT", hours, 0.0, LONGEST_HOURS * (1.0 + 1e-12))?;
    let of = |task: &Task| task.a_hv * (task.hours / DAY_HOURS).sqrt();
    let partial: Vec<f64> = tasks.iter().map(of).collect();
    let a8 = match partial.as_slice() {
        // The square root of a square is a rounding off: a value at the limit must not come out above it.
        [one] => *one,
        many => many.iter().map(|a| a * a).sum::<f64>().sqrt(),
    };
    Ok(Day { partial, a8 })
}

/// The hours of use after which `a_hv` m/s² come to the A(8) of `value`, at most 24.
///
/// # Errors
/// A vibration that is not above 0.
pub fn hours_to(a_hv: f64, value: f64) -> Result<f64, CalcError> {
    let a = within("a_hv", a_hv, 1e-6, STRONGEST)?;
    Ok((DAY_HOURS * (value / a).powi(2)).min(LONGEST_HOURS))
}

/// The working of a day.
pub fn day_working(tasks: &[Task], day: &Day) -> Working {
    let mut w = Working::new(DAY);
    // A day of one tool is written out; of several, what each adds.
    for (i, (task, partial)) in tasks.iter().zip(&day.partial).enumerate() {
        let Some(names) = NAMES.get(i) else { break };
        w = w
            .given(
                names.0,
                Message::new("given-vibration"),
                task.a_hv,
                2,
                "m/s²",
            )
            .given(names.1, Message::new("given-hours"), task.hours, 3, "h")
            .step(names.2, names.3, *partial, 2, "m/s²");
    }
    let points = tasks.iter().map(Task::points).sum::<f64>();
    w.step("A(8)", "√(Σ A_i²)", day.a8, 2, "m/s²")
        .step("P", "Σ 2 · a_i² · T_i", points, 0, "")
        .note(Message::new("note-vibration-values"))
        .note(Message::new("note-vibration-declared"))
}

/// Symbols of the first tasks: vibration, hours, part, its formula.
const NAMES: [(&str, &str, &str, &str); 6] = [
    ("a₁", "T₁", "A₁", "a₁ · √(T₁ / 8)"),
    ("a₂", "T₂", "A₂", "a₂ · √(T₂ / 8)"),
    ("a₃", "T₃", "A₃", "a₃ · √(T₃ / 8)"),
    ("a₄", "T₄", "A₄", "a₄ · √(T₄ / 8)"),
    ("a₅", "T₅", "A₅", "a₅ · √(T₅ / 8)"),
    ("a₆", "T₆", "A₆", "a₆ · √(T₆ / 8)"),
];

/// The working of the times.
pub fn time_working(a_hv: f64, to_action: f64, to_limit: f64) -> Working {
    Working::new(TIME)
        .given("a", Message::new("given-vibration"), a_hv, 2, "m/s²")
        .step("T_a", "8 · (2.5 / a)²", to_action, 2, "h")
        .step("T_l", "8 · (5 / a)²", to_limit, 2, "h")
        .note(Message::new("note-vibration-day"))
        .note(Message::new("note-vibration-declared"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn task(a_hv: f64, hours: f64) -> Task {
        Task { a_hv, hours }
    }

    #[test]
    fn the_standard_s_example_and_the_points() {
        // ISO 5349-2:2001, E.2.1: 7.4 m/s² for 2.5 h: A(8) = 4.1 m/s².
        let one = day(&[task(7.4, 2.5)]).expect("good");
        assert!((one.a8 - 4.1).abs() <= 0.05, "{one:?}");
        // Public guidance of the British regulator: 100 points at the action value, 400 at the limit; at it is not above.
        for (a, points, above) in [
            (ACTION, 100.0, (false, false)),
            (LIMIT, 400.0, (true, false)),
        ] {
            let t = task(a, 8.0);
            let d = day(&[t]).expect("good");
            assert_eq!(t.points(), points);
            assert_eq!((d.is_above_action(), d.is_above_limit()), above);
        }
    }

    #[test]
    fn refusals() {
        assert!(day(&[]).is_err());
        for wrong in [
            task(-1.0, 1.0),
            task(1.0, -1.0),
            task(1.0, 24.5),
            task(f64::NAN, 1.0),
            task(1.0, f64::INFINITY),
        ] {
            assert!(day(&[wrong]).is_err(), "{wrong:?}");
        }
        assert!(day(&[task(1.0, 13.0), task(1.0, 12.0)]).is_err());
        assert!(day(&[task(0.0, 0.0)]).is_ok());
        for a in [0.0, -1.0, f64::NAN] {
            assert!(hours_to(a, ACTION).is_err());
        }
        assert_eq!(hours_to(0.5, ACTION), Ok(24.0));
    }

    proptest! {
        #[test]
        fn the_time_to_a_value_comes_to_it(a in 2.0..40.0f64) {
            let hours = hours_to(a, LIMIT).expect("good");
            let d = day(&[task(a, hours)]).expect("good");
            prop_assert!(hours == 24.0 || (d.a8 - LIMIT).abs() < 1e-9);
        }

        #[test]
        fn a_task_in_two_halves_is_the_same(a in 0.1..40.0f64, hours in 0.1..12.0f64) {
            let whole = day(&[task(a, hours)]).expect("good");
            let halves = day(&[task(a, hours / 2.0), task(a, hours / 2.0)]).expect("good");
            prop_assert!((whole.a8 - halves.a8).abs() < 1e-9);
        }
    }
}
