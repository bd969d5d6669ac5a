//! The places of the program.

use super::Page;

/// A place in the navigation. Adding one: a variant, its path, its name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Nav {
    /// Jobs on hand.
    Bench,
    /// Every tool that was ever here.
    Tools,
    /// Descriptions of tool models, fasteners, nose sets, faults.
    Sheets,
    /// Measuring instruments and their calibration.
    Gauges,
    /// What the shop learned.
    Fleet,
}

impl Nav {
    /// All of them, in the order of the bar.
    pub const ALL: &[Nav] = &[Nav::Bench, Nav::Tools, Nav::Sheets, Nav::Gauges, Nav::Fleet];

    /// Where it is.
    pub fn path(self) -> &'static str {
        match self {
            Nav::Bench => "/",
            Nav::Tools => "/tools",
            Nav::Sheets => "/sheets",
            Nav::Gauges => "/gauges",
            Nav::Fleet => crate::fleet::PATH,
        }
    }

    /// What it is called.
    pub fn name(self, page: &Page) -> String {
        page.t(match self {
            Nav::Bench => "nav-bench",
            Nav::Tools => "nav-tools",
            Nav::Sheets => "nav-sheets",
            Nav::Gauges => "nav-gauges",
            Nav::Fleet => "nav-fleet",
        })
    }
}
