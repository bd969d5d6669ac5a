//! The nouns and rules of a service shop for fastener-setting tools.
//!
//! Pure: state is a fold over entries; a command with the state gives new entries or a refusal. No
//! I/O, no clock, no randomness: whoever calls brings the time and the ids.

pub mod asked;
pub mod care;
pub mod counter;
pub mod crew;
pub mod diagnosis;
pub mod entry;
pub mod estimate;
pub mod gauge;
pub mod grip;
pub mod inches;
pub mod job;
pub mod joint;
pub mod joint_numbers;
pub mod kit;
pub mod labour;
pub mod learning;
pub mod nose_match;
pub mod pressure_setting;
pub mod pulls;
pub mod quote;
pub mod repair_or_replace;
pub mod route;
pub mod setting;
pub mod sheet;
pub mod spelling;
pub mod suspect;
pub mod tables;
pub mod trial;
pub mod warranty;
pub mod wear;
