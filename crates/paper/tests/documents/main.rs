//! The documents as PDF: what they say, that nothing is cut, that they repeat byte for byte.

mod card;
mod care;
mod certificate;
mod claim;
mod gauge_failure;
mod label;
mod pdf;
mod photos;
mod quote;
mod report;
mod sample;
mod suspect;
mod templates;
mod tool;
mod validation;
