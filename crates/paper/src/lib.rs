//! Documents and drawings, from view models: no queries, no clock.

#![warn(missing_docs)]

pub mod axis;
pub mod chart;
mod code;
mod document;
mod error;
pub mod gauge_bar;
pub mod joint;
mod label;
mod lettering;
pub mod model;
pub mod pull_plot;
mod svg;
pub mod turns;
mod typeset;

pub use axis::axis;
pub use code::Code;
pub use document::{
    care_sheet, certificate, gauge_failure, quote, return_note, service_report, setup_card,
    setup_cards, suspect_notice, validation_report, warranty_claim,
};
pub use error::PaperError;
pub use gauge_bar::{GaugeBar, gauge_bar};
pub use joint::joint;
pub use label::{label, label_svg};
pub use pull_plot::{PullPlot, pull_plot};
pub use turns::{fraction, turn_arrow};
