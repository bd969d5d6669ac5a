//! Joints of one setting in numbers: what their readings and their verdicts say of the joints to come.
//!
//! Nothing here decides: a joint is good or not by its own readings, and the trial loop says when there are
//! enough. These numbers say how much so few joints can prove.

use calc::capability::{self, Capability, Sample};
use calc::decision::Limits;
use calc::moments::moments;
use calc::proportion::{self, Intervals};
use calc::tolerance_factor::{self, Formula};
use calc::units::Unit;
use calc::working::{Working, figures};
use calc::{grubbs, normality};

use crate::entry::{CrewJoint, JointReading, Outcome, TrialJointRead};
use crate::job::SetUp;
use crate::sheet::{Criterion, FastenerFamily};

/// Confidence of every interval. Common practice.
pub const CONFIDENCE: f64 = 0.95;
/// Share of the joints that a tolerance interval is to hold. Common practice.
pub const SHARE: f64 = 0.95;
/// Chance that a good sample is called odd. Common practice.
pub const SIGNIFICANCE: f64 = 0.05;
/// Below this many readings the tests of shape find nearly nothing. Common practice, no source.
pub const FEW: usize = 8;
/// A capability that counts as good. Common practice, no source.
pub const GOOD_CPK: f64 = 1.33;

/// Joints of one setting.
#[derive(Clone, Debug, PartialEq)]
pub struct JointNumbers<'a> {
    /// Good ones among them, and how many there are.
    pub good: (u64, u64),
    /// What that proves of the share of good ones.
    pub share: Intervals,
    /// Each criterion that was measured on at least two.
    pub criteria: Vec<CriterionNumbers<'a>>,
}

/// One criterion over the joints.
#[derive(Clone, Debug, PartialEq)]
pub struct CriterionNumbers<'a> {
    /// The criterion.
    pub criterion: &'a Criterion,
    /// One value a joint, in its unit, in order: its worst place.
    pub values: Vec<f64>,
    /// Decimals of its unit that the gauge shows, as they were typed.
    pub decimals: usize,
    /// Count, mean, standard deviation.
    pub sample: Sample,
    /// How it fits its limits; `None` where the readings are all the same.
    pub capability: Option<Capability>,
    /// The interval that holds [`SHARE`] of the joints.
    pub between: Option<Tolerance>,
    /// The bounds above and below which, each for itself, [`SHARE`] of them lie.
    pub beyond: Option<Tolerance>,
    /// Whether the readings look normal.
    pub normal: Option<normality::Tested>,
    /// Whether one stands out.
    pub outlier: Option<grubbs::Tested>,
}

/// A tolerance interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tolerance {
    /// Factor of the standard deviation.
    pub factor: f64,
    /// Lower end.
    pub lower: f64,
    /// Upper end.
    pub upper: f64,
}

impl<'a> JointNumbers<'a> {
    /// Joints by their verdicts and readings: of each, whether it is good, and what was measured of which criterion.
    /// `None` without a joint.
    fn of(
        fastener: &'a FastenerFamily,
        good: &[bool],
        read: impl Fn(&Criterion) -> Vec<Place>,
    ) -> Option<Self> {
        let count = good.len() as u64;
        let are_good = good.iter().filter(|good| **good).count() as u64;
        let criteria = fastener.criteria.iter();
        Some(Self {
            good: (are_good, count),
            share: proportion::intervals(are_good, count, CONFIDENCE).ok()?,
            criteria: criteria
                .filter_map(|c| CriterionNumbers::of(c, &read(c)))
                .collect(),
        })
    }

    /// The joints of `set_up` at the setting of the last one. Readings by a gauge out of date, or
    /// outside its points, are left out.
    pub fn of_set_up(set_up: &SetUp, fastener: &'a FastenerFamily) -> Option<Self> {
        Self::of_set_ups(std::iter::once(set_up), fastener)
    }

