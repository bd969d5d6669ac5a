//! How values look on a page: one place each for times, verdicts, workings, turns.

mod budget;
mod explanations;
mod joint_numbers;
mod limits;
mod name;
mod pressure;
mod setting;
mod time;
mod turn;
mod verdict;
mod working;

pub use budget::budget;
pub use explanations::explanations;
pub use joint_numbers::joint_numbers;
pub use limits::limits;
pub use name::unbroken;
pub use pressure::{bar_text, limits_text, of_what, pressure_to_set, value_text};
pub use setting::{
    by_force, full_stroke, in_band, left_out, no_setting, no_setting_in_a_line, taught, turns,
    turns_of_its_own,
};
pub use time::{day, days_left, moment};
pub use turn::{change, turn};
pub use verdict::chip;
pub use working::working;
