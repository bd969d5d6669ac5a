//! What of a certificate is in doubt: readings of a gauge that was found outside its limits, or that a calibration
//! corrected which counts no more. Nobody certifies them unseen.

use std::collections::BTreeSet;

use calc::Message;
use jiff::Timestamp;
use jiff::civil::Date;

use super::measured::{Measurement, body_of};
use super::refusal::{Refusal, reasoned, refuse};
use super::{Desk, Job};
use crate::entry::{Body, CertificateIssued, InDoubt};
use crate::gauge::Doubt;

impl Job {
    /// What of the entries that a certificate issued now would rest on is in doubt today, by entry.
    pub fn in_doubt(&self, desk: &Desk) -> Vec<InDoubt> {
        let fitted = self.set_up().map(|s| body_of(&s.fitted)).into_iter();
        let joints = self.signed_joints().iter().map(body_of);
        let tests = self.tests.iter().map(body_of);
        let pulls = self.certified_pulls().map(body_of);
        doubts_of(tests.chain(pulls).chain(fitted).chain(joints), desk)
    }

    /// What of everything that was measured in the job is in doubt today, by entry.
    pub fn all_in_doubt(&self, desk: &Desk) -> Vec<InDoubt> {
        doubts_of(self.measured(), desk)
    }

    /// What of everything measured in the job is in doubt today and was not told when it was handed back: it came since, or
    /// the record is older than the question.
    pub fn doubted_since_returned(&self, desk: &Desk) -> Vec<InDoubt> {
        let Some(back) = &self.returned else {
            return Vec::new();
        };
        let mut now = self.all_in_doubt(desk);
        now.retain(|doubt| !back.body.in_doubt.contains(doubt));
        now
    }

    /// What the certificate `issued` rests on and is in doubt today without its saying so.
    pub fn doubted_since(&self, issued: &CertificateIssued, desk: &Desk) -> Vec<Message> {
        let now = self.in_doubt(desk).into_iter();
        let rests = now.filter(|doubt| issued.rests_on.contains(&doubt.entry));
        let unsaid: Vec<InDoubt> = rests
            .filter(|doubt| !issued.in_doubt.contains(doubt))
            .collect();
        self.doubts_said(&unsaid, desk)
    }

    /// What is in doubt otherwise than when `was` was made: doubts that came, and such as are no more.
    pub fn doubts_since(&self, was: &CertificateIssued, desk: &Desk) -> Vec<Message> {
        let now = self.in_doubt(desk);
        let gone = was.in_doubt.iter().filter(|doubt| !now.contains(doubt));
        let came = now.iter().filter(|doubt| !was.in_doubt.contains(doubt));
        let came: Vec<InDoubt> = came.cloned().collect();
        let gone = gone.map(|doubt| {
            let what = self.measured_in(doubt.entry, desk);
            let said = Message::new("prepared-doubt-gone").with("what", what);
            said.with("gauge", gauge_name(&doubt.gauge, desk))
        });
        self.doubts_said(&came, desk)
            .into_iter()
            .chain(gone)
            .collect()
    }

    /// `doubts` in words, by what was measured; what was measured twice is named once.
    pub fn doubts_said(&self, doubts: &[InDoubt], desk: &Desk) -> Vec<Message> {
        let mut said: Vec<Message> = Vec::new();
        for doubt in doubts {
            let one = self.doubt_said(doubt, desk);
            if !said.contains(&one) {
                said.push(one);
            }
        }
        said
    }

    fn doubt_said(&self, doubt: &InDoubt, desk: &Desk) -> Message {
        let said = if doubt.struck {
            Message::new("doubt-calibration-struck").with("n", doubt.number)
        } else {
            let found = doubt.found(desk).map(|day| day.strftime("%-d %b %Y"));
            let found = found.map(|day| day.to_string()).unwrap_or_default();
            Message::new("doubt-gauge-failed").with("found", found)
        };
        said.with("gauge", gauge_name(&doubt.gauge, desk))
            .with("what", self.measured_in(doubt.entry, desk))
    }

    /// The reason as it is kept: nothing in doubt is certified or handed back without one, and where nothing is none is
    /// asked for. A doubt that came since the page was opened had no reason yet.
    pub(super) fn doubt_reason(
        &self,
        typed: &Doubted,
        in_doubt: &[InDoubt],
        ask: &'static str,
        desk: &Desk,
    ) -> Result<String, Refusal> {
        let Some(first) = in_doubt.first() else {
            return Ok(String::new());
        };
        // What came since is named first: a reason, however short, was not for it.
        let unseen = in_doubt
            .iter()
            .find(|doubt| !typed.seen.contains(&doubt.key()));
        match unseen {
            None => {
                let ask = Message::new(ask).with("what", self.doubt_said(first, desk));
                reasoned("doubt", &typed.reason, ask)
            }
            Some(unseen) => {
                let came = Message::new("refuse-doubt-unseen");
                let came = came.with("key", unseen.key());
                Err(refuse(
                    "doubt",
                    came.with("what", self.doubt_said(unseen, desk)),
                ))
            }
        }
    }
}

/// Why something goes out although readings are in doubt, as typed, and the doubts that were in sight then.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Doubted {
    /// Why.
    pub reason: String,
    /// Doubts on the page, by [`InDoubt::key`].
    pub seen: Vec<String>,
}

impl InDoubt {
    /// What tells it from every other doubt of its job.
    pub fn key(&self) -> String {
        let what = if self.struck { "struck" } else { "found" };
        format!("{}-{}-{}-{what}", self.entry, self.gauge, self.number)
    }

    /// Day of the calibration or check that found the gauge outside its limits, struck or not.
    fn found(&self, desk: &Desk) -> Option<Date> {
        let history = desk.shelf.gauge_history(&self.gauge)?;
        Some(history.line(self.number)?.date())
    }
}

/// Every doubt on what `all` hold, by entry.
fn doubts_of(all: impl Iterator<Item = Measurement>, desk: &Desk) -> Vec<InDoubt> {
    let found: BTreeSet<InDoubt> = all
        .flat_map(|(entry, at, body)| of_entry(entry, at, &body, desk))
        .collect();
    found.into_iter().collect()
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
        // What is found later than today nobody knows yet: a record can be played to its days.
        let is_known = |doubt: &Doubt| match doubt {
            Doubt::Failed(failure) => failure.found <= desk.today,
            Doubt::Struck(_) => true,
        };
        let of = |doubt: Doubt| InDoubt {
            entry,
            gauge: id.clone(),
            number: doubt.number(),
            struck: matches!(doubt, Doubt::Struck(_)),
        };
        let doubts = doubts.into_iter().flatten().filter(is_known);
        doubts.map(of).collect::<Vec<_>>()
    });
    doubts.collect()
}

fn gauge_name(id: &str, desk: &Desk) -> String {
    let gauge = desk.shelf.gauge_in_force(id);
    gauge.map_or_else(|| id.to_owned(), |gauge| gauge.name.clone())
}