    /// The joints of several set-ups as one sample, of each those at the setting of its last one. Joints of one set-up
    /// are more alike than those of two: the intervals are too narrow by that.
    pub fn of_set_ups<'s>(
        set_ups: impl Iterator<Item = &'s SetUp>,
        fastener: &'a FastenerFamily,
    ) -> Option<Self> {
        let here: Vec<&TrialJointRead> = set_ups.flat_map(at_last_setting).collect();
        if here.is_empty() {
            return None;
        }
        let good: Vec<bool> = here.iter().map(|j| j.outcome == Outcome::Accept).collect();
        Self::of(fastener, &good, |c| {
            let of_joint = |joint: &&TrialJointRead| {
                let readings = joint.readings.iter();
                let readings = readings.filter(|r| r.criterion == c.id && r.reading.is_evidence());
                let place = |r: &JointReading| {
                    Place::of(r.reading.value, &r.reading.raw, &r.reading.unit, c)
                };
                worst_place(readings.filter_map(place), c)
            };
            here.iter().filter_map(of_joint).collect()
        })
    }

    /// The joints that a crew sent at once.
    pub fn of_crew(joints: &[CrewJoint], fastener: &'a FastenerFamily) -> Option<Self> {
        let is_good = |joint: &CrewJoint| {
            let mut outcomes = joint.readings.iter().map(|r| r.outcome);
            outcomes.len() > 0 && outcomes.all(|o| o == Outcome::Accept)
        };
        let good: Vec<bool> = joints.iter().map(is_good).collect();
        Self::of(fastener, &good, |c| of_crew(joints, c))
    }
}

/// The joints of a set-up at the setting of its last one.
fn at_last_setting(set_up: &SetUp) -> impl Iterator<Item = &TrialJointRead> {
    let last = set_up.joints.last().map(|j| &j.body);
    let all = set_up.joints.iter().map(|j| &j.body);
    all.filter(move |j| {
        last.is_some_and(|last| j.turns == last.turns && j.pressure_bar == last.pressure_bar)
    })
}

/// What a crew read of one criterion, in its unit, in order: one value a joint, that of its worst place.
pub fn values_of_crew(joints: &[CrewJoint], c: &Criterion) -> Vec<f64> {
    of_crew(joints, c).iter().map(|place| place.value).collect()
}

fn of_crew(joints: &[CrewJoint], c: &Criterion) -> Vec<Place> {
    let of_joint = |joint: &CrewJoint| {
        let readings = joint.readings.iter().filter(|r| r.criterion == c.id);
        worst_place(
            readings.filter_map(|r| Place::of(r.value, &r.raw, &r.unit, c)),
            c,
        )
    };
    joints.iter().filter_map(of_joint).collect()
}

/// What was read at one place of a joint.
#[derive(Clone, Copy, Debug)]
struct Place {
    /// In the criterion's unit.
    value: f64,
    /// Decimals of that unit that were typed.
    decimals: usize,
}

impl Place {
    fn of(value: f64, raw: &str, unit: &str, c: &Criterion) -> Option<Self> {
        let unit = Unit::parse(unit)?;
        let step = unit.convert(0.1_f64.powi(typed_decimals(raw)), c.unit)?;
        Some(Self {
            value: unit.convert(value, c.unit)?,
            // A step of 0.001 in is 0.0254 mm: two decimals.
            decimals: figures(step, 1),
        })
    }
}

/// Digits after the decimal point, or comma, of what was typed.
fn typed_decimals(raw: &str) -> i32 {
    let after = raw
        .trim()
        .split_once(['.', ','])
        .map_or("", |(_, after)| after);
    let digits = after.chars().take_while(char::is_ascii_digit).count();
    i32::try_from(digits.min(6)).unwrap_or(6)
}

