//! Numbers for fastener setting: metrology, mechanics, inference.
//!
//! Pure functions: no I/O, no clock, no randomness, no words of the shop. One module a method; each
//! names its formula, units, errors and source. Everything a user sees computed comes with its
//! [`working::Working`].

pub mod bayes;
pub mod decision;
pub mod error;
pub mod interpolation;
pub mod message;
pub mod repeated;
pub mod screw_stop;
pub mod student;
pub mod units;
pub mod working;
pub mod zero_failure;

pub use error::CalcError;
pub use message::Message;
