//! Numbers for fastener setting: metrology, mechanics, inference.
//!
//! Pure functions: no I/O, no clock, no randomness, no words of the shop. One module a method; each
//! names its formula, units, errors and source. Everything a user sees computed comes with its
//! [`working::Working`].

pub mod age_replacement;
pub mod air_line;
pub mod air_line_rules;
pub mod ball_screw;
pub mod battery;
pub mod bayes;
pub mod bayes_network;
mod bisection;
mod blurred_uniform;
pub mod capability;
pub mod chi_square;
pub mod conformity;
pub mod cylinder;
pub mod decision;
pub mod demonstration;
pub mod error;
pub mod fault_finder;
mod fisher;
pub mod force_check;
pub mod gauge_correction;
pub mod gauge_rr;
pub mod gauge_rr_range;
pub mod global_risk;
pub mod grip_code;
pub mod grubbs;
pub mod hand_arm_vibration;
pub mod information;
pub mod intensifier;
pub mod interpolation;
pub mod inverse_prediction;
pub mod kaplan_meier;
pub mod life_fit;
pub mod line_posterior;
pub mod message;
pub mod moments;
pub mod mtbf;
pub mod noise_exposure;
pub mod noisy_or;
pub mod normal;
pub mod normality;
pub mod one_way;
pub mod operating_characteristic;
pub mod polynomial;
pub mod power_screw;
pub mod preload;
pub mod proportion;
pub mod pull_pressure;
pub mod pull_work;
mod quadrature;
pub mod repeated;
pub mod rivet_strength;
pub mod run_chart;
pub mod sampling_tables;
pub mod screw_stop;
pub mod spread;
pub mod stack;
pub mod stick_out_causes;
pub mod straight_line;
pub mod stroke_relation;
pub mod student;
pub mod tolerance_factor;
pub mod torque_adapter;
pub mod torque_tool;
pub mod trial_loop;
pub mod two_point_plan;
pub mod uncertainty_budget;
pub mod units;
pub mod wear;
pub mod working;
pub mod zero_failure;

pub use error::CalcError;
pub use message::Message;
