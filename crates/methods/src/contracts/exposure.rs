//! `hand-arm-vibration-a8`, `hand-arm-vibration-time`, `noise-exposure-level`, `noise-exposure-events`

use calc::hand_arm_vibration::{self as vibration, ACTION, LIMIT};
use calc::noise_exposure as noise;
use calc::working::{Method, Working};

use crate::card::Contract;
use crate::shape::{NotNegative, Positive, contract};
use crate::{MethodError, Why};

contract! {
    /// One tool in use: `hours`, or `pulls` and `seconds_per_pull`.
    struct VibrationTask {
        /// Vibration total value.
        a_hv_m_per_s2: NotNegative,
        /// Time with the hand on the trigger in a day, hours.
        hours: Option<NotNegative>,
        /// Pulls in a day.
        pulls: Option<u64>,
        /// Time of one pull, s.
        seconds_per_pull: Option<NotNegative>,
    }
}

contract! {
    /// The tools that one pair of hands holds in a day.
    struct VibrationInput {
        /// The tools.
        tasks: Vec<VibrationTask>,
    }
}

contract! {
    /// What the hands bear.
    struct VibrationOutput {
        /// Daily exposure.
        a8_m_per_s2: f64,
        /// What each tool adds.
        partial_m_per_s2: Vec<f64>,
        /// Points of each tool.
        points: Vec<f64>,
        /// Points together: 100 at the action value, 400 at the limit value.
        total_points: f64,
        /// Whether it is above the action value of 2.5 m/s².
        above_action_value: bool,
        /// Whether it is above the limit value of 5 m/s².
        above_limit_value: bool,
    }
}

fn hours(task: &VibrationTask) -> Result<f64, MethodError> {
    match (task.hours, task.pulls, task.seconds_per_pull) {
        (Some(hours), None, None) => Ok(hours.0),
        (None, Some(pulls), Some(seconds)) => Ok(pulls as f64 * seconds.0 / 3600.0),
        (None, Some(_), None) => Err(MethodError::at("seconds_per_pull", "", Why::Missing)),
        (None, None, Some(_)) => Err(MethodError::at("pulls", "", Why::Missing)),
        (None, None, None) => Err(MethodError::at("hours", "", Why::Missing)),
        (Some(hours), ..) => {
            let allowed = "hours | pulls, seconds_per_pull".to_owned();
            Err(MethodError::at(
                "hours",
                hours.0,
                Why::NotAllowed { allowed },
            ))
        }
    }
}

/// The contract.
pub(crate) struct VibrationDay;

impl Contract for VibrationDay {
    const METHOD: Method = vibration::DAY;
    const SUMMARY: &'static str = "method-hand-arm-vibration-a8";
    const FORMULA: &'static str =
        "A_i(8) = a_hv · √(T / 8); A(8) = √(Σ A_i(8)²); points 2 · a_hv² · T";
    const NAMES: &'static [(&'static str, &'static str)] =
        &[("a_hv", "tasks"), ("T", "tasks"), ("ΣT", "tasks")];
    const ANSWERS: &'static [&'static str] = &["a8_m_per_s2", "total_points"];
    type In = VibrationInput;
    type Out = VibrationOutput;

    fn compute(input: &VibrationInput) -> Result<(VibrationOutput, Option<Working>), MethodError> {
        let mut tasks = Vec::with_capacity(input.tasks.len());
        for (i, task) in input.tasks.iter().enumerate() {
            tasks.push(vibration::Task {
                a_hv: task.a_hv_m_per_s2.0,
                hours: hours(task).map_err(|e| e.item(i).under("tasks"))?,
            });
        }
        let day = vibration::day(&tasks)?;
        let working = vibration::day_working(&tasks, &day);
        let points: Vec<f64> = tasks.iter().map(vibration::Task::points).collect();
        let out = VibrationOutput {
            a8_m_per_s2: day.a8,
            above_action_value: day.is_above_action(),
            above_limit_value: day.is_above_limit(),
            total_points: points.iter().sum(),
            points,
            partial_m_per_s2: day.partial,
        };
        Ok((out, Some(working)))
    }
}

contract! {
    /// A tool.
    struct TimeInput {
        /// Vibration total value, m/s².
        a_hv_m_per_s2: Positive,
    }
}

contract! {
    /// How long it may be held in a day if nothing else is, hours; 24 where it never comes to the value.
    struct TimeOutput {
        /// Until the action value.
        hours_to_action_value: f64,
        /// Until the limit value.
        hours_to_limit_value: f64,
    }
}

/// The contract.
pub(crate) struct VibrationTime;

impl Contract for VibrationTime {
    const METHOD: Method = vibration::TIME;
    const SUMMARY: &'static str = "method-hand-arm-vibration-time";
    const FORMULA: &'static str = "T = 8 · (A / a_hv)², at most 24; A = 2.5 and 5";
    const NAMES: &'static [(&'static str, &'static str)] = &[("a_hv", "a_hv_m_per_s2")];
    type In = TimeInput;
    type Out = TimeOutput;

