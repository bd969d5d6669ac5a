//! The documents as PDF: what they say, that nothing is cut, that they repeat byte for byte.

mod card;
mod pdf;
mod report;
mod sample;
mod templates;
