//! How values look on a page: one place each for times, verdicts, workings, turns.

mod name;
mod time;
mod turn;
mod verdict;
mod working;

pub use name::unbroken;
pub use time::{day, days_left, moment};
pub use turn::{change, turn};
pub use verdict::chip;
pub use working::working;
