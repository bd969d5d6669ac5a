//! Fault-finding: which cause is there, how sure that is, and what to look at next.
//!
//! Plain numbers only. Causes and questions go by their places from 0; the caller keeps their names.
//!
//! * [`model`]: causes with their priors, questions (signs and checks) with their links.
//! * [`posterior`](mod@posterior): from what was seen to the probability of each cause, with up to three
//!   causes at once; why; and whether what was seen contradicts itself.

pub mod conflict;
pub mod model;
pub mod posterior;
mod sets;
mod working;

pub use conflict::Conflict;
pub use model::{Handed, Link, Model, Observation, Question, link_of};
pub use posterior::{FaultSet, Faults, Posterior, posterior};
pub use working::posterior_working;
