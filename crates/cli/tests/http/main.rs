//! The whole program over HTTP, where things go wrong: bad input, two benches, forms sent twice, a
//! sheet withdrawn, a full disk, a kill.

mod backup;
mod bad_input;
mod bench_rules;
mod benches;
mod calculators;
mod certificate;
mod certificate_doubts;
mod certificate_papers;
mod client;
mod crew_link;
mod crew_link_prompt;
mod durability;
mod files;
mod fleet;
mod fleet_pages;
mod gauge_failures;
mod gauges;
mod hold_gauges;
mod kept;
mod names;
mod nose_match;
mod one_go;
#[path = "../played/mod.rs"]
mod played;
mod program;
mod pulls;
mod quote;
mod recordings;
mod suspect;
mod warranty;
mod work_place;
mod worn;
