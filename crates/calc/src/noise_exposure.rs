//! Noise of a day: L_EX,8h from tasks or from single events.
//!
//! # Formula
//! Level of a task: L = 10 · lg(1/m · Σ 10^(0.1 · L_j)). L_EX,8h = 10 · lg(Σ T / 8 h · 10^(0.1 · L)). From single events:
//! L_EX,8h = L_AE + 10 · lg N − 10 · lg 28 800.
//!
//! # Validity
//! A-weighted levels in dB at the ear, without hearing protection. The peak of a single report is judged apart. Levels that
//! a maker declares are measured at a set place and are not the level at the ear.
//!
//! # Source
//! ISO 9612:2009, clause 9 and annex D; Directive 2003/10/EC, article 3: action values 80 and 85 dB, limit 87 dB.

use crate::Message;
use crate::error::{CalcError, within};
use crate::working::{Method, Working};

/// The level of a day from tasks.
pub const TASKS: Method = Method {
    name: "noise-exposure-level",
    version: 1,
    source: "ISO 9612:2009, clause 9; Directive 2003/10/EC, article 3",
};

/// The level of a day from events.
pub const EVENTS: Method = Method {
    name: "noise-exposure-events",
    version: 1,
    source: "sound exposure level of single events over 8 h (ISO 9612:2009; 28 800 s)",
};

/// Lower exposure action value, dB(A).
pub const LOWER_ACTION: f64 = 80.0;
/// Upper exposure action value, dB(A).
pub const UPPER_ACTION: f64 = 85.0;
/// Exposure limit value, dB(A), at the ear under the hearing protection that is worn.
pub const LIMIT: f64 = 87.0;

const DAY_HOURS: f64 = 8.0;
const DAY_SECONDS: f64 = 28_800.0;
const LONGEST_HOURS: f64 = 24.0;
/// No reading lies further out, dB.
const LOUDEST: f64 = 200.0;

/// One task of the day.
#[derive(Clone, Debug, PartialEq)]
pub struct Task {
    /// Levels that were read while it went on, dB(A).
    pub levels: Vec<f64>,
    /// How long it takes in the day, h.
    pub hours: f64,
}

/// The day at one pair of ears.
#[derive(Clone, Debug, PartialEq)]
pub struct Day {
    /// Level of each task, dB(A).
    pub levels: Vec<f64>,
    /// L_EX,8h, dB(A).
    pub level_8h: f64,
}

/// The mean by energy of `levels`, at least one.
fn energy_mean(levels: &[f64]) -> f64 {
    let energy: f64 = levels.iter().map(|l| 10_f64.powf(0.1 * l)).sum();
    10.0 * (energy / levels.len() as f64).log10()
}

/// The level of `tasks` on one day.
///
/// # Errors
/// No task, a task without a level or with one outside ±200 dB, hours below 0, none or more than 24 together.
pub fn day(tasks: &[Task]) -> Result<Day, CalcError> {
    let too_few = |input| {
        Err(CalcError::TooFew {
            input,
            have: 0,
            need: 1,
        })
    };
    if tasks.is_empty() {
        return too_few("tasks");
    }
    for task in tasks {
        if task.levels.is_empty() {
            return too_few("L");
        }
        for level in &task.levels {
            within("L", *level, -LOUDEST, LOUDEST)?;
        }
        within("T", task.hours, 0.0, LONGEST_HOURS)?;
    }
    let hours: f64 = tasks.iter().map(|t| t.hours).sum();
    within("ΣT", hours, 1e-9, LONGEST_HOURS * (1.0 + 1e-12))?;
    let levels: Vec<f64> = tasks.iter().map(|t| energy_mean(&t.levels)).collect();
    let parts = tasks.iter().zip(&levels);
    let energy: f64 = parts
        .map(|(t, l)| t.hours / DAY_HOURS * 10_f64.powf(0.1 * l))
        .sum();
    Ok(Day {
        levels,
        level_8h: 10.0 * energy.log10(),
    })
}

