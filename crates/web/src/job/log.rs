//! The job's lines of the logbook, in words.

use calc::Message;
use maud::{Markup, html};
use shop::entry::{Body, Entry, JointReading, Seen, TrialJointRead};
use shop::job::SetUp;
use shop::sheet::FastenerFamily;

use super::view::View;
use super::{found_joint, names, rebuilt};

/// One entry in a line: what kind, and what it says in short.
pub fn line(v: &View, entry: &Entry) -> String {
    said(v, &entry.body)
}

/// The same of what an entry says.
pub fn said(v: &View, body: &Body) -> String {
    let name = v.t(kind(body));
    let says = detail(v, body);
    if says.is_empty() {
        name
    } else {
        format!("{name}: {says}")
    }
}

/// The kind of an entry in the catalogue.
pub(crate) fn kind(body: &Body) -> &'static str {
    match body {
        Body::ToolRegistered(_) => "entry-tool-registered",
        Body::SheetRevised(_) => "entry-sheet-revised",
        Body::SheetWithdrawn(_) => "entry-sheet-withdrawn",
        Body::Received(_) => "entry-received",
        Body::ReceiptAmended(_) => "entry-receipt-amended",
        Body::SymptomsNoted(_) => "entry-symptoms-noted",
        Body::BenchTestRead(_) => "entry-bench-test-read",
        Body::FoundJointRead(_) => "entry-found-joint-read",
        Body::NotSafeToRun(_) => "entry-not-safe-to-run",
        Body::EnergyCleared(_) => "entry-energy-cleared",
        Body::CheckAnswered(_) => "entry-check-answered",
        Body::ClosedAgain(_) => "entry-closed-again",
        Body::CauseConfirmed(_) => "entry-cause-confirmed",
        Body::WarrantyJudged(_) => "entry-warranty-judged",
        Body::EstimateMade(_) => "entry-estimate-made",
        Body::CustomerAnswered(_) => "entry-customer-answered",
        Body::RoutePlanned(_) => "entry-route-planned",
        Body::StepDone(b) if b.overridden.is_some() && b.step.starts_with("check-") => {
            "entry-fit-stands"
        }
        Body::StepDone(b) if b.overridden.is_some() => "entry-torque-stands",
        Body::StepDone(_) => "entry-step-done",
        Body::StepTimed(b) if b.on => "entry-clock-on",
        Body::StepTimed(_) => "entry-clock-off",
        Body::PartReplaced(_) => "entry-part-replaced",
        Body::Fitted(_) => "entry-fitted",
        Body::StickOutRead(_) => "entry-stick-out-read",
        Body::PullsRead(_) => "entry-pulls-read",
        Body::TrialJointRead(_) => "entry-trial-joint-read",
        Body::SetUpSignedOff(_) => "entry-set-up-signed-off",
        Body::CertificatePrepared(_) => "entry-certificate-prepared",
        Body::CertificateIssued(_) => "entry-certificate-issued",
        Body::ProofSignedOff(_) => "entry-proof-signed-off",
        Body::StageSkipped(_) => "entry-stage-skipped",
        Body::FileAttached(_) => "entry-file-attached",
        Body::Waiting(_) => "entry-waiting",
        Body::Resumed(_) => "entry-resumed",
        Body::Struck(_) => "entry-struck",
        Body::Returned(_) => "entry-returned",
        Body::CrewJointsSent(_) => "entry-crew-joints-sent",
        Body::CrewJointsAccepted(_) => "entry-crew-joints-accepted",
        Body::CrewJointsDeclined(_) => "entry-crew-joints-declined",
        Body::CrewLinksRenewed(_) => "entry-crew-links-renewed",
        Body::NumberPinned(_) => "entry-number-pinned",
        Body::NumberReleased(_) => "entry-number-released",
        Body::CountsReset(_) => "entry-counts-reset",
        Body::GaugeCalibrated(_) => "entry-gauge-calibrated",
        Body::GaugeChecked(_) => "entry-gauge-checked",
        Body::GaugeStudied(_) => "entry-gauge-studied",
        Body::GaugeStruck(_) => "entry-gauge-struck",
    }
}

