//! What goes into each method and what comes out, as JSON. One file a subject.

pub(crate) mod air_lines;
pub(crate) mod battery;
pub(crate) mod bayes_network;
pub(crate) mod calibration;
pub(crate) mod conformity;
pub(crate) mod expected_information;
pub(crate) mod fault_posterior;
pub(crate) mod grip_code;
pub(crate) mod hydraulics;
pub(crate) mod line_posterior;
pub(crate) mod polynomial;
pub(crate) mod pulls;
pub(crate) mod relative_range;
pub(crate) mod repeated_readings;
pub(crate) mod rivet_strength;
pub(crate) mod screw_stop;
pub(crate) mod screws;
pub(crate) mod student_factor;
pub(crate) mod table_straight_line;
pub(crate) mod torque_adapter;
pub(crate) mod torque_tool_deviation;
pub(crate) mod trial_loop;
pub(crate) mod trials;
pub(crate) mod uncertainty_budget;
pub(crate) mod unit_conversion;
