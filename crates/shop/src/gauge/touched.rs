//! Backwards: which readings a gauge took while it was outside its limits, or by a calibration that counts no more.

use calc::units::Unit;
use jiff::civil::Date;

use super::{Failure, History};
use crate::entry::{Body, FeatureRead, PinRecord, PullsRead, Reading, ThicknessRead, WrenchWay};
use crate::sheet::{Feature, Gauge, Shelf};

/// Why a reading is in doubt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Doubt {
    /// Its gauge was found outside its limits.
    Failed(Failure),
    /// The calibration that corrected it counts no more: its number at the gauge.
    Struck(u32),
}

impl Doubt {
    /// Number, at the gauge, of what throws the doubt.
    pub fn number(&self) -> u32 {
        match self {
            Self::Failed(failure) => failure.number,
            Self::Struck(number) => *number,
        }
    }
}

/// What a gauge took.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum What<'a> {
    /// A reading.
    Reading(&'a Reading),
    /// A number of a recorded pull.
    Number {
        /// Number of the pull in its recording.
        pull: u32,
        /// The number.
        read: &'a FeatureRead,
    },
    /// A recorded pull as a whole, held against a band of good ones.
    Pull(u32),
}

/// Something in an entry, and the gauge that took it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Taken<'a> {
    /// The gauge.
    pub gauge: &'a PinRecord,
    /// What it took.
    pub what: What<'a>,
    /// Number of the calibration that was used, if one was.
    pub calibration: Option<u32>,
    /// Direction in which a torque wrench was turned, where it was noted.
    pub way: Option<WrenchWay>,
}

impl<'a> Taken<'a> {
    fn of_reading(reading: &'a Reading) -> Self {
        Self {
            gauge: &reading.gauge,
            what: What::Reading(reading),
            calibration: reading.calibration.map(|used| used.number),
            way: reading.way,
        }
    }

    /// Number of the recorded pull that it is of; `None` of a reading.
    pub fn pull(&self) -> Option<u32> {
        match self.what {
            What::Reading(_) => None,
            What::Number { pull, .. } | What::Pull(pull) => Some(pull),
        }
    }

    /// What throws doubt on it; nothing if it stands. Its gauge has this `history`, and it was written on `day`. On the day
    /// on which a failure was found and ended nobody knows the order, unless the calibration that it names tells it.
    pub fn doubts(&self, history: &History, sheet: Option<&Gauge>, day: Date) -> Vec<Doubt> {
        let failures = history.failures(sheet).into_iter();
        let failed = failures.filter(|f| f.touches(day, self.way));
        let is_after = |f: &Failure| self.calibration.is_some_and(|n| history.is_after(n, f));
        let failed = failed.filter(|f| !is_after(f));
        let is_struck = |number: &u32| history.line(*number).is_some_and(|l| l.struck.is_some());
        let struck = self.calibration.filter(is_struck);
        let struck = struck.map(Doubt::Struck);
        failed.map(Doubt::Failed).chain(struck).collect()
    }
}

/// Readings that were taken with a gauge in doubt.
#[derive(Clone, Debug, PartialEq)]
pub struct Use {
    /// Id of the gauge.
    pub gauge: String,
    /// What throws doubt on it.
    pub doubt: Doubt,
    /// How many readings of the entry; a recorded pull counts as one, whatever numbers it gave.
    pub readings: usize,
}

impl Shelf {
    /// The gauges in doubt among those that took the readings of `body`, written on `day`: the first doubt of each
    /// reading.
    pub fn doubted(&self, body: &Body, day: Date) -> Vec<Use> {
        self.doubted_of(body.taken(), day)
    }

    /// The same of recorded pulls.
    pub fn doubted_pulls(&self, read: &PullsRead, day: Date) -> Vec<Use> {
        self.doubted_of(of_pulls(read), day)
    }

