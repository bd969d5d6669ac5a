//! Wear: what this tool's own readings say of a part, and whether it lasts until its next service.
//!
//! The readings are those of the steps that gauge a part, in this job and the ended ones before it, at the
//! counter of their job. A renewed part begins anew. So does one that measured nearer to new than before by
//! more than both doubts (it was renewed elsewhere), and one whose tool's counter began anew, or shows fewer
//! pulls than before: from then on pulls are counted from its next reading.

use calc::wear::{self as reckoning, Life, PRIOR_SPREAD};
use calc::working::Working;
use jiff::Timestamp;

use crate::counter::Anew;
use crate::entry::{Outcome, PartReplaced, StepDone};
use crate::job::{Desk, Job, Stamped};
use crate::sheet::{FaultModel, Part, Task, ToolModel, WEAR_RISK, Wear};

/// Probability with which the interval of the life left holds.
pub const LEVEL: f64 = 0.95;

/// A size as it was measured in a job.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gauged {
    /// When.
    pub at: Timestamp,
    /// Number of the job.
    pub job: u32,
    /// Pulls of the tool; `None` if nobody knows.
    pub counter: Option<u64>,
    /// Size, in the unit of the sheet.
    pub value: f64,
    /// Expanded uncertainty.
    pub expanded: f64,
    /// Verdict of then.
    pub outcome: Outcome,
}

/// Where the pulls of a part are counted from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Since {
    /// It was renewed in this shop, at this counter.
    Renewed(u64),
    /// Nobody knows when it was new: from its first reading.
    FirstReading,
}

/// The readings of a part that is in the tool.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct History {
    /// Oldest first, one for each job.
    pub readings: Vec<Gauged>,
    /// Counter at which it was renewed; `None` if it was not, or nobody knows.
    pub renewed_at: Option<u64>,
    /// The job in which the counter began anew: pulls are counted from then on. `None` if it did not, or the
    /// part is newer.
    pub anew: Option<u32>,
    /// Earlier readings that are of another part, or that nobody can put in a row with these.
    pub left_out: usize,
}

/// The task of the model sheet at which a part is looked at next.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Service<'a> {
    /// The task.
    pub task: &'a Task,
    /// Pulls until then.
    pub in_pulls: u64,
}

/// What to do with a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Advice {
    /// It lasts until its next service.
    Keep,
    /// It is beyond its limit, or will be too likely before its next service, which a new one would last until.
    ReplaceNow,
    /// It does not last until its next service, and neither would a new one: it is looked at after so many pulls,
    /// when the risk comes to what the shop takes.
    LookAfter(u64),
    /// Too little is known.
    CannotTell,
}

/// What is known of a wear dimension.
#[derive(Clone, Debug)]
pub struct Worn<'a> {
    /// The part.
    pub part: &'a Part,
    /// What is measured on it.
    pub wear: &'a Wear,
    /// Its readings.
    pub history: History,
    /// Where its pulls are counted from.
    pub since: Since,
    /// Its line; `None` where neither the sheet nor its readings tell how fast it wears.
    pub life: Option<Life>,
    /// When it is looked at next; `None` if the sheet has no task by the counter.
    pub service: Option<Service<'a>>,
    /// Probability of being beyond a limit at that service.
    pub risk: Option<f64>,
    /// What to do.
    pub advice: Advice,
}

impl Worn<'_> {
    /// The newest reading.
    pub fn newest(&self) -> Option<&Gauged> {
        self.history.readings.last()
    }

    /// Pulls left, with the fewest and the most; infinite where no wear is to be seen.
    pub fn left(&self) -> Option<(f64, f64, f64)> {
        let life = self.life.as_ref()?;
        let (low, high) = life.interval(LEVEL).ok()?;
        Some((life.left().ok()?, low, high))
    }

    /// How that comes about.
    pub fn working(&self) -> Option<Working> {
        let service_in = self.service.map(|s| s.in_pulls as f64);
        let life = self.life.as_ref()?;
        Some(reckoning::working(life, self.wear.unit, service_in))
    }
}

