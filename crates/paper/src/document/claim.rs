//! The warranty claim and the return note.

use serde::Serialize;
use words::Words;

use super::{Data, entry, pages};
use crate::PaperError;
use crate::model::{Claim, Day, RecordHead, ReturnNote};
use crate::typeset::pdf;

/// The claim sheet as PDF, A4.
///
/// # Errors
/// A day that is not in the calendar, or the typesetter refuses.
pub fn warranty_claim(claim: &Claim, words: &Words) -> Result<Vec<u8>, PaperError> {
    let ident = format!("claim {} {}", claim.number, claim.record.hash);
    plain(
        "/claim.typ",
        claim,
        &claim.record,
        ident,
        claim.issued,
        words,
    )
}

/// The return note as PDF, A4.
///
/// # Errors
/// A day that is not in the calendar, or the typesetter refuses.
pub fn return_note(note: &ReturnNote, words: &Words) -> Result<Vec<u8>, PaperError> {
    let ident = format!("return note {} {}", note.number, note.record.hash);
    plain("/note.typ", note, &note.record, ident, note.issued, words)
}

fn plain(
    template: &str,
    doc: &impl Serialize,
    record: &RecordHead,
    ident: String,
    issued: Day,
    words: &Words,
) -> Result<Vec<u8>, PaperError> {
    let mut said = pages(words);
    said.insert("entry", entry(words, record.sequence));
    pdf(template, &Data::of(doc, words, said), &ident, issued)
}
