//! Documents and drawings, from view models: no queries, no clock.

#![warn(missing_docs)]

pub mod axis;
mod document;
mod error;
pub mod gauge_bar;
pub mod joint;
mod lettering;
pub mod model;
mod svg;
pub mod turns;
mod typeset;

pub use axis::axis;
pub use document::{service_report, setup_card, setup_cards};
pub use error::PaperError;
pub use gauge_bar::{GaugeBar, gauge_bar};
pub use joint::joint;
pub use turns::{fraction, turn_arrow};