/// The step of a route that gauges this.
fn step_of(part: &Part, wear: &Wear) -> String {
    format!("gauge-{}-{}", part.id, wear.id)
}

/// The readings of the part that is in the tool now; `this` is the job in hand, `earlier` the ended ones of the
/// same tool before it, oldest first.
pub fn history(earlier: &[Job], this: &Job, part: &Part, wear: &Wear, desk: &Desk) -> History {
    let step = step_of(part, wear);
    let mut history = History::default();
    for job in earlier.iter().chain([this]) {
        if let Some(anew) = Anew::of(job) {
            history.begin(None);
            history.anew = Some(anew.job);
        }
        let steps = job.steps.iter().filter(|s| s.body.step == step);
        let replaced = job.replaced.iter().filter(|r| r.body.part == part.id);
        let steps = steps.map(|s| (s.version, Event::Gauged(s)));
        let replaced = replaced.map(|r| (r.version, Event::Replaced(&r.body)));
        let mut events: Vec<(u32, Event)> = steps.chain(replaced).collect();
        events.sort_by_key(|(version, _)| *version);
        for (_, event) in events {
            match event {
                Event::Gauged(done) => {
                    if let Some(gauged) = gauged(job, done, wear, desk) {
                        history.take(gauged, wear);
                    }
                }
                Event::Replaced(new) => history.begin(new.counter),
            }
        }
    }
    history
}

enum Event<'a> {
    Gauged(&'a Stamped<StepDone>),
    Replaced(&'a PartReplaced),
}

/// What a step measured; `None` where it is no evidence.
fn gauged(job: &Job, done: &Stamped<StepDone>, wear: &Wear, desk: &Desk) -> Option<Gauged> {
    let reading = done.body.reading.as_ref()?;
    let is_evidence = reading.is_evidence() && reading.unit == wear.unit.symbol();
    let anew = || {
        desk.mean_of(std::slice::from_ref(reading))
            .map(|m| m.expanded)
    };
    let expanded = reading.expanded.or_else(anew)?;
    (is_evidence && expanded > 0.0).then_some(Gauged {
        at: done.at,
        job: job.received.body.number,
        counter: job.received.body.counter,
        value: reading.value,
        expanded,
        outcome: done.body.outcome.unwrap_or(Outcome::Undecided),
    })
}

impl History {
    /// A new part, at this counter.
    fn begin(&mut self, counter: Option<u64>) {
        self.left_out += self.readings.len();
        self.readings.clear();
        self.renewed_at = counter;
        self.anew = None;
    }

    fn take(&mut self, gauged: Gauged, wear: &Wear) {
        // Measured again in the same job: the newer word stands.
        if self
            .readings
            .last()
            .is_some_and(|last| last.job == gauged.job)
        {
            self.readings.pop();
        }
        let before = self.readings.last();
        let is_newer = before.is_some_and(|before| {
            let off = |g: &Gauged| (g.value - wear.new).abs();
            off(&gauged) + gauged.expanded + before.expanded < off(before)
        });
        let counter_before = before.and_then(|b| b.counter).max(self.renewed_at);
        let fell = gauged.counter.is_some() && gauged.counter < counter_before;
        if is_newer || fell {
            self.begin(None);
        }
        self.readings.push(gauged);
    }

    /// The line of a part with these readings, at a counter; and where its pulls are counted from.
    fn line(&self, wear: &Wear, counter: Option<u64>) -> (Since, Option<Life>) {
        let renewed = self
            .renewed_at
            .zip(counter)
            .filter(|(then, now)| then <= now);
        let counted = self.readings.iter().filter_map(|g| Some((g.counter?, g)));
        let counted: Vec<(u64, &Gauged)> = counted.collect();
        let first = counted.first().copied();
        let first = first.zip(counter).filter(|((then, _), now)| then <= now);
        let (since, from, began, now) = match (renewed, first, self.readings.last()) {
            (Some((then, now)), ..) => (Since::Renewed(then), None, then, now),
            (None, Some(((then, gauged), now)), _) => {
                (Since::FirstReading, Some(*gauged), then, now)
            }
            // No counter: the newest reading is all there is to count from.
            (None, None, Some(newest)) => (Since::FirstReading, Some(*newest), 0, 0),
            (None, None, None) => return (Since::FirstReading, None),
        };
        let later = counted.iter().filter(|(at, gauged)| {
            let is_first = from.is_some_and(|first| first == **gauged);
            now > 0 && !is_first && (began..=now).contains(at)
        });
        let readings: Vec<reckoning::Reading> = later
            .map(|(at, gauged)| reckoning::Reading {
                pulls: (at - began) as f64,
                size: gauged.value,
                expanded: gauged.expanded,
            })
            .collect();
        let life = reckoning::life(&reckoning::Part {
            new: wear.new,
            limits: wear.limits,
            from: from.map(|first| (first.value, first.expanded)),
            readings: &readings,
            life_pulls: wear.life_pulls.map(|pulls| pulls as f64),
            prior_spread: PRIOR_SPREAD,
            pulls: (now - began) as f64,
        });
        (since, life.ok())
    }
}

/// The task at which `part` is looked at next, at a counter: one that looks at it, else the next that the
/// counter calls for. Of several, the one that comes first.
///
/// A task is due at the multiples of its interval, as on the care sheet. One that is due within a tenth of its
/// interval is taken to be made with this job (common practice, no source): the tool is in hand.
pub fn next_service<'a>(
    model: &'a ToolModel,
    part: &str,
    counter: Option<u64>,
) -> Option<Service<'a>> {
    let due = |task: &'a Task| {
        let every = task.every_pulls.filter(|every| *every > 0)?;
        let still = counter.map_or(every, |counter| every - counter % every);
        let is_made_now = still.saturating_mul(10) < every;
        let in_pulls = if is_made_now { still + every } else { still };
        Some(Service { task, in_pulls })
    };
    let first = |looks: bool| {
        let tasks = model.tasks.iter();
        let tasks = tasks.filter(|task| !task.every_shift && (!looks || task.looks_at(part)));
        tasks.filter_map(due).min_by_key(|service| service.in_pulls)
    };
    first(true).or_else(|| first(false))
}

