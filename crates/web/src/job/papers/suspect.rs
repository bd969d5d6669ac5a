//! The notice of joints in doubt.

use calc::Message;
use calc::working::places;
use paper::GaugeBar;
use paper::model::{BadFinding, Inspect, JointReading, Reading, SetUpFor, SuspectNotice};
use shop::crew::Sent;
use shop::entry::{CrewReading, FeatureRead, Outcome, PullRead, PullsRead};
use shop::sheet::{BenchTestKind, Criterion, FastenerFamily, Feature};
use shop::suspect::{Bad, Finding};

use super::tests_made;
use crate::job::judged::Judged;
use crate::job::view::View;
use crate::job::{Loaded, found_joint, suspect};
use crate::pulls;
use crate::show;

/// The notice; `None` where nothing bad was found with the tool as it came.
pub fn notice(v: &View, loaded: &Loaded) -> Option<SuspectNotice> {
    let told = suspect::of(v)?;
    let r = &v.job.received.body;
    let set_for = told.set_for.iter().map(|set| SetUpFor {
        fastener: set.family.name.clone(),
        code: set.code.to_owned(),
        when: super::printed(v, set.at),
        whence: suspect::whence(v, set),
    });
    Some(SuspectNotice {
        shop: super::shop(v),
        job: r.number.to_string(),
        customer: v.person(&r.customer),
        tool: super::tool(v),
        findings: told.findings.iter().map(|f| finding(v, f)).collect(),
        since: suspect::since(v, told.since),
        pulls: suspect::pulls(v, told.pulls),
        set_for: set_for.collect(),
        inspect: told.inspect.iter().map(|f| inspect(v, f)).collect(),
        issued_on: super::printed(v, v.job.last_at),
        record: super::head(loaded),
        issued: super::issued(v, v.job.last_at),
    })
}

fn finding(v: &View, finding: &Finding) -> BadFinding {
    let bare = BadFinding {
        when: super::printed(v, finding.at),
        what: suspect::title(v, finding),
        seen: String::new(),
        readings: Vec::new(),
        note: String::new(),
    };
    match finding.what {
        Bad::Joint(joint) => BadFinding {
            seen: v.t(found_joint::look(v, joint)),
            readings: found_joint::fastener(v, joint)
                .map(|family| tests_made::criteria(v, family, &joint.readings))
                .unwrap_or_default(),
            note: joint.note.clone(),
            ..bare
        },
        Bad::Test(read) => {
            let test = v.model.bench_tests.iter().find(|t| t.id == read.test);
            let judged = test.and_then(|t| Some((t, Judged::of_test(v, t, read)?)));
            let reading = judged.map(|(test, judged)| JointReading {
                what: test.name.clone(),
                reading: tests_made::reading(v, &test.name, &judged),
            });
            let pass = test.and_then(|t| match &t.kind {
                BenchTestKind::Looked { pass } => Some(pass.clone()),
                BenchTestKind::Measured { .. } => None,
            });
            BadFinding {
                seen: pass.unwrap_or_default(),
                readings: reading.into_iter().collect(),
                note: read.note.clone(),
                ..bare
            }
        }
        Bad::Pulls(read) => BadFinding {
            seen: failed(v, read),
            note: read.note.clone(),
            ..bare
        },
        Bad::Setting(answered) => BadFinding {
            note: answered.note.clone(),
            ..bare
        },
        Bad::Crew(sent) => of_crew(v, sent, bare),
    }
}

/// Which numbers of recorded pulls failed, each once, and in how many of the pulls any did.
fn failed(v: &View, read: &PullsRead) -> String {
    let rejected = |f: &&FeatureRead| f.outcome == Some(Outcome::Reject);
    let failed = |pull: &&PullRead| {
        pull.like == Some(Outcome::Reject) || pull.features.iter().any(|f| rejected(&f))
    };
    let all: Vec<&PullRead> = read.pulls.iter().filter(failed).collect();
    let mut names: Vec<String> = Vec::new();
    for feature in all.iter().flat_map(|pull| &pull.features).filter(rejected) {
        let name = Feature::parse(&feature.feature).map(|f| v.t(pulls::names::plain(f)));
        let name = name.unwrap_or_else(|| feature.feature.clone());
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let said = Message::new("suspect-pulls-failed")
        .with("failed", all.len())
        .with("of", read.pulls.len())
        .with("what", names.join(", "));
    v.say(&said)
}

/// What a crew read. Its gauge's certificate nobody knows; where not even its doubt can be assumed, the
/// value stands in words.
fn of_crew(v: &View, sent: &Sent, bare: BadFinding) -> BadFinding {
    let family = v.desk.shelf.fastener(&(&sent.body.fastener).into());
    let read = sent.body.joints.iter().flat_map(|joint| &joint.readings);
    let known = read.filter_map(|r| Some((r, family?.criterion(&r.criterion)?)));
    let mut readings = Vec::new();
    let mut words = Vec::new();
    for (read, criterion) in known {
        match bar(v, read, criterion) {
            Some(bar) => readings.push(JointReading {
                what: criterion.name.clone(),
                reading: Reading {
                    bar,
                    gauge: v.t("suspect-crew-gauge"),
                    in_date: true,
                    beyond: false,
                    doubted: false,
                },
            }),
            None => words.push(format!(
                "{}: {} {}",
                criterion.name,
                read.raw.trim(),
                read.unit
            )),
        }
    }
    words.extend((!sent.body.note.is_empty()).then(|| sent.body.note.clone()));
    BadFinding {
        readings,
        note: words.join("; "),
        ..bare
    }
}

fn bar(v: &View, read: &CrewReading, criterion: &Criterion) -> Option<GaugeBar> {
    let bar = GaugeBar {
        value: read.value,
        expanded: read.expanded?,
        limits: criterion.limits,
        rule: criterion.rule,
        verdict: read.outcome.into(),
        unit: criterion.unit,
        decimals: places(read.value, 2),
        label: String::new(),
    };
    Some(bar.labelled(v.p.words, &criterion.name))
}

fn inspect(v: &View, family: &FastenerFamily) -> Inspect {
    let criteria = family.criteria.iter().map(|c| {
        let limits = show::limits(v.p, &c.limits, c.unit.symbol());
        (c.name.clone(), limits)
    });
    Inspect {
        fastener: family.name.clone(),
        criteria: criteria.collect(),
    }
}
