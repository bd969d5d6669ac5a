//! Drawings read back: geometry, order, nothing outside, nothing over something else.

mod axis;
mod chart;
mod joint;
mod svg;
#[path = "../documents/tool.rs"]
mod tool;
