//! Suspect joints: a tool was found setting bad ones. Since when, how many, with what, and what to look at.
//!
//! The reckoning names what may be wrong. It never says that a structure is safe, nor which joints may stay:
//! that is for the engineer of record.
//!
//! The last good check is the newest before the first bad finding: a proof or a set-up that was signed off
//! without a word of excuse in an earlier job, or a crew's good joints that the bench accepted. Pulls are
//! counted from the counter at that job; a crew's joints have none, so the counter before them is an upper
//! bound.

use jiff::Timestamp;

use crate::counter::began_anew;
use crate::crew::{Inbox, Sent, SentState};
use crate::entry::{
    BenchTestRead, CheckAnswered, FoundJointRead, Outcome, Phase, PinRecord, PullsRead, Said,
};
use crate::job::{Desk, Job, SetUp};
use crate::sheet::{FastenerFamily, FaultModel, ToolModel};

/// What was found bad, and when.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Finding<'a> {
    /// When.
    pub at: Timestamp,
    /// What.
    pub what: Bad<'a>,
}

/// Something bad that a tool did as it came.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Bad<'a> {
    /// A joint as found was rejected.
    Joint(&'a FoundJointRead),
    /// A bench test as found failed.
    Test(&'a BenchTestRead),
    /// Recorded pulls of a fastener as found failed.
    Pulls(&'a PullsRead),
    /// The setting was wrong, or did not stand.
    Setting(&'a CheckAnswered),
    /// A crew reported joints that are not good.
    Crew(&'a Sent),
}

/// A check that the tool passed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct GoodCheck {
    /// When.
    pub at: Timestamp,
    /// What it was.
    pub what: Good,
    /// Pulls of the tool then; `None` if nobody knows.
    pub counter: Option<u64>,
}

/// What kind of check a tool passed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Good {
    /// The bench proof of this job.
    Proof(u32),
    /// The set-up of this job.
    SetUp(u32),
    /// A crew's good joints, accepted.
    Crew,
}

/// How many joints may have been set since: every pull may have been one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pulls {
    /// By the counter, since the last good check.
    Since(u64),
    /// Fewer than these: the counter was not read at the last good check, but before it.
    AtMost(u64),
    /// All that the counter shows: no good check is on the record.
    All(u64),
    /// The counter began anew since, in this job: no difference of its readings tells.
    Anew {
        /// The job in which that was written down.
        job: u32,
        /// What it showed before; `None` if it was not read here.
        was: Option<u64>,
    },
    /// A counter is not known, or fell.
    Unknown,
}

/// A fastener that the tool was set up for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SetFor<'a> {
    /// Its sheet.
    pub family: &'a FastenerFamily,
    /// Grip code; empty where the family has none.
    pub code: &'a str,
    /// When.
    pub at: Timestamp,
    /// The job that it was set up in; `None`: a crew set joints of it.
    pub job: Option<u32>,
}

/// The notice to the owner.
#[derive(Clone, Debug, PartialEq)]
pub struct Notice<'a> {
    /// What was found, oldest first; never empty.
    pub findings: Vec<Finding<'a>>,
    /// The last good check before; `None` if the record has none.
    pub since: Option<GoodCheck>,
    /// Joints since then.
    pub pulls: Pulls,
    /// What it was set up for since then; empty if the record does not say.
    pub set_for: Vec<SetFor<'a>>,
    /// Fasteners whose joints are to be looked at, each once.
    pub inspect: Vec<&'a FastenerFamily>,
}

/// Where a notice is reckoned from.
#[derive(Clone, Copy)]
pub struct Record<'a> {
    /// Ended jobs of the tool before this one, oldest first.
    pub earlier: &'a [Job],
    /// The job in hand.
    pub this: &'a Job,
    /// What crews sent over the tool's links; `None` if nothing was.
    pub inbox: Option<&'a Inbox>,
    /// The model sheet that the job is worked to.
    pub model: &'a ToolModel,
    /// The fault model that it is worked to.
    pub faults: &'a FaultModel,
    /// Sheets and day.
    pub desk: Desk<'a>,
}

