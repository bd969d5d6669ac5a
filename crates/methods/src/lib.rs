//! Every calculation by its name: one registry for the prompt, the API and the validation run.
//!
//! A method is a [`MethodCard`]: what it is called, where it comes from, what goes in and what comes
//! out as JSON, and how it is run. What goes in and out is declared once ([`shape`]); reading,
//! writing and the JSON Schema follow from that. [`checks`] holds methods against values from outside.

mod card;
pub mod checks;
mod contracts;
mod error;
mod nearest;
mod registry;
pub mod shape;

pub use card::{Answer, MethodCard};
pub use error::{MethodError, Why};
pub use nearest::nearest;
pub use registry::{all, find, nearest_name};
