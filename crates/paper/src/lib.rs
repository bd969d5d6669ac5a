//! Documents and drawings, from view models: no queries, no clock.

#![warn(missing_docs)]

pub mod gauge_bar;
pub mod model;
pub mod turns;

pub use gauge_bar::{GaugeBar, gauge_bar};
pub use turns::{fraction, turn_arrow};
