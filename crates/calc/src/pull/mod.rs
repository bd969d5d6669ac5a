//! Pulls recorded on the bench: force and stroke over time.
//!
//! From a logger's file to separate pulls, from a pull to its phases and features, and whether it is like
//! the good ones before it.
//!
//! # Source
//! Each file names its own.

pub mod change_points;
pub mod energy;
pub mod envelope;
pub mod integral;
pub mod peaks;
pub mod reading;
pub mod recording;
