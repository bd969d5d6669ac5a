//! The quote.

use calc::Message;
use words::Words;

use super::{Data, entry, pages};
use crate::PaperError;
use crate::model::Quote;
use crate::typeset::pdf;

/// The quote as PDF, A4.
///
/// # Errors
/// A day that is not in the calendar, or the typesetter refuses.
pub fn quote(quote: &Quote, words: &Words) -> Result<Vec<u8>, PaperError> {
    let mut said = pages(words);
    said.insert("entry", entry(words, quote.record.sequence));
    let valid = Message::new("paper-quote-valid").with("day", quote.valid_until.as_str());
    said.insert("valid", words.say(&valid));
    let data = Data::of(quote, words, said);
    let ident = format!("quote {} {}", quote.number, quote.record.hash);
    pdf("/quote.typ", &data, &ident, quote.issued)
}
