//! Would a verdict stand with what was found of its gauge afterwards?
//!
//! What the gauge indicated is corrected by its deviation as found, straight from point to point, and judged again
//! against the same limits. Of recorded pulls, whose zero is taken off at rest, it is the deviation from that at zero. Its
//! expanded uncertainty is that of the verdict and that of the finding, together. How the
//! gauge stood on the day of the reading nobody knows: it lay between good and as found, so a verdict that stands with
//! the deviation as found is only told to stand where it was clear before, too.

use calc::decision::{self, Limits, Rule, Verdict};
use calc::interpolation;
use calc::pull::reading::Deviations;
use calc::units::Unit;
use jiff::civil::Date;

use super::{Doubt, History, What, Written, reckoned_force};
use crate::entry::{
    Body, CalibrationPoint, CheckPoint, CheckedAs, FeatureRead, GaugeCalibrated, GaugeChecked,
    JointReading, Outcome, Reading, StepDone,
};
use crate::job::{Desk, Job, SetUp};
use crate::pulls::{Behind, FromRest};
use crate::route::Hold;
use crate::sheet::{BenchTestKind, FastenerFamily, Feature, Gauge};

/// Whether a verdict would stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stands {
    /// It is the same, beyond doubt.
    Yes,
    /// The record does not say enough, or the limit lies inside the doubt.
    Unknown,
    /// It turns over.
    No,
}

/// A verdict, and the reading of one gauge that it rests on.
struct Judged {
    /// What the gauge indicated.
    indicated: f64,
    /// Whether that is counted from what it shows at rest.
    from_rest: bool,
    unit: Unit,
    expanded: f64,
    limits: Limits,
    rule: Rule,
    outcome: Outcome,
}

/// What is known of a gauge by what throws the doubt.
enum Found<'a> {
    /// What it indicated and its deviation there, in its unit, with the largest expanded uncertainty of them.
    At(Vec<(f64, f64)>, f64),
    /// The calibration that counts instead.
    Calibrated(&'a GaugeCalibrated),
}

impl Found<'_> {
    /// The true value behind `indicated` and the expanded uncertainty of the finding, in `unit`; `None` outside the
    /// points.
    fn of(&self, gauge: &Gauge, indicated: f64, unit: Unit) -> Option<(f64, f64)> {
        match self {
            Self::At(rows, expanded) => {
                let own = unit.convert(indicated, gauge.unit)?;
                let deviation = interpolation::linear(rows, own).ok()?.value;
                let value = gauge.unit.convert(own - deviation, unit)?;
                Some((value, gauge.unit.convert(*expanded, unit)?))
            }
            Self::Calibrated(c) => {
                let corrected = c.correct(gauge, unit, &[indicated])?;
                Some((corrected.value, corrected.budget.expanded))
            }
        }
    }

    /// The same behind `shown`, counted from what the gauge showed at rest.
    fn of_rest(&self, gauge: &Gauge, shown: f64, unit: Unit) -> Option<(f64, f64)> {
        let deviations = self.deviations(gauge, unit)?;
        let value = FromRest::new(deviations.clone(), unit).value(shown);
        // As it was found it indicated so: whether there are points, and how sure they are, is asked there.
        let (_, expanded) = self.of(gauge, deviations.shown(value), unit)?;
        Some((value, expanded))
    }

    fn deviations(&self, gauge: &Gauge, unit: Unit) -> Option<Deviations> {
        match self {
            Self::At(rows, _) => {
                let both = |(indicated, off): &(f64, f64)| {
                    let indicated = gauge.unit.convert(*indicated, unit)?;
                    Some((indicated, gauge.unit.convert(*off, unit)?))
                };
                let points: Option<Vec<(f64, f64)>> = rows.iter().map(both).collect();
                Some(Deviations::through(points?))
            }
            Self::Calibrated(c) => {
                let calibration = Some(*c);
                Some(Behind { gauge, calibration }.known(unit)?.deviations)
            }
        }
    }
}

