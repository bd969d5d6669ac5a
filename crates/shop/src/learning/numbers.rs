//! The numbers of a fault model on one drive: as the sheet states them, counted, and learned.

use std::collections::HashMap;

use calc::learned_share::{self, Cases};
use calc::working::Working;
use jiff::Timestamp;

use super::lessons::Taught;
use super::{Lessons, Ruling, Rulings};
use crate::entry::LearntNumber;
use crate::sheet::{Cause, Drive, FaultModel, Kind, Own, Shelf, UNLISTED};

/// Shares are held inside this: what never happened so far may happen.
const SHARE: (f64, f64) = (1e-6, 1.0 - 1e-6);

/// A number: the sheet's, the counts, and what they make together.
#[derive(Clone, Debug, PartialEq)]
pub struct Learnt {
    /// Which.
    pub number: LearntNumber,
    /// Share as the sheet states it.
    pub prior: f64,
    /// Cases that the sheet's share counts as.
    pub weight: f64,
    /// It cannot be less: what shows by itself, or is a false alarm, shows beside the cause, too.
    pub least: f64,
    /// Own cases.
    pub cases: Cases,
    /// What a manager said of it last.
    pub ruling: Option<Ruling>,
}

/// How a number came to be what it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum State {
    /// As the sheet says: nothing was counted.
    Sheet,
    /// The sheet's and own counts.
    Learned,
    /// Held by a manager.
    Pinned,
}

impl Learnt {
    /// How it came to be.
    pub fn state(&self) -> State {
        match self.pinned() {
            Some(_) => State::Pinned,
            None if self.cases.all == 0 => State::Sheet,
            None => State::Learned,
        }
    }

    fn pinned(&self) -> Option<f64> {
        self.ruling.as_ref().and_then(|ruling| ruling.pinned)
    }

    /// The share that the fault-finder reckons with.
    pub fn share(&self) -> f64 {
        let (low, high) = SHARE;
        let learned = || {
            learned_share::learned_share(self.prior, self.weight, self.cases)
                .map_or(self.prior, |l| l.share)
        };
        match self.state() {
            State::Sheet => self.prior,
            State::Learned => learned().clamp(low, high).max(self.least),
            State::Pinned => self
                .pinned()
                .unwrap_or(self.prior)
                .clamp(low, high)
                .max(self.least),
        }
    }

    /// How counts and sheet make the share.
    pub fn working(&self) -> Option<Working> {
        learned_share::working(self.prior, self.weight, self.cases).ok()
    }
}

/// Every number of a drive, counted.
#[derive(Clone, Debug)]
pub struct Counted<'a> {
    faults: &'a FaultModel,
    /// The numbers: rates, then what causes show, then what checks answer.
    pub numbers: Vec<Learnt>,
    /// Jobs on the drive that teach.
    pub jobs: u32,
    /// For each cause of the drive in how many jobs it was confirmed, and after how many of them the tool came back.
    pub came_back: Vec<(&'a str, Cases)>,
    places: Places<'a>,
    /// All counts began anew then.
    since: Option<Timestamp>,
}

/// Places of numbers by the id that they are about.
type ByName<'a> = Vec<(&'a str, usize)>;

/// Where the numbers stand in the list.
#[derive(Clone, Debug, Default)]
struct Places<'a> {
    /// Causes of the drive by id, something not in the list as well.
    causes: HashMap<&'a str, usize>,
    /// For each cause its rates, by the drive's key or a model.
    rates: Vec<ByName<'a>>,
    /// For each cause the symptoms that it shows.
    shows: Vec<ByName<'a>>,
    /// For each check its causes, and its false alarm.
    checks: HashMap<&'a str, (ByName<'a>, usize)>,
}

