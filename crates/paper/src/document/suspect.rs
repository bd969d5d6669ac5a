//! The notice of joints in doubt.

use calc::Message;
use calc::decision::Rule;
use words::{Term, Words};

use super::{Data, entry, pages};
use crate::PaperError;
use crate::model::SuspectNotice;
use crate::typeset::pdf;

/// The notice as PDF, A4.
///
/// # Errors
/// A day that is not in the calendar, or the typesetter refuses.
pub fn suspect_notice(notice: &SuspectNotice, words: &Words) -> Result<Vec<u8>, PaperError> {
    let mut said = pages(words);
    said.insert("entry", entry(words, notice.record.sequence));
    let issued = Message::new("paper-care-issued")
        .with("day", notice.issued_on.as_str())
        .with("job", notice.job.as_str());
    said.insert("issued", words.say(&issued));
    let data = Data {
        rules: rules(notice),
        ..Data::of(notice, words, said)
    };
    let ident = format!("suspect {} {}", notice.job, notice.record.hash);
    pdf("/suspect.typ", &data, &ident, notice.issued)
}

/// The decision rules that its readings were judged by.
fn rules(notice: &SuspectNotice) -> Vec<&'static str> {
    let readings = notice.findings.iter().flat_map(|f| &f.readings);
    let used: Vec<Rule> = readings.map(|r| r.reading.bar.rule).collect();
    let rules = [Rule::Guarded, Rule::Simple].into_iter();
    rules.filter(|r| used.contains(r)).map(Term::id).collect()
}
