//! Numbers for fastener setting: metrology, mechanics, inference.
//!
//! Pure functions: no I/O, no clock, no randomness, no words of the shop. One module a method; each
//! names its formula, units, errors and source. Everything a user sees computed comes with its
//! [`working::Working`].

pub mod air_line;
pub mod air_line_rules;
pub mod ball_screw;
pub mod battery;
pub mod bayes;
pub mod bayes_network;
mod bisection;
mod blurred_uniform;
pub mod conformity;
pub mod cylinder;
pub mod decision;
pub mod demonstration;
pub mod error;
pub mod fault_finder;
pub mod global_risk;
pub mod grip_code;
pub mod information;
pub mod intensifier;
pub mod interpolation;
pub mod inverse_prediction;
pub mod labour_time;
pub mod line_posterior;
pub mod message;
pub mod noisy_or;
pub mod normal;
pub mod polynomial;
pub mod power_screw;
pub mod preload;
pub mod pull_pressure;
pub mod pull_work;
pub mod repair_or_replace;
pub mod repeated;
pub mod rivet_strength;
pub mod screw_stop;
pub mod spread;
pub mod stack;
pub mod stick_out_causes;
pub mod straight_line;
pub mod stroke_relation;
pub mod student;
pub mod torque_adapter;
pub mod torque_tool;
pub mod trial_loop;
pub mod uncertainty_budget;
pub mod units;
pub mod wear;
pub mod working;
pub mod zero_failure;

pub use error::CalcError;
pub use message::Message;