    fn compute(input: &TimeInput) -> Result<(TimeOutput, Option<Working>), MethodError> {
        let a = input.a_hv_m_per_s2.0;
        let out = TimeOutput {
            hours_to_action_value: vibration::hours_to(a, ACTION)?,
            hours_to_limit_value: vibration::hours_to(a, LIMIT)?,
        };
        let (action, limit) = (out.hours_to_action_value, out.hours_to_limit_value);
        Ok((out, Some(vibration::time_working(a, action, limit))))
    }
}

contract! {
    /// One task of the day.
    struct NoiseTask {
        /// Levels read while it went on, A-weighted, at the ear.
        levels_dB: Vec<f64>,
        /// How long it takes in the day, hours.
        hours: NotNegative,
    }
}

contract! {
    /// The tasks of one day.
    struct NoiseInput {
        /// The tasks.
        tasks: Vec<NoiseTask>,
    }
}

contract! {
    /// What the ears bear, without hearing protection.
    struct NoiseOutput {
        /// Daily exposure level.
        level_8h_dB: f64,
        /// Level of each task.
        task_levels_dB: Vec<f64>,
        /// Whether it is above the lower action value of 80 dB.
        above_lower_action_value: bool,
        /// Whether it is at or above the upper action value of 85 dB.
        reaches_upper_action_value: bool,
        /// Whether it is above 87 dB, the limit value under the hearing protection that is worn.
        above_limit_value: bool,
    }
}

/// The contract.
pub(crate) struct NoiseDay;

impl Contract for NoiseDay {
    const METHOD: Method = noise::TASKS;
    const SUMMARY: &'static str = "method-noise-exposure-level";
    const FORMULA: &'static str =
        "L = 10 · lg(1/m · Σ 10^(L_j / 10)); L_EX,8h = 10 · lg(Σ T / 8 · 10^(L / 10))";
    const NAMES: &'static [(&'static str, &'static str)] =
        &[("L", "tasks"), ("T", "tasks"), ("ΣT", "tasks")];
    const ANSWERS: &'static [&'static str] = &["level_8h_dB"];
    type In = NoiseInput;
    type Out = NoiseOutput;

    fn compute(input: &NoiseInput) -> Result<(NoiseOutput, Option<Working>), MethodError> {
        let of = |task: &NoiseTask| noise::Task {
            levels: task.levels_dB.clone(),
            hours: task.hours.0,
        };
        let tasks: Vec<noise::Task> = input.tasks.iter().map(of).collect();
        let day = noise::day(&tasks)?;
        let working = noise::working(&tasks, &day);
        let out = NoiseOutput {
            level_8h_dB: day.level_8h,
            above_lower_action_value: day.level_8h > noise::LOWER_ACTION,
            reaches_upper_action_value: day.level_8h >= noise::UPPER_ACTION,
            above_limit_value: day.level_8h > noise::LIMIT,
            task_levels_dB: day.levels,
        };
        Ok((out, Some(working)))
    }
}

contract! {
    /// Reports of one kind in a day.
    struct EventsInput {
        /// Sound exposure level of one of them, dB, A-weighted, at the ear.
        event_level_dB: f64,
        /// How many in a day.
        count: u64,
    }
}

contract! {
    /// What the ears bear, without hearing protection.
    struct EventsOutput {
        /// Daily exposure level.
        level_8h_dB: f64,
        /// Whether it is above the lower action value of 80 dB.
        above_lower_action_value: bool,
        /// Whether it is at or above the upper action value of 85 dB.
        reaches_upper_action_value: bool,
        /// Whether it is above 87 dB, the limit value under the hearing protection that is worn.
        above_limit_value: bool,
    }
}

/// The contract.
pub(crate) struct NoiseEvents;

impl Contract for NoiseEvents {
    const METHOD: Method = noise::EVENTS;
    const SUMMARY: &'static str = "method-noise-exposure-events";
    const FORMULA: &'static str = "L_EX,8h = L_AE + 10 · lg N − 10 · lg 28800";
    const NAMES: &'static [(&'static str, &'static str)] =
        &[("L_AE", "event_level_dB"), ("N", "count")];
    const ANSWERS: &'static [&'static str] = &["level_8h_dB"];
    type In = EventsInput;
    type Out = EventsOutput;

    fn compute(input: &EventsInput) -> Result<(EventsOutput, Option<Working>), MethodError> {
        let level = noise::of_events(input.event_level_dB, input.count)?;
        let out = EventsOutput {
            level_8h_dB: level,
            above_lower_action_value: level > noise::LOWER_ACTION,
            reaches_upper_action_value: level >= noise::UPPER_ACTION,
            above_limit_value: level > noise::LIMIT,
        };
        let working = noise::events_working(input.event_level_dB, input.count, level);
        Ok((out, Some(working)))
    }
}