/// The notice; `None` where nothing bad was found as found.
pub fn notice<'a>(record: &Record<'a>) -> Option<Notice<'a>> {
    let mut findings = findings(record);
    findings.sort_by_key(|finding| finding.at);
    let first = findings.first()?.at;
    let since = last_good(record, first);
    let set_for = set_for(record, since.map(|good| good.at));
    let inspect = inspect(record, &findings, &set_for);
    Some(Notice {
        pulls: pulls(record, since),
        findings,
        since,
        set_for,
        inspect,
    })
}

fn findings<'a>(record: &Record<'a>) -> Vec<Finding<'a>> {
    let job = record.this;
    let joints = job.found_joints.iter();
    let joints = joints.filter(|j| j.body.outcome == Outcome::Reject);
    let joints = joints.map(|j| Finding {
        at: j.at,
        what: Bad::Joint(&j.body),
    });
    let tests = job.tests.iter();
    let tests = tests
        .filter(|t| t.body.phase == Phase::AsFound && t.body.outcome == Outcome::Reject)
        .map(|t| Finding {
            at: t.at,
            what: Bad::Test(&t.body),
        });
    let pulls = job.pulls_in(Phase::AsFound);
    let pulls = pulls
        .filter(|p| p.body.fastener.is_some() && p.body.outcome == Some(Outcome::Reject))
        .map(|p| Finding {
            at: p.at,
            what: Bad::Pulls(&p.body),
        });
    let of_setting = |check: &str| record.faults.check(check).is_some_and(|c| c.setting);
    let checks = job.checks.iter();
    let checks = checks
        .filter(|c| c.body.answer == Said::Yes && of_setting(&c.body.check))
        .map(|c| Finding {
            at: c.at,
            what: Bad::Setting(&c.body),
        });
    let crew = sent(record)
        .filter(|sent| sent.body.bad)
        .map(|sent| Finding {
            at: sent.at,
            what: Bad::Crew(sent),
        });
    let measured = joints.chain(tests).chain(pulls);
    measured.chain(checks).chain(crew).collect()
}

/// What crews sent since the tool was last handed back and until this job ended, but what the bench declined.
fn sent<'a>(record: &Record<'a>) -> impl Iterator<Item = &'a Sent> {
    let back = record
        .earlier
        .iter()
        .filter_map(|job| job.returned.as_ref());
    let from = back.map(|back| back.at).max();
    let until = record.this.returned.as_ref().map(|back| back.at);
    let all = record.inbox.into_iter().flat_map(|inbox| &inbox.sent);
    all.filter(move |sent| {
        from.is_none_or(|from| sent.at > from)
            && until.is_none_or(|until| sent.at <= until)
            && !matches!(sent.state, SentState::Declined { .. })
    })
}

/// The newest good check before `first`.
fn last_good(record: &Record, first: Timestamp) -> Option<GoodCheck> {
    let of_jobs = record.earlier.iter().flat_map(|job| {
        let r = &job.received.body;
        let proof = job.proof.as_ref().filter(|p| p.body.reason.is_empty());
        let proof = proof.map(|p| (p.at, Good::Proof(r.number)));
        let signed = job.set_up().and_then(|s| s.signed_off.as_ref());
        let signed = signed.filter(|s| s.body.reason.is_empty());
        let signed = signed.map(|s| (s.at, Good::SetUp(r.number)));
        proof.into_iter().chain(signed).map(|(at, what)| GoodCheck {
            at,
            what,
            counter: r.counter,
        })
    });
    let of_crews = record.inbox.into_iter().flat_map(Inbox::accepted);
    let of_crews = of_crews.map(|sent| GoodCheck {
        at: sent.at,
        what: Good::Crew,
        counter: None,
    });
    let all = of_jobs.chain(of_crews).filter(|good| good.at < first);
    all.max_by_key(|good| good.at)
}

