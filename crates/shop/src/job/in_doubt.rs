//! What of a certificate is in doubt: readings of a gauge that was found outside its limits, or that a calibration
//! corrected which counts no more. Nobody certifies them unseen.

use std::collections::BTreeSet;

use calc::Message;
use jiff::Timestamp;
use jiff::civil::Date;

use super::refusal::{Refusal, refuse};
use super::{Desk, Job};
use crate::entry::{Body, CertificateIssued, InDoubt};
use crate::gauge::Doubt;

impl Job {
    /// What of the entries that a certificate issued now would rest on is in doubt today, by entry.
    pub fn in_doubt(&self, desk: &Desk) -> Vec<InDoubt> {
        let tests = self.tests.iter();
        let tests = tests.map(|t| (t.version, t.at, Body::from(t.body.clone())));
        let pulls = self.certified_pulls();
        let pulls = pulls.map(|p| (p.version, p.at, Body::from(p.body.clone())));
        let fitted = self.set_up().map(|s| &s.fitted).into_iter();
        let fitted = fitted.map(|f| (f.version, f.at, Body::from(f.body.clone())));
        let all = tests.chain(pulls).chain(fitted);
        let found: BTreeSet<InDoubt> = all
            .flat_map(|(entry, at, body)| of_entry(entry, at, &body, desk))
            .collect();
        found.into_iter().collect()
    }

    /// What the certificate `issued` rests on and is in doubt today without its saying so.
    pub fn doubted_since(&self, issued: &CertificateIssued, desk: &Desk) -> Vec<Message> {
        let now = self.in_doubt(desk).into_iter();
        let rests = now.filter(|doubt| issued.rests_on.contains(&doubt.entry));
        let unsaid = rests.filter(|doubt| !issued.in_doubt.contains(doubt));
        unsaid.map(|doubt| doubt.said(desk)).collect()
    }

    /// What is in doubt otherwise than when `was` was made: doubts that came, and such as are no more.
    pub fn doubts_since(&self, was: &CertificateIssued, desk: &Desk) -> Vec<Message> {
        let now = self.in_doubt(desk);
        let gone = was.in_doubt.iter().filter(|doubt| !now.contains(doubt));
        let came = now.iter().filter(|doubt| !was.in_doubt.contains(doubt));
        let came = came.map(|doubt| doubt.said(desk));
        let gone = gone.map(|doubt| {
            let said = Message::new("prepared-doubt-gone").with("entry", doubt.entry);
            said.with("gauge", gauge_name(&doubt.gauge, desk))
        });
        came.chain(gone).collect()
    }

    /// The reason as it is kept: without one nothing in doubt is certified, and where nothing is none is asked for.
    pub(super) fn doubt_reason(
        &self,
        typed: &str,
        in_doubt: &[InDoubt],
        desk: &Desk,
    ) -> Result<String, Refusal> {
        let typed = typed.trim();
        match in_doubt.first() {
            None => Ok(String::new()),
            Some(first) if typed.is_empty() => {
                let message = Message::new("refuse-certificate-doubt");
                Err(refuse("doubt", message.with("what", first.said(desk))))
            }
            Some(_) => Ok(typed.to_owned()),
        }
    }
}

impl InDoubt {
    /// What throws the doubt, and on which entry.
    pub fn said(&self, desk: &Desk) -> Message {
        let said = if self.struck {
            Message::new("doubt-calibration-struck").with("n", self.number)
        } else {
            let found = self.found(desk).map(|day| day.strftime("%-d %b %Y"));
            let found = found.map(|day| day.to_string()).unwrap_or_default();
            Message::new("doubt-gauge-failed").with("found", found)
        };
        said.with("gauge", gauge_name(&self.gauge, desk))
            .with("entry", self.entry)
    }

    /// Day of the calibration or check that found the gauge outside its limits, struck or not.
    fn found(&self, desk: &Desk) -> Option<Date> {
        let history = desk.shelf.gauge_history(&self.gauge)?;
        Some(history.line(self.number)?.date())
    }
}

/// Every doubt on what `body` holds, written at `at` as the entry `entry`.
fn of_entry(entry: u32, at: Timestamp, body: &Body, desk: &Desk) -> Vec<InDoubt> {
    let day = desk.day_of(at);
    let taken = body.taken().into_iter();
    let doubts = taken.flat_map(|taken| {
        let id = &taken.gauge.id;
        let history = desk.shelf.gauge_history(id);
        let sheet = desk.shelf.gauge_in_force(id);
        let doubts = history.map(|history| taken.doubts(history, sheet, day));
        let of = |doubt: Doubt| InDoubt {
            entry,
            gauge: id.clone(),
            number: doubt.number(),
            struck: matches!(doubt, Doubt::Struck(_)),
        };
        doubts.into_iter().flatten().map(of).collect::<Vec<_>>()
    });
    doubts.collect()
}

fn gauge_name(id: &str, desk: &Desk) -> String {
    let gauge = desk.shelf.gauge_in_force(id);
    gauge.map_or_else(|| id.to_owned(), |gauge| gauge.name.clone())
}