    fn doubted_of(&self, all: Vec<Taken>, day: Date) -> Vec<Use> {
        let mut uses: Vec<(Use, Option<u32>)> = Vec::new();
        for taken in all {
            let id = &taken.gauge.id;
            let Some(history) = self.gauge_history(id) else {
                continue;
            };
            let doubts = taken.doubts(history, self.gauge_in_force(id), day);
            let Some(doubt) = doubts.first().copied() else {
                continue;
            };
            let pull = taken.pull();
            let known = |(one, _): &&mut (Use, _)| one.gauge == *id && one.doubt == doubt;
            match uses.iter_mut().find(known) {
                // Another number of the same pull.
                Some((_, last)) if pull.is_some() && *last == pull => {}
                Some((one, last)) => {
                    one.readings += 1;
                    *last = pull;
                }
                None => {
                    let first = Use {
                        gauge: id.clone(),
                        doubt,
                        readings: 1,
                    };
                    uses.push((first, pull));
                }
            }
        }
        uses.into_iter().map(|(one, _)| one).collect()
    }
}

impl Body {
    /// Everything in the entry that a gauge took: its readings, and what a rig's gauges recorded of each pull.
    pub fn taken(&self) -> Vec<Taken<'_>> {
        match self {
            Self::PullsRead(read) => of_pulls(read),
            _ => self.readings().into_iter().map(Taken::of_reading).collect(),
        }
    }

    /// Every reading that stands in the entry. Numbers of recorded pulls are none: see [`Body::taken`].
    pub fn readings(&self) -> Vec<&Reading> {
        match self {
            Self::BenchTestRead(read) => read.readings.iter().collect(),
            Self::FoundJointRead(read) => read.readings.iter().map(|r| &r.reading).collect(),
            Self::TrialJointRead(read) => {
                let joint = read.readings.iter().map(|r| &r.reading);
                joint.chain(&read.pressure).collect()
            }
            Self::StepDone(done) => done.reading.iter().chain(&done.others).collect(),
            Self::StickOutRead(read) => read.readings.iter().collect(),
            Self::Fitted(fitted) => {
                let stack = fitted.stack.iter().flat_map(|stack| &stack.layers);
                let layers = stack.filter_map(|layer| match &layer.thickness {
                    ThicknessRead::Measured(reading) => Some(reading),
                    ThicknessRead::Nominal { .. } => None,
                });
                fitted.collet_mm.iter().chain(layers).collect()
            }
            _ => Vec::new(),
        }
    }
}

/// The numbers of pulls by the gauges behind them; a pull without any, or held against a band, as a whole.
fn of_pulls<'a>(read: &'a PullsRead) -> Vec<Taken<'a>> {
    let of = |gauge: &'a PinRecord, what| Taken {
        gauge,
        what,
        calibration: read.corrected_by(&gauge.id),
        way: None,
    };
    let mut taken = Vec::new();
    for pull in &read.pulls {
        for feature in &pull.features {
            let what = What::Number {
                pull: pull.number,
                read: feature,
            };
            let behind = behind(Feature::parse(&feature.feature), &read.gauges);
            taken.extend(behind.map(|gauge| of(gauge, what)));
        }
        if pull.like.is_some() || pull.features.is_empty() {
            let whole = read.gauges.iter();
            taken.extend(whole.map(|gauge| of(gauge, What::Pull(pull.number))));
        }
    }
    taken
}

/// The gauges that `feature` rests on, of a rig's load cell and displacement sensor in this order: a force on the cell, a
/// way on the sensor, all else on both.
fn behind(feature: Option<Feature>, gauges: &[PinRecord]) -> impl Iterator<Item = &PinRecord> {
    let (has_both, unit) = (gauges.len() == 2, feature.and_then(Feature::unit));
    let counts = move |at: usize| match unit {
        Some(Unit::Kilonewton) if has_both => at == 0,
        Some(Unit::Millimetre) if has_both => at == 1,
        _ => true,
    };
    let gauges = gauges.iter().enumerate();
    gauges.filter(move |(at, _)| counts(*at)).map(|(_, g)| g)
}
