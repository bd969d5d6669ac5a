//! The trial loop as the shop runs it: from the sheets and the joints of a set-up to what comes next.

use calc::trial_loop::Window;

/// Probability of a good joint at which a setting is signed off.
pub const TARGET: f64 = 0.998;
/// Joints set between two set-ups: a trial joint costs as much as one reject among so many. Common
/// practice, no source; the documentation has the curve.
pub const JOINTS_BETWEEN: f64 = 1800.0;
/// Joints that the sheet's word on the spread between joints is worth. Common practice, no source.
pub const SPREAD_WORTH: f64 = 30.0;

/// Standard uncertainty, mm, that a plan reckons for a look at a joint.
pub fn look_mm(window: Window) -> f64 {
    window.half_mm() / 2.0
}