impl Judged {
    fn stands(&self, found: &Found, gauge: &Gauge) -> Option<Stands> {
        let (value, of_finding) = match self.from_rest {
            true => found.of_rest(gauge, self.indicated, self.unit)?,
            false => found.of(gauge, self.indicated, self.unit)?,
        };
        let expanded = self.expanded.hypot(of_finding);
        let now = decision::judge(value, expanded, self.limits, self.rule).ok()?;
        Some(match (Verdict::from(self.outcome), now) {
            (Verdict::Undecided, _) | (_, Verdict::Undecided) => Stands::Unknown,
            (was, is) if was == is => Stands::Yes,
            _ => Stands::No,
        })
    }
}

impl Job {
    /// Whether the verdicts of `body` of this job, written on `day`, that rest on gauge `id` would stand with what
    /// throws `doubt` on it: the worst of them. Unknown for a setting, which has no verdict.
    pub fn would_stand(
        &self,
        body: &Body,
        id: &str,
        doubt: &Doubt,
        day: Date,
        desk: &Desk,
    ) -> Stands {
        let gauge = desk.shelf.gauge_in_force(id);
        let history = desk.shelf.gauge_history(id);
        let (Some(gauge), Some(history)) = (gauge, history) else {
            return Stands::Unknown;
        };
        let Some(found) = found(gauge, history, doubt, day) else {
            return Stands::Unknown;
        };
        // What the gauge took and no verdict is known of leaves the answer open.
        let Some(judged) = self.judged(body, id, desk) else {
            return Stands::Unknown;
        };
        let stands = |one: &Option<Judged>| one.as_ref()?.stands(&found, gauge);
        let each = judged.iter().map(stands);
        let each = each.map(|stands| stands.unwrap_or(Stands::Unknown));
        each.max().unwrap_or(Stands::Unknown)
    }

    /// The verdicts of `body` that rest on gauge `id`, `None` for one that cannot be reckoned: one that turns over is told
    /// beside it.
    fn judged(&self, body: &Body, id: &str, desk: &Desk) -> Option<Vec<Option<Judged>>> {
        match body {
            Body::PullsRead(_) => of_pulls(body, id, desk),
            Body::BenchTestRead(read) => {
                let tests = &self.model(desk)?.bench_tests;
                let test = tests.iter().find(|test| test.id == read.test)?;
                let BenchTestKind::Measured {
                    limits,
                    rule,
                    spread_percent,
                    ..
                } = &test.kind
                else {
                    return None;
                };
                if test.feature == Some(Feature::HoldLoss) {
                    // A difference: where its two readings lay nobody noted.
                    return None;
                }
                // A spread that was too wide: the mean is not what decided.
                let too_wide = spread_percent.is_some_and(|m| read.spread_percent > Some(m));
                let same = read.readings.iter().all(|r| r.gauge.id == id);
                let first = read.readings.first()?;
                let unit = Unit::parse(&first.unit)?;
                let count = read.readings.len() as f64;
                let mean =
                    |of: fn(&Reading) -> f64| read.readings.iter().map(of).sum::<f64>() / count;
                let one = Judged {
                    indicated: match first.from_rest {
                        true => {
                            let used = first.calibration.map(|used| used.number);
                            from_rest(mean(|r| r.value), unit, used, id, desk)?
                        }
                        false => mean(Reading::indicated),
                    },
                    from_rest: first.from_rest,
                    unit,
                    expanded: read.expanded?,
                    limits: *limits,
                    rule: *rule,
                    outcome: read.outcome,
                };
                (same && !too_wide).then(|| vec![Some(one)])
            }
            Body::FoundJointRead(read) => {
                let fastener = desk.shelf.fastener(&(&read.fastener).into())?;
                Some(of_joint(&read.readings, fastener, id))
            }
            Body::TrialJointRead(read) => {
                let is_it = |set_up: &&SetUp| set_up.joints.iter().any(|joint| joint.body == *read);
                let set_up = self.set_ups.iter().find(is_it)?;
                let fastener = self.set_up_sheets(set_up, desk)?.fastener;
                // The pressure that a joint was set with has no verdict of its own.
                let is_pressure = read.pressure.as_ref().is_some_and(|r| r.gauge.id == id);
                let mut judged = of_joint(&read.readings, fastener, id);
                judged.extend(is_pressure.then_some(None));
                Some(judged)
            }
            Body::StepDone(done) => self.of_step(done, id, desk),
            _ => None,
        }
    }

