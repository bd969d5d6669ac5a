//! The pages in a real browser: every test starts its own server and its own headless Chromium.
//!
//! Needs `chromium`, `chromedriver` and axe-core (`npm ci`); `./test` installs them.

mod air_tool;
mod crew;
mod drafts;
mod drag;
mod gauge_failed;
mod harness;
#[path = "../played/mod.rs"]
mod played;
mod recorded_pulls;
mod shop;
mod study;
mod style;
mod technician;
mod whole_job;
mod work_place;
