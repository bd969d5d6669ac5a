//! What the shop's own closed jobs make of the numbers of its fault model.
//!
//! A job teaches when it is over, its cause was confirmed, and the tool was proved after the mending or nothing was
//! wrong with it ([`Lesson`]). A tool that comes back soon with the same complaint speaks against the cause that was
//! confirmed before ([`Lessons`]). The sheet's number counts as a stated number of jobs or answers, own counts are
//! added to it ([`calc::learned_share`]). A manager may pin a number or begin its counts anew ([`Rulings`]).
//!
//! A job is worked with what was known when its cause was confirmed, or is known now: never with its own lesson.

mod decide;
mod lesson;
mod lessons;
mod numbers;
mod rulings;

pub use decide::{LearningCommand, decide};
pub use lesson::{Lesson, lesson};
pub use lessons::Lessons;
pub use numbers::{Counted, Learnt, State};
pub use rulings::{Ruling, Rulings};