    fn of_step(&self, done: &StepDone, id: &str, desk: &Desk) -> Option<Vec<Option<Judged>>> {
        let steps = self.route_steps(self.model(desk)?)?;
        let step = steps.into_iter().find(|step| step.id == done.step)?;
        let Hold::Reading { limits, .. } = step.hold()? else {
            return None;
        };
        let outcome = done.outcome?;
        let worst = done.reading.as_ref()?;
        // Behind an adapter the values are the joint's, what was indicated the wrench's.
        let all = done.reading.iter().chain(&done.others);
        let whole = done.adapter.is_none() && all.clone().all(|r| r.gauge.id == id);
        let one = |reading: &Reading| {
            // The step's verdict is that of its worst reading; the others were no worse.
            let judged = of_reading(reading, limits, Rule::Guarded, outcome)?;
            let own =
                decision::judge(reading.value, judged.expanded, limits, Rule::Guarded).ok()?;
            Some(Judged {
                outcome: if reading == worst {
                    outcome
                } else {
                    own.into()
                },
                ..judged
            })
        };
        whole.then(|| all.map(one).collect())
    }
}

fn of_reading(reading: &Reading, limits: Limits, rule: Rule, outcome: Outcome) -> Option<Judged> {
    Some(Judged {
        indicated: reading.indicated(),
        from_rest: false,
        unit: Unit::parse(&reading.unit)?,
        expanded: reading.expanded?,
        limits,
        rule,
        outcome,
    })
}

fn of_joint(readings: &[JointReading], by: &FastenerFamily, id: &str) -> Vec<Option<Judged>> {
    let own = readings.iter().filter(|r| r.reading.gauge.id == id);
    let judged = own.map(|r| {
        let criterion = by.criterion(&r.criterion)?;
        of_reading(&r.reading, criterion.limits, criterion.rule, r.outcome)
    });
    judged.collect()
}

/// The verdicts on pulls; `None` for what is no force and no way, which is reckoned from both gauges, or from two
/// readings of one, and for a pull held against a band.
fn of_pulls(body: &Body, id: &str, desk: &Desk) -> Option<Vec<Option<Judged>>> {
    let taken = body.taken().into_iter().filter(|t| t.gauge.id == id);
    let judged = taken.filter_map(|taken| match taken.what {
        What::Number { read, .. } => {
            let outcome = read.outcome?;
            Some(of_number(read, outcome, taken.calibration, id, desk))
        }
        What::Reading(_) | What::Pull(_) => Some(None),
    });
    Some(judged.collect())
}

fn of_number(
    read: &FeatureRead,
    outcome: Outcome,
    calibration: Option<u32>,
    id: &str,
    desk: &Desk,
) -> Option<Judged> {
    let feature = Feature::parse(&read.feature)?;
    let unit = feature.unit().filter(|_| feature != Feature::HoldLoss)?;
    Some(Judged {
        indicated: from_rest(read.value, unit, calibration, id, desk)?,
        from_rest: true,
        unit,
        expanded: read.expanded,
        limits: Limits::new(read.lower, read.upper).ok()?,
        // A number of a pull is kept without its rule: the stricter one leaves more open.
        rule: Rule::Guarded,
        outcome,
    })
}

/// What gauge `id` showed of a pull, counted from rest, where calibration `used` made `value` of it.
fn from_rest(value: f64, unit: Unit, used: Option<u32>, id: &str, desk: &Desk) -> Option<f64> {
    let Some(number) = used else {
        return Some(value);
    };
    let behind = Behind {
        gauge: desk.shelf.gauge_in_force(id)?,
        calibration: Some(desk.shelf.gauge_history(id)?.calibration(number)?),
    };
    Some(FromRest::new(behind.known(unit)?.deviations, unit).shown(value))
}

