//! What a gauge touched that was found outside its limits.

use calc::Message;
use words::Words;

use super::{Data, entry, pages};
use crate::PaperError;
use crate::model::GaugeFailure;
use crate::typeset::pdf;

/// The paper as PDF, A4.
///
/// # Errors
/// A day that is not in the calendar, or the typesetter refuses.
pub fn gauge_failure(failure: &GaugeFailure, words: &Words) -> Result<Vec<u8>, PaperError> {
    let mut said = pages(words);
    said.insert("entry", entry(words, failure.record.sequence));
    let readings: usize = failure.jobs.iter().map(|job| job.readings.len()).sum();
    let count = Message::new("paper-failure-count")
        .with("jobs", failure.jobs.len())
        .with("entries", readings);
    said.insert("count", words.say(&count));
    let data = Data::of(failure, words, said);
    let ident = format!(
        "gauge failure {} {} {}",
        failure.gauge, failure.found_by, failure.record.hash
    );
    pdf("/gauge-failure.typ", &data, &ident, failure.issued)
}
