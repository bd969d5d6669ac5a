//! Every component of the style sheet, on pages of its own, in a browser.

mod bench;
mod caliper;
mod classes;
mod components;
mod forms;
mod job;
mod look;
mod parts;
mod server;