impl History {
    /// Whether what `gauge` indicated rose with what was true, where `doubt` was found: else one indication may stand for
    /// several true values, and no verdict can be reckoned again. True where nothing was found to say otherwise.
    pub fn found_rises(&self, gauge: &Gauge, doubt: &Doubt) -> bool {
        let line = self.line(doubt.number()).map(|line| &line.what);
        let rows = match (doubt, line) {
            (Doubt::Failed(_), Some(Written::Calibrated(c))) => Some(as_found(c)),
            (Doubt::Failed(_), Some(Written::Checked(c))) => as_checked(c, gauge).map(|c| c.0),
            _ => None,
        };
        rows.is_none_or(|rows| rises(&rows))
    }
}

/// Whether the indications of `rows`, each with its deviation, rise with what was true.
fn rises(rows: &[(f64, f64)]) -> bool {
    let mut points: Vec<(f64, f64)> = rows.iter().map(|(at, off)| (at - off, *at)).collect();
    points.sort_by(|a, b| a.0.total_cmp(&b.0));
    points
        .windows(2)
        .all(|pair| matches!(pair, [before, after] if before.1 < after.1))
}

/// What `doubt` says of the gauge; `None` where that has no numbers, or where they give no curve.
fn found<'a>(gauge: &Gauge, history: &'a History, doubt: &Doubt, day: Date) -> Option<Found<'a>> {
    let line = history.line(doubt.number())?;
    let mut found = match (doubt, &line.what) {
        (Doubt::Struck(_), _) => {
            // One direction of a wrench says nothing of the other.
            let holds = |c: &&GaugeCalibrated| {
                c.left == Outcome::Accept && day < c.due && c.ways.len() != 1
            };
            let instead = history.in_force(gauge, day, None);
            return instead.filter(holds).map(Found::Calibrated);
        }
        (Doubt::Failed(_), Written::Calibrated(c)) => (as_found(c), c.widest()),
        (Doubt::Failed(_), Written::Checked(c)) => as_checked(c, gauge)?,
        (Doubt::Failed(_), Written::Studied(_)) => return None,
    };
    found.0.sort_by(|a, b| a.0.total_cmp(&b.0));
    (found.0.len() > 1 && rises(&found.0)).then_some(Found::At(found.0, found.1))
}

/// The points of a calibration as it found the gauge.
fn as_found(c: &GaugeCalibrated) -> Vec<(f64, f64)> {
    let found = |point: &CalibrationPoint| {
        // Where nothing was read before it was adjusted, and nothing adjusted, left is found.
        let off = point.found.or(c.found.is_none().then_some(point.left))?;
        Some((point.nominal + off, off))
    };
    c.points.iter().filter_map(found).collect()
}

/// The points of a check, with the largest uncertainty of them; `None` where that of the reference is not known.
fn as_checked(c: &GaugeChecked, gauge: &Gauge) -> Option<(Vec<(f64, f64)>, f64)> {
    let mean = |p: &CheckPoint| p.readings.iter().sum::<f64>() / p.readings.len() as f64;
    let points = c.points.iter();
    Some(match c.check {
        CheckedAs::Force { .. } => {
            let (_, checked, _) = reckoned_force(c, gauge)?;
            let expanded = points.clone().zip(&checked);
            let expanded = expanded.map(|(p, c)| c.expanded_pct / 100.0 * p.nominal);
            let rows = points.map(|p| (mean(p), mean(p) - p.nominal));
            (rows.collect(), expanded.fold(0.0, f64::max))
        }
        CheckedAs::Torque {
            reference_expanded_pct,
            ..
        } => {
            let share = reference_expanded_pct? / 100.0;
            let apart = |p: &CheckPoint| {
                let of = |x: &f64| (x - mean(p)).abs();
                p.readings.iter().map(of).fold(0.0, f64::max)
            };
            let expanded = points.clone().map(|p| (share * mean(p)).hypot(apart(p)));
            let expanded = expanded.fold(0.0, f64::max);
            let rows = points.map(|p| (p.nominal, p.nominal - mean(p)));
            (rows.collect(), expanded)
        }
    })
}