/// What is known of one wear dimension in `this` job.
pub fn worn<'a>(
    earlier: &[Job],
    this: &Job,
    model: &'a ToolModel,
    (part, wear): (&'a Part, &'a Wear),
    desk: &Desk,
) -> Worn<'a> {
    let counter = this.received.body.counter;
    let history = history(earlier, this, part, wear, desk);
    let (since, life) = history.line(wear, counter);
    let service = next_service(model, &part.id, counter);
    let most = desk.shelf.shop(&this.shop_pin());
    let most = most.map_or(WEAR_RISK, |card| card.wear_risk);
    let risk = life
        .as_ref()
        .zip(service)
        .map(|(life, service)| life.beyond_after(service.in_pulls as f64));
    // Without a service to wait for, what is so now decides.
    let chance = risk.or_else(|| life.as_ref().map(Life::beyond_now));
    let is_beyond = history
        .readings
        .last()
        .is_some_and(|newest| newest.outcome == Outcome::Reject);
    let advice = match chance {
        _ if is_beyond => Advice::ReplaceNow,
        Some(chance) if chance > most => life
            .as_ref()
            .zip(service)
            .map_or(Advice::ReplaceNow, |(life, service)| {
                too_soon(wear, life, service.in_pulls, most)
            }),
        Some(_) if risk.is_some() => Advice::Keep,
        _ => Advice::CannotTell,
    };
    Worn {
        part,
        wear,
        history,
        since,
        life,
        service,
        risk,
        advice,
    }
}

