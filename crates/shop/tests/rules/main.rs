//! The rules of the shop: what is refused, what is decided, what a job tells, on the demo sheets.

mod arithmetic;
mod as_found;
mod bench;
mod corrections;
mod crew;
#[path = "../demo_sheets/mod.rs"]
mod demo_sheets;
mod diagnosis;
mod energy;
mod entries;
mod estimate;
mod grip;
mod handed;
mod holds;
mod joints;
mod noise;
mod nose;
mod nose_order;
mod nose_parts;
mod nose_twins;
mod numbers;
mod own;
mod pressure;
mod receive;
mod reopened;
mod route;
mod set_up;
mod setting;
mod simulation;
mod stages;
mod tighten;
mod trial;
mod walk;
mod warranty;
mod ways;