fn pulls(record: &Record, since: Option<GoodCheck>) -> Pulls {
    let jobs = record.earlier.iter().chain([record.this]);
    if let Some(anew) = began_anew(jobs, since.map(|good| good.at)) {
        let (job, was) = (anew.job, anew.was);
        return Pulls::Anew { job, was };
    }
    let Some(now) = record.this.received.body.counter else {
        return Pulls::Unknown;
    };
    let Some(good) = since else {
        return Pulls::All(now);
    };
    let grown = |then: Option<u64>| now.checked_sub(then?);
    if good.counter.is_some() {
        return grown(good.counter).map_or(Pulls::Unknown, Pulls::Since);
    }
    if good.what != Good::Crew {
        return Pulls::Unknown;
    }
    // A crew's joints tell no counter: the one before them is the nearest that is known.
    let before = record.earlier.iter().rev();
    let mut before = before.filter(|job| job.received.at <= good.at);
    match before.next() {
        Some(job) => grown(job.received.body.counter).map_or(Pulls::Unknown, Pulls::AtMost),
        None => Pulls::AtMost(now),
    }
}

/// What the tool was set up for when it passed the last good check, and what for since.
fn set_for<'a>(record: &Record<'a>, since: Option<Timestamp>) -> Vec<SetFor<'a>> {
    let family = |pin: &PinRecord| record.desk.shelf.fastener(&pin.into());
    let of_job = |job: &'a Job| {
        let set_up: &SetUp = job.set_up()?;
        let fitted = &set_up.fitted.body;
        Some(SetFor {
            family: family(&fitted.fastener)?,
            code: &fitted.code,
            at: set_up.signed_off.as_ref()?.at,
            job: Some(job.received.body.number),
        })
    };
    let set_ups: Vec<SetFor> = record.earlier.iter().filter_map(of_job).collect();
    // The one that stood at the last good check was worked with from then on.
    let stood = since.and_then(|since| set_ups.iter().rposition(|s| s.at <= since));
    let mut all = set_ups[stood.unwrap_or(0)..].to_vec();
    let of_crews = record.inbox.into_iter().flat_map(|inbox| &inbox.sent);
    let of_crews = of_crews.filter(|sent| {
        since.is_none_or(|since| sent.at >= since)
            && !matches!(sent.state, SentState::Declined { .. })
            && sent.at <= record.this.last_at
    });
    all.extend(of_crews.filter_map(|sent| {
        Some(SetFor {
            family: family(&sent.body.fastener)?,
            code: &sent.body.code,
            at: sent.at,
            job: None,
        })
    }));
    all.sort_by_key(|set| set.at);
    // Once is enough for what was set again and again.
    let mut once: Vec<SetFor> = Vec::new();
    for set in all {
        let is_same = |other: &SetFor| {
            other.family.id == set.family.id && other.code == set.code && other.job == set.job
        };
        if !once.iter().any(is_same) {
            once.push(set);
        }
    }
    once
}

fn inspect<'a>(
    record: &Record<'a>,
    findings: &[Finding<'a>],
    set_for: &[SetFor<'a>],
) -> Vec<&'a FastenerFamily> {
    let shelf = record.desk.shelf;
    let found = findings.iter().filter_map(|finding| match finding.what {
        Bad::Joint(joint) => shelf.fastener(&(&joint.fastener).into()),
        Bad::Pulls(pulls) => shelf.fastener(&pulls.fastener.as_ref()?.into()),
        Bad::Test(_) | Bad::Setting(_) | Bad::Crew(_) => None,
    });
    let named = set_for.iter().map(|set| set.family).chain(found);
    let mut all: Vec<&FastenerFamily> = Vec::new();
    for family in named {
        if all.iter().all(|other| other.id != family.id) {
            all.push(family);
        }
    }
    if all.is_empty() {
        // Nobody wrote down what it was set up for: then all that its sheet names.
        let set = record.desk.shelf.settable(record.model);
        all.extend(set.map(|(_, family)| family));
    }
    all
}
