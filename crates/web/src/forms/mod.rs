//! What was typed into a form, and how it is read.

pub mod date;
pub mod errors;
pub mod fraction;
pub mod length;
pub mod money;
pub mod number;
pub mod time;
pub mod typed;

pub use date::parse_date;
pub use errors::FieldErrors;
pub use length::too_long;
pub use money::parse_money;
pub use number::{parse_count, parse_number, parse_quantity};
pub use time::parse_time;
pub use typed::Typed;