/// The worst of several places on one joint: the one furthest out towards, or beyond, the nearer limit of `c`. Places on
/// one joint are alike; only joints say how joints differ.
fn worst_place(places: impl Iterator<Item = Place>, c: &Criterion) -> Option<Place> {
    let (lower, upper) = (c.limits.lower(), c.limits.upper());
    // How much room is left to the nearer limit.
    let room = |place: &Place| {
        let below = lower.map(|l| place.value - l);
        let above = upper.map(|u| u - place.value);
        below.into_iter().chain(above).fold(f64::INFINITY, f64::min)
    };
    places.min_by(|a, b| room(a).total_cmp(&room(b)))
}

impl<'a> CriterionNumbers<'a> {
    fn of(criterion: &'a Criterion, joints: &[Place]) -> Option<Self> {
        let values: Vec<f64> = joints.iter().map(|place| place.value).collect();
        let found = moments("x", &values).ok()?;
        if found.count < 2 {
            return None;
        }
        let sample = Sample {
            count: found.count as u64,
            mean: found.mean,
            deviation: found.deviation(),
        };
        let within = |formula| {
            let factor = tolerance_factor::factor(sample.count, SHARE, CONFIDENCE, formula).ok()?;
            let half = factor * sample.deviation;
            // Readings that are all the same show the gauge's resolution, not how joints differ.
            (sample.deviation > 0.0).then_some(Tolerance {
                factor,
                lower: sample.mean - half,
                upper: sample.mean + half,
            })
        };
        Some(Self {
            criterion,
            capability: capability::capability(&sample, criterion.limits, CONFIDENCE).ok(),
            between: within(Formula::TwoExact),
            beyond: within(Formula::OneExact),
            normal: normality::test(&values).ok(),
            outlier: grubbs::test(&values, SIGNIFICANCE, grubbs::Tail::Both).ok(),
            sample,
            values,
            decimals: joints.iter().map(|place| place.decimals).max()?,
        })
    }

    /// Whether the tolerance interval lies inside the limits; against one limit the one-sided bound counts.
    pub fn fits(&self) -> Option<bool> {
        let limits = self.criterion.limits;
        let inside = |t: &Tolerance| {
            limits.lower().is_none_or(|l| l <= t.lower)
                && limits.upper().is_none_or(|u| t.upper <= u)
        };
        self.counts().map(inside)
    }

    /// The interval that counts against the limits there are.
    pub fn counts(&self) -> Option<&Tolerance> {
        if is_two_sided(self.criterion.limits) {
            self.between.as_ref()
        } else {
            self.beyond.as_ref()
        }
    }

    /// Whether the tests speak against a normal distribution.
    pub fn is_odd_shaped(&self) -> bool {
        let tested = self.normal.as_ref();
        tested.is_some_and(|t| t.w_p < SIGNIFICANCE || t.a2_p < SIGNIFICANCE)
    }

    /// The reading that stands out, if one does.
    pub fn stands_out(&self) -> Option<f64> {
        let tested = self.outlier.filter(grubbs::Tested::is_outlier);
        tested.map(|t| t.furthest)
    }

    /// From the readings to each number.
    pub fn workings(&self) -> Vec<Working> {
        let count = self.sample.count;
        let capability = self
            .capability
            .as_ref()
            .map(|c| capability::working(&self.sample, self.criterion.limits, CONFIDENCE, c));
        let tolerance = self.counts().map(|t| {
            let formula = if is_two_sided(self.criterion.limits) {
                Formula::TwoExact
            } else {
                Formula::OneExact
            };
            let factor = tolerance_factor::working(count, SHARE, CONFIDENCE, formula, t.factor);
            let (mean, deviation) = (self.sample.mean, self.sample.deviation);
            tolerance_factor::interval_working(factor, mean, deviation, t.factor)
        });
        let normal = self.normal.as_ref().map(normality::working);
        let outlier = self.outlier.as_ref().map(grubbs::working);
        let all = [capability, tolerance, normal, outlier];
        all.into_iter().flatten().collect()
    }
}

/// Whether there are two limits.
pub fn is_two_sided(limits: Limits) -> bool {
    limits.lower().is_some() && limits.upper().is_some()
}