/// What to do with a part that does not last `in_pulls` at a risk of `most`: renewed now where that changes it. One
/// that comes to the risk within a tenth of what a new one does is renewed as well (common practice, no source): the
/// tool is in hand.
fn too_soon(wear: &Wear, life: &Life, in_pulls: u64, most: f64) -> Advice {
    let Some(new) = new_part(wear, life) else {
        return Advice::ReplaceNow;
    };
    let (Ok(here), Ok(fresh)) = (life.pulls_until(most), new.pulls_until(most)) else {
        return Advice::ReplaceNow;
    };
    let lasts = new.beyond_after(in_pulls as f64) <= most;
    if lasts || here * 10.0 < fresh {
        return Advice::ReplaceNow;
    }
    Advice::LookAfter(here as u64)
}

/// A new part in the same tool: it wears at the rate of this one, and where that says nothing, of the sheet.
fn new_part(wear: &Wear, life: &Life) -> Option<Life> {
    let limit = match (wear.limits.lower(), wear.limits.upper()) {
        (Some(one), None) | (None, Some(one)) => Some(one),
        _ => None,
    };
    let own = limit.map(|limit| (limit - wear.new) / life.rate);
    let own = own.filter(|pulls| (1.0..=reckoning::MOST_PULLS).contains(pulls));
    let spread = own.map_or(PRIOR_SPREAD, |_| {
        (life.rate_se / life.rate).abs().clamp(1e-3, 10.0)
    });
    let new = reckoning::Part {
        new: wear.new,
        limits: wear.limits,
        from: None,
        readings: &[],
        life_pulls: own.or(wear.life_pulls.map(|pulls| pulls as f64)),
        prior_spread: spread,
        pulls: 0.0,
    };
    reckoning::life(&new).ok()
}

/// What was gauged in the present strip of `this` job, part by part in the order of the sheet; a part that was
/// renewed in it is gone.
pub fn gauged_now<'a>(
    earlier: &[Job],
    this: &Job,
    model: &'a ToolModel,
    desk: &Desk,
) -> Vec<Worn<'a>> {
    let all = model.parts.iter();
    let all = all.flat_map(|part| part.wear.iter().map(move |wear| (part, wear)));
    all.filter(|(part, wear)| {
        let step = this.step(&step_of(part, wear));
        step.is_some_and(|s| s.body.reading.is_some()) && !this.renewed(&part.id)
    })
    .map(|it| worn(earlier, this, model, it, desk))
    .filter(|worn| worn.newest().is_some())
    .collect()
}

/// Pulls left of one dimension of `part` by its readings; infinite where no wear is to be seen, `None` where it was
/// not gauged since it was renewed.
pub fn left_by_readings(
    earlier: &[Job],
    this: &Job,
    part: &Part,
    wear: &Wear,
    desk: &Desk,
) -> Option<f64> {
    let history = history(earlier, this, part, wear, desk);
    history.readings.last()?;
    let (_, life) = history.line(wear, this.received.body.counter);
    life?.left().ok()
}

/// The probability that part `part` is beyond a limit now, by its readings in earlier jobs and in this one and
/// the pulls since: the worst of its dimensions. `None` where nothing is known of it.
pub fn worn_share(
    earlier: &[Job],
    this: &Job,
    model: &ToolModel,
    part: &str,
    desk: &Desk,
) -> Option<f64> {
    let part = model.part(part)?;
    let dimensions = part.wear.iter().filter_map(|wear| {
        let history = history(earlier, this, part, wear, desk);
        let (_, life) = history.line(wear, this.received.body.counter);
        life.as_ref().map(Life::beyond_now)
    });
    dimensions.reduce(f64::max)
}

/// How likely the parts whose wear is a cause are beyond their limits, by id of that cause: for the fault-finder.
pub fn worn_causes(
    earlier: &[Job],
    this: &Job,
    model: &ToolModel,
    faults: &FaultModel,
    desk: &Desk,
) -> Vec<(String, f64)> {
    let causes = faults.causes.iter();
    let worn = causes.filter_map(|cause| {
        let wanted = cause.worn.as_ref()?;
        let part = model.part_called(wanted)?;
        let share = worn_share(earlier, this, model, &part.id, desk)?;
        Some((cause.id.clone(), share))
    });
    worn.collect()
}