impl<'a> Counted<'a> {
    /// The numbers of `faults` on `drive` after `lessons` and what a manager said of them.
    pub fn of(
        faults: &'a FaultModel,
        drive: Drive,
        lessons: &Lessons,
        rulings: &Rulings,
        shelf: &Shelf,
    ) -> Self {
        let mut counted = Self {
            faults,
            numbers: Vec::new(),
            jobs: 0,
            came_back: Vec::new(),
            places: Places::default(),
            since: rulings.all_since(),
        };
        let on_drive = |model: &str| {
            let pin = shelf.newest(Kind::ToolModel, model);
            pin.and_then(|pin| shelf.model(&pin))
                .is_some_and(|model| model.drive == drive)
        };
        counted.list(drive, rulings, on_drive);
        for taught in lessons.all.iter().filter(|t| t.drive == drive.key()) {
            counted.count(taught);
        }
        // A cause that is there does not silence a false alarm.
        for (links, alarm) in counted.places.checks.values() {
            let least = counted.numbers[*alarm].share();
            for (_, number) in links {
                counted.numbers[*number].least = least;
            }
        }
        counted
    }

    fn list(&mut self, drive: Drive, rulings: &Rulings, on_drive: impl Fn(&str) -> bool) {
        let faults = self.faults;
        let learning = faults.learning;
        let mut add = |number: LearntNumber, prior: f64, weight: f64| {
            self.numbers.push(Learnt {
                least: match &number {
                    LearntNumber::Shows { .. } => faults.leak,
                    _ => 0.0,
                },
                prior,
                weight,
                cases: Cases::default(),
                ruling: rulings.of(&number).cloned(),
                number,
            });
            self.numbers.len() - 1
        };
        let places = &mut self.places;
        let causes: Vec<(&str, Option<&Cause>)> = faults
            .causes
            .iter()
            .filter(|cause| cause.drives.contains(&drive))
            .map(|cause| (cause.id.as_str(), Some(cause)))
            .chain([(UNLISTED, None)])
            .collect();
        for (id, cause) in &causes {
            let per_1000 = cause.map_or(faults.unlisted_per_1000, |c| c.per_1000);
            let mut rate = |on: &'a str, per_1000: f64| {
                let number = LearntNumber::Rate {
                    cause: (*id).to_owned(),
                    on: on.to_owned(),
                };
                (on, add(number, per_1000 / 1000.0, learning.prior_jobs))
            };
            let mut rates = vec![rate(drive.key(), per_1000)];
            let own = cause.iter().flat_map(|c| &c.per_1000_on);
            for (model, per_1000) in own.filter(|(model, _)| on_drive(model)) {
                rates.push(rate(model.as_str(), *per_1000));
            }
            places.causes.insert(id, places.rates.len());
            places.rates.push(rates);
            self.came_back.push((id, Cases::default()));
        }
        for (id, cause) in &causes {
            let shows = cause
                .iter()
                .flat_map(|c| &c.shows)
                .map(|(symptom, chance)| {
                    let number = LearntNumber::Shows {
                        cause: (*id).to_owned(),
                        symptom: symptom.clone(),
                    };
                    // That it is reported at all: shown by the cause, or by the leak.
                    let reported = 1.0 - (1.0 - chance) * (1.0 - faults.leak);
                    (
                        symptom.as_str(),
                        add(number, reported, learning.prior_answers),
                    )
                });
            places.shows.push(shows.collect());
        }
        for check in &faults.checks {
            let of_drive = |cause: &str| causes.iter().any(|(id, _)| *id == cause);
            let links: ByName = check
                .links
                .iter()
                .filter(|link| of_drive(&link.cause))
                .map(|link| {
                    let number = LearntNumber::Yes {
                        check: check.id.clone(),
                        cause: link.cause.clone(),
                    };
                    let place = add(number, link.if_true, learning.prior_answers);
                    (link.cause.as_str(), place)
                })
                .collect();
            if !links.is_empty() {
                let check_id = check.id.clone();
                let number = LearntNumber::FalseAlarm { check: check_id };
                let alarm = add(number, check.false_alarm, learning.prior_answers);
                places.checks.insert(&check.id, (links, alarm));
            }
        }
    }

    fn count(&mut self, taught: &Taught) {
        let lesson = taught.lesson;
        if !lesson.mended || self.since.is_some_and(|since| lesson.closed <= since) {
            return;
        }
        self.jobs += 1;
        for cause in &lesson.causes {
            if let Some(place) = self.places.causes.get(cause.as_str()) {
                let cases = &mut self.came_back[*place].1;
                cases.all += 1;
                cases.yes += u32::from(taught.came_back);
            }
        }
        // After a come-back nobody knows what the cause was: the job counts as one without it, and its answers
        // for nothing.
        let confirmed: &[String] = match taught.came_back {
            true => &[],
            false => &lesson.causes,
        };
        for (id, place) in &self.places.causes {
            let rates = &self.places.rates[*place];
            let own = rates.iter().find(|(on, _)| *on == lesson.model.id);
            let (_, number) = own.unwrap_or(&rates[0]);
            let is_it = confirmed.iter().any(|c| c == id);
            let kinds = self.faults.cause(id).map_or(&[][..], |c| &c.fasteners);
            // On a tool that sets none of its fasteners it says nothing that it was not there.
            if !is_it && !kinds.is_empty() && !taught.kinds.iter().any(|k| kinds.contains(k)) {
                continue;
            }
            add(&mut self.numbers[*number], lesson.closed, is_it);
        }
        if taught.came_back {
            return;
        }
        // What one cause shows is learned where it was the only one.
        if let [only] = confirmed
            && let Some(place) = self.places.causes.get(only.as_str())
        {
            for (symptom, number) in &self.places.shows[*place] {
                let mut there = lesson.symptoms.iter();
                let there = there.any(|(id, there)| id == symptom && *there);
                add(&mut self.numbers[*number], lesson.closed, there);
            }
        }
        for (check, yes) in &lesson.checks {
            let Some((links, alarm)) = self.places.checks.get(check.as_str()) else {
                continue;
            };
            let mut told = links
                .iter()
                .filter(|(id, _)| confirmed.iter().any(|c| c == id));
            let number = match (told.next(), confirmed) {
                (Some((_, number)), [_]) => number,
                (None, _) => alarm,
                // Several causes at once: which of them answered, nobody knows.
                (Some(_), _) => continue,
            };
            add(&mut self.numbers[*number], lesson.closed, *yes);
        }
    }

    /// The fault model with these numbers, for a tool of `model`.
    pub fn faults_for(&self, model: &str) -> FaultModel {
        let mut faults = self.faults.clone();
        let pins = self.numbers.iter().filter(|n| n.state() == State::Pinned);
        faults.own = Some(Own {
            jobs: self.jobs,
            pins: u32::try_from(pins.count()).unwrap_or(u32::MAX),
        });
        for cause in &mut faults.causes {
            let Some(place) = self.places.causes.get(cause.id.as_str()) else {
                continue;
            };
            cause.per_1000 = self.rate(*place, model) * 1000.0;
            for (symptom, chance) in &mut cause.shows {
                let shows = &self.places.shows[*place];
                if let Some((_, number)) = shows.iter().find(|(id, _)| id == symptom) {
                    let number = &self.numbers[*number];
                    if number.state() != State::Sheet {
                        *chance = calc::fault_finder::link_of(faults.leak, number.share());
                    }
                }
            }
        }
        if let Some(place) = self.places.causes.get(UNLISTED) {
            faults.unlisted_per_1000 = self.rate(*place, model) * 1000.0;
        }
        for check in &mut faults.checks {
            let Some((links, alarm)) = self.places.checks.get(check.id.as_str()) else {
                continue;
            };
            check.false_alarm = self.numbers[*alarm].share();
            for link in &mut check.links {
                if let Some((_, number)) = links.iter().find(|(id, _)| *id == link.cause) {
                    link.if_true = self.numbers[*number].share();
                }
            }
        }
        faults
    }

    fn rate(&self, cause: usize, model: &str) -> f64 {
        let rates = &self.places.rates[cause];
        let own = rates.iter().find(|(on, _)| *on == model);
        self.numbers[own.unwrap_or(&rates[0]).1].share()
    }
}

/// Counts a case of `number`, unless its counts began anew after it.
fn add(number: &mut Learnt, closed: Timestamp, yes: bool) {
    let since = number.ruling.as_ref().and_then(|ruling| ruling.since);
    if since.is_none_or(|since| closed > since) {
        number.cases.all += 1;
        number.cases.yes += u32::from(yes);
    }
}