fn detail(v: &View, body: &Body) -> String {
    match body {
        Body::BenchTestRead(b) => {
            let readings: Vec<&str> = b.readings.iter().map(|r| r.raw.trim()).collect();
            let test = v.model.bench_tests.iter().find(|t| t.id == b.test);
            let name = test.map_or(b.test.as_str(), |t| &t.name);
            format!("{name} {}", readings.join(", "))
                .trim_end()
                .to_owned()
        }
        Body::CheckAnswered(b) => {
            let check = v.faults.check(&b.check);
            let question = check.map_or(b.check.clone(), |c| v.question(c));
            let answer = v.t(names::said(b.answer));
            let note = (!b.note.is_empty()).then(|| b.note.clone());
            let said = [question, answer].into_iter().chain(note);
            said.collect::<Vec<_>>().join(" ")
        }
        Body::CauseConfirmed(b) => v.causes_text(b),
        Body::FoundJointRead(b) => {
            let name = found_joint::fastener_name(v, b);
            joint(v, name, b.seen, &b.readings, found_joint::fastener(v, b))
        }
        Body::NotSafeToRun(b) => b.reason.clone(),
        Body::EnergyCleared(b) => b.reason.clone(),
        Body::ClosedAgain(b) => b.note.clone(),
        Body::WarrantyJudged(b) => b.term.clone(),
        Body::StepDone(b) => {
            let readings = b.reading.iter().chain(&b.others);
            let raw = readings.map(|r| r.raw.trim().to_owned());
            let said: Vec<String> = std::iter::once(rebuilt::step_name(v, &b.step))
                .chain(raw)
                .collect();
            said.join(", ")
        }
        Body::StepTimed(b) => rebuilt::step_name(v, &b.step),
        Body::PartReplaced(b) if b.unagreed.is_empty() => b.number.clone(),
        Body::PartReplaced(b) => format!("{}, {}", b.number, rebuilt::why(v, b)),
        Body::CertificatePrepared(b) => b.certificate.number.clone(),
        Body::CertificateIssued(b) => b.number.clone(),
        Body::StickOutRead(b) => {
            let readings: Vec<&str> = b.readings.iter().map(|r| r.raw.trim()).collect();
            readings.join(", ")
        }
        Body::TrialJointRead(b) => {
            let turns = b.turns.map(paper::fraction).unwrap_or_default();
            joint(v, turns, b.seen, &b.readings, set_with(v, b))
        }
        Body::StageSkipped(b) => b.reason.clone(),
        Body::FileAttached(b) => b.name.clone(),
        Body::Waiting(b) => b.note.clone(),
        Body::Struck(b) => b.reason.clone(),
        Body::ReceiptAmended(b) => b.reason.clone(),
        _ => String::new(),
    }
}

/// A joint in short: what the eye says, what was typed.
fn joint(
    v: &View,
    which: String,
    seen: Seen,
    readings: &[JointReading],
    fastener: Option<&FastenerFamily>,
) -> String {
    let seen = v.t(names::seen(seen));
    let name = |r: &JointReading| {
        let known = fastener.and_then(|f| f.criterion(&r.criterion));
        known.map_or(r.criterion.clone(), |c| c.name.clone())
    };
    let raw = readings
        .iter()
        .map(|r| format!("{} {}", name(r), r.reading.raw.trim()));
    let said = [which, seen].into_iter().chain(raw);
    said.filter(|s| !s.is_empty())
        .collect::<Vec<_>>()
        .join(", ")
}

/// The fastener that a trial joint was set with; one that was struck is in no set-up, so any of the job that knows
/// all its criteria.
fn set_with<'a>(v: &View<'a>, joint: &TrialJointRead) -> Option<&'a FastenerFamily> {
    let holds = |set_up: &&SetUp| set_up.joints.iter().any(|j| j.body == *joint);
    let fastener = |set_up: &SetUp| {
        let pin = (&set_up.fitted.body.fastener).into();
        v.desk.shelf.fastener(&pin)
    };
    let known = |family: &&FastenerFamily| {
        let mut read = joint.readings.iter();
        read.all(|r| family.criterion(&r.criterion).is_some())
    };
    let own = v.job.set_ups.iter().find(holds).and_then(fastener);
    own.or_else(|| v.job.set_ups.iter().rev().filter_map(fastener).find(known))
}

/// The id of the place of entry `version` in the list of all.
pub fn place(version: u32) -> String {
    format!("entry-{version}")
}

/// Every entry of the job, oldest first.
pub fn history(v: &View, entries: &[Entry]) -> Markup {
    let struck = |version| v.job.struck.iter().any(|(e, _)| e.version == version);
    html! {
        details.history {
            summary {
                (v.say(&Message::new("history-summary").with("count", entries.len())))
            }
            ol {
                @for entry in entries {
                    li id=(place(entry.version)) {
                        @if struck(entry.version) { s { (line(v, entry)) } }
                        @else { (line(v, entry)) }
                        small { (v.stamp(entry.at, &entry.by)) }
                    }
                }
            }
        }
    }
}
