//! Documents and drawings, from view models: no queries, no clock.

#![warn(missing_docs)]

mod document;
mod error;
pub mod gauge_bar;
pub mod model;
pub mod turns;
mod typeset;

pub use document::{service_report, setup_card};
pub use error::PaperError;
pub use gauge_bar::{GaugeBar, gauge_bar};
pub use turns::{fraction, turn_arrow};
