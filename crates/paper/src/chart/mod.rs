//! Plain charts: the operating curve of a sampling plan, and readings in the order in which they came.

mod frame;
mod operating;
mod run;

pub use operating::{OperatingCurve, operating_curve};
pub use run::{RunChart, run_chart};
