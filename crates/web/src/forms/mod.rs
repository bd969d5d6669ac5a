//! What was typed into a form, and how it is read.

pub mod errors;
pub mod fraction;
pub mod number;
pub mod typed;

pub use errors::FieldErrors;
pub use number::{parse_count, parse_number};
pub use typed::Typed;
