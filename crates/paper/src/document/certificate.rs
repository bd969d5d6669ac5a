//! The certificate of the bench proof.

use calc::Message;
use serde::Serialize;
use words::Words;

use super::pulls::Pulls;
use super::{Data, entry, pages, rules_of};
use crate::PaperError;
use crate::model::Certificate;
use crate::typeset::pdf;

/// What the template gets.
#[derive(Serialize)]
struct Doc<'a> {
    #[serde(flatten)]
    certificate: &'a Certificate,
    pulls: Vec<Pulls<'a>>,
}

/// The certificate as PDF, A4.
///
/// # Errors
/// A day that is not in the calendar, or the typesetter refuses.
pub fn certificate(certificate: &Certificate, words: &Words) -> Result<Vec<u8>, PaperError> {
    let c = certificate;
    let mut said = pages(words);
    said.insert("entry", entry(words, c.record.sequence));
    let end = Message::new("paper-certificate-end").with("number", c.number.as_str());
    said.insert("end", words.say(&end));
    let temperature =
        Message::new("paper-certificate-temperature").with("value", c.temperature.as_str());
    said.insert("temperature", words.say(&temperature));
    let rests = Message::new("paper-certificate-rests-text")
        .with("entries", c.entries.as_str())
        .with("job", c.job.as_str());
    said.insert("rests", words.say(&rests));
    let reason = Message::new("paper-certificate-proof-reason");
    let reason = words.say(&reason.with("reason", c.proof_reason.as_str()));
    said.insert("proof", reason);
    let doubt = Message::new("paper-certificate-doubt-reason")
        .with("name", c.doubted_by.as_str())
        .with("reason", c.doubt_reason.as_str());
    said.insert("doubt", words.say(&doubt));
    let doc = Doc {
        certificate: c,
        pulls: c.pulls.iter().map(Pulls::of).collect(),
    };
    let data = Data {
        rules: rules_of(&c.tests),
        ..Data::of(doc, words, said)
    };
    let ident = format!("certificate {} {}", c.number, c.content);
    pdf("/certificate.typ", &data, &ident, c.issued)
}
