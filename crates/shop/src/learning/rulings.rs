//! Pins and new beginnings, folded from their entries.

use std::collections::BTreeMap;

use jiff::Timestamp;

use crate::entry::{Body, Entry, LearntNumber, PersonKey};

/// What was last said of a number.
#[derive(Clone, Debug, PartialEq)]
pub struct Ruling {
    /// Value at which it is held; `None` where it follows the closed jobs.
    pub pinned: Option<f64>,
    /// Jobs closed until then count no more.
    pub since: Option<Timestamp>,
    /// When.
    pub at: Timestamp,
    /// By whom.
    pub by: PersonKey,
    /// Why.
    pub reason: String,
}

/// All that was said of the numbers of one fault model.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Rulings {
    numbers: BTreeMap<LearntNumber, Ruling>,
    /// What was said of all numbers at once, last.
    all: Option<Ruling>,
}

impl Rulings {
    /// The rulings on the fault model `faults` in `entries` until `until`.
    pub fn fold(faults: &str, entries: &[Entry], until: Timestamp) -> Self {
        let mut rulings = Self::default();
        for entry in entries.iter().filter(|e| e.at <= until) {
            rulings.apply(faults, entry);
        }
        rulings
    }

    fn apply(&mut self, faults: &str, entry: &Entry) {
        match &entry.body {
            Body::NumberPinned(b) if b.faults == faults => {
                self.rule(&b.number, entry, &b.reason).pinned = Some(b.value);
            }
            Body::NumberReleased(b) if b.faults == faults => {
                self.rule(&b.number, entry, &b.reason).pinned = None;
            }
            Body::CountsReset(b) if b.faults == faults => match &b.number {
                Some(number) => {
                    let ruling = self.rule(number, entry, &b.reason);
                    (ruling.pinned, ruling.since) = (None, Some(entry.at));
                }
                None => {
                    self.numbers.clear();
                    let mut ruling = said(entry, &b.reason);
                    ruling.since = Some(entry.at);
                    self.all = Some(ruling);
                }
            },
            _ => {}
        }
    }

    /// The ruling on `number`, said anew by `entry`.
    fn rule(&mut self, number: &LearntNumber, entry: &Entry, reason: &str) -> &mut Ruling {
        let before = self.of(number).cloned();
        let ruling = Ruling {
            pinned: before.as_ref().and_then(|r| r.pinned),
            since: before.as_ref().and_then(|r| r.since),
            ..said(entry, reason)
        };
        let place = self.numbers.entry(number.clone());
        place.insert_entry(ruling).into_mut()
    }

    /// What holds for `number`.
    pub fn of(&self, number: &LearntNumber) -> Option<&Ruling> {
        self.numbers.get(number).or(self.all.as_ref())
    }

    /// When all counts began anew, last.
    pub fn all_since(&self) -> Option<Timestamp> {
        self.all.as_ref().and_then(|ruling| ruling.since)
    }

    /// Whether nothing was ever said.
    pub fn is_empty(&self) -> bool {
        self.numbers.is_empty() && self.all.is_none()
    }
}

fn said(entry: &Entry, reason: &str) -> Ruling {
    Ruling {
        pinned: None,
        since: None,
        at: entry.at,
        by: entry.by.clone(),
        reason: reason.to_owned(),
    }
}