/// The level of `count` events of the sound exposure level `event` dB(A) in a day.
///
/// # Errors
/// No event or more than 10⁹, a level outside ±200 dB.
pub fn of_events(event: f64, count: u64) -> Result<f64, CalcError> {
    let event = within("L_AE", event, -LOUDEST, LOUDEST)?;
    let n = within("N", count as f64, 1.0, 1e9)?;
    Ok(event + 10.0 * n.log10() - 10.0 * DAY_SECONDS.log10())
}

/// Symbols of the first tasks: level and hours.
const NAMES: [(&str, &str); 6] = [
    ("L₁", "T₁"),
    ("L₂", "T₂"),
    ("L₃", "T₃"),
    ("L₄", "T₄"),
    ("L₅", "T₅"),
    ("L₆", "T₆"),
];

/// The working of a day.
pub fn working(tasks: &[Task], day: &Day) -> Working {
    let mut w = Working::new(TASKS);
    for ((task, level), names) in tasks.iter().zip(&day.levels).zip(NAMES) {
        w = w
            .given(names.0, Message::new("given-task-level"), *level, 1, "dB")
            .given(names.1, Message::new("given-hours"), task.hours, 3, "h");
    }
    w.step(
        "L_EX",
        "10 · lg(Σ T_i / 8 · 10^(L_i / 10))",
        day.level_8h,
        1,
        "dB",
    )
    .note(Message::new("note-noise-values"))
    .note(Message::new("note-noise-peak"))
}

/// The working of events.
pub fn events_working(event: f64, count: u64, level: f64) -> Working {
    Working::new(EVENTS)
        .given("L_AE", Message::new("given-event-level"), event, 1, "dB")
        .given("N", Message::new("given-event-count"), count as f64, 0, "")
        .step("L_EX", "L_AE + 10 · lg(N) − 10 · lg(28800)", level, 1, "dB")
        .note(Message::new("note-noise-values"))
        .note(Message::new("note-noise-peak"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn task(level: f64, hours: f64) -> Task {
        Task {
            levels: vec![level],
            hours,
        }
    }

    #[test]
    fn the_standard_s_welder() {
        // ISO 9612:2009, annex D: L_EX,8h = 84.3 dB.
        let of = |levels: &[f64], hours| Task {
            levels: levels.to_vec(),
            hours,
        };
        let tasks = [
            of(&[70.0], 1.5),
            of(&[80.1, 82.2, 79.6], 5.0),
            of(&[86.5, 92.4, 89.3, 93.2, 87.8, 86.2], 1.5),
        ];
        let found = day(&tasks).expect("good");
        assert!((found.level_8h - 84.3).abs() <= 0.05, "{found:?}");
    }

    #[test]
    fn a_whole_day_of_one_level_is_that_level() {
        // By hand: 8 h of L is L; 28 800 events of one second's worth are it, too.
        assert_eq!(day(&[task(80.0, 8.0)]).expect("good").level_8h, 80.0);
        let events = of_events(80.0, 28_800).expect("good");
        assert!((events - 80.0).abs() < 1e-12);
    }

    #[test]
    fn refusals() {
        assert!(day(&[]).is_err());
        assert!(
            day(&[Task {
                levels: vec![],
                hours: 1.0
            }])
            .is_err()
        );
        for (level, hours) in [
            (f64::NAN, 1.0),
            (201.0, 1.0),
            (80.0, -1.0),
            (80.0, 25.0),
            (80.0, 0.0),
            (80.0, f64::NAN),
        ] {
            assert!(day(&[task(level, hours)]).is_err(), "{level} {hours}");
        }
        assert!(of_events(92.0, 0).is_err());
        assert!(of_events(f64::INFINITY, 5).is_err());
    }

    proptest! {
        #[test]
        fn twice_the_time_is_three_decibels(level in 40.0..120.0f64, hours in 0.01..12.0f64) {
            let once = day(&[task(level, hours)]).expect("good").level_8h;
            let twice = day(&[task(level, 2.0 * hours)]).expect("good").level_8h;
            prop_assert!((twice - once - 10.0 * 2.0_f64.log10()).abs() < 1e-9);
        }
    }
}
