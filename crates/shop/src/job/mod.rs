//! A job: one visit of one tool, folded from its entries.

mod agree;
mod attach;
mod bench_test;
mod certificate;
mod certificate_content;
mod certificate_second;
mod clock;
mod command;
mod correct;
mod desk;
mod fault;
mod found_joint;
mod hand_back;
mod in_doubt;
mod joint_read;
mod judge;
mod judge_warranty;
mod lying_open;
mod made_safe;
mod measured;
mod other_end;
mod prove;
mod quoting;
mod rebuild;
mod receive;
pub(crate) mod refusal;
mod set_up;
mod set_up_only;
mod stage;
mod tests_of_pulls;
mod tighten;
mod unagreed;
mod use_pulls;

use std::collections::BTreeMap;

use jiff::Timestamp;
use uuid::Uuid;

use crate::entry::{
    BenchTestRead, Body, CauseConfirmed, CertificateIssued, CertificatePrepared, CheckAnswered,
    ClosedAgain, CustomerAnswered, EnergyCleared, Entry, EstimateMade, FileAttached, Fitted,
    FoundJointRead, NotSafeToRun, Outcome, PartReplaced, PersonKey, Phase, ProofSignedOff,
    PullsRead, ReceiptAmended, Received, Returned, RoutePlanned, SetUpSignedOff, StageSkipped,
    StepDone, StickOutRead, Struck, TrialJointRead, Waiting, WarrantyJudged,
};
use crate::route::{self, FIRST_STEP, LAST_STEP};
use crate::sheet::Pin;

pub use agree::AnswerIn;
pub use bench_test::BenchTestIn;
pub use certificate::{CERTIFICATE_METHOD, CertificateIn, CertificateState, Signer};
pub use certificate_second::AuthoriseIn;
pub use clock::Clock;
pub use command::{Command, decide};
pub use desk::{Desk, Measured, TypedValue, all_in_date};
pub use hand_back::ReturnIn;
pub use in_doubt::Doubted;
pub use joint_read::JointIn;
pub(crate) use joint_read::in_inches;
pub(crate) use judge::method_of;
pub use judge_warranty::JudgeIn;
pub use made_safe::make_safe_ticks;
pub use other_end::{EndIn, ScrapIn, SendIn};
pub use quoting::QuoteIn;
pub use rebuild::StepIn;
pub use receive::{ReceiveIn, ToolSeen, receive};
pub use refusal::{Refusal, Refusals, refuse};
pub use set_up::{SetUpSheets, TrialJointIn, answer, far_from_table};
pub use stage::{Stage, Standing};
pub use tighten::{GRIP_EXPANDED_MM, to_set};
pub use use_pulls::PullsIn;

/// Something that was written, with when and by whom.
#[derive(Clone, Debug, PartialEq)]
pub struct Stamped<T> {
    /// Version of the entry within its job.
    pub version: u32,
    /// When.
    pub at: Timestamp,
    /// By whom.
    pub by: PersonKey,
    /// What.
    pub body: T,
}

/// One set-up within a job: a fastener and a nose set, and what was measured with them.
#[derive(Clone, Debug, PartialEq)]
pub struct SetUp {
    /// Fastener and nose set.
    pub fitted: Stamped<Fitted>,
    /// Stick-out readings, newest last.
    pub stick_outs: Vec<Stamped<StickOutRead>>,
    /// Trial joints in order.
    pub joints: Vec<Stamped<TrialJointRead>>,
    /// Sign-off.
    pub signed_off: Option<Stamped<SetUpSignedOff>>,
}

impl SetUp {
    /// The newest stick-out measurement.
    pub fn stick_out(&self) -> Option<&StickOutRead> {
        self.stick_outs.last().map(|s| &s.body)
    }

    /// How many of the last trial joints were good in a row, all at the setting of the last.
    pub fn good_in_a_row(&self) -> usize {
        let Some(last) = self.joints.last() else {
            return 0;
        };
        self.joints
            .iter()
            .rev()
            .take_while(|j| {
                let (is, was) = (&j.body, &last.body);
                is.outcome == Outcome::Accept
                    && is.turns == was.turns
                    && is.pressure_bar == was.pressure_bar
            })
            .count()
    }
}

/// A job.
#[derive(Clone, Debug, PartialEq)]
pub struct Job {
    /// Its subject in the logbook.
    pub id: Uuid,
    /// Version of its last entry.
    pub version: u32,
    /// When its last entry other than a certificate was written.
    pub last_at: Timestamp,
    /// What was written down at the counter, as amended.
    pub received: Stamped<Received>,
    /// How it was put right, in order.
    pub amended: Vec<Stamped<ReceiptAmended>>,
    /// Symptoms: seen, or looked for and not there.
    pub symptoms: BTreeMap<String, bool>,
    /// Bench tests, as found and as left, in order.
    pub tests: Vec<Stamped<BenchTestRead>>,
    /// Joints set with the tool as it came, in order.
    pub found_joints: Vec<Stamped<FoundJointRead>>,
    /// Recorded pulls that count, in order.
    pub pulls: Vec<Stamped<PullsRead>>,
    /// As-found tests were not made.
    pub not_safe: Option<Stamped<NotSafeToRun>>,
    /// Cleared for energised looks, last.
    pub energy_cleared: Option<Stamped<EnergyCleared>>,
    /// That the tool is closed again after a look into it, the last time.
    pub closed_again: Option<Stamped<ClosedAgain>>,
    /// Checks answered, in order.
    pub checks: Vec<Stamped<CheckAnswered>>,
    /// The confirmed cause.
    pub cause: Option<Stamped<CauseConfirmed>>,
    /// Warranty verdict.
    pub warranty: Option<Stamped<WarrantyJudged>>,
    /// The quote in force: its last revision.
    pub estimate: Option<Stamped<EstimateMade>>,
    /// Every revision of the quote, in order.
    pub estimates: Vec<Stamped<EstimateMade>>,
    /// Customer's answer.
    pub answer: Option<Stamped<CustomerAnswered>>,
    /// How far the tool is stripped.
    pub route: Option<Stamped<RoutePlanned>>,
    /// Steps done, in order.
    pub steps: Vec<Stamped<StepDone>>,
    /// Clocks of the steps of the present strip.
    pub clock: Clock,
    /// Parts renewed.
    pub replaced: Vec<Stamped<PartReplaced>>,
    /// Set-ups, newest last.
    pub set_ups: Vec<SetUp>,
    /// Proof sign-off.
    pub proof: Option<Stamped<ProofSignedOff>>,
    /// Certificates of the bench proof, in order.
    pub certificates: Vec<Stamped<CertificateIssued>>,
    /// The certificate that waits for a second person.
    pub prepared: Option<Stamped<CertificatePrepared>>,
    /// Stages that are not needed.
    pub skipped: BTreeMap<Stage, Stamped<StageSkipped>>,
    /// Photos and files, in order.
    pub files: Vec<Stamped<FileAttached>>,
    /// What the job waits for.
    pub waiting: Option<Stamped<Waiting>>,
    /// The end.
    pub returned: Option<Stamped<Returned>>,
    /// Entries that no longer count, with the entry that struck them.
    pub struck: Vec<(Entry, Stamped<Struck>)>,
    /// Version from which on the present strip counts. A tool that is opened again after it was
    /// closed is stripped, set up and proved anew: what was done before stays on record only.
    strip_from: u32,
    /// Version at which each symptom was last seen.
    seen_at: BTreeMap<String, u32>,
}

impl Job {
    /// The job that `entries` (one subject, in order) tell; `None` if they do not begin one.
    pub fn fold(entries: &[Entry]) -> Option<Self> {
        let strikes: BTreeMap<u32, Stamped<Struck>> = entries
            .iter()
            .filter_map(|entry| match &entry.body {
                Body::Struck(s) => Some((s.version, stamp(entry, s.clone()))),
                _ => None,
            })
            .collect();
        let mut job = Self::begin(entries.first()?)?;
        for entry in &entries[1..] {
            job.version = entry.version;
            // A certificate says again what was found; it finds nothing, nor does its withdrawal.
            if !is_of_certificate(entries, entry) {
                job.last_at = entry.at;
            }
            match strikes.get(&entry.version) {
                Some(strike) => {
                    // One withdrawn does not bring back the one that it took the place of.
                    if matches!(entry.body, Body::CertificatePrepared(_)) {
                        job.prepared = None;
                    }
                    job.struck.push((entry.clone(), strike.clone()));
                }
                None => job.apply(entry),
            }
        }
        Some(job)
    }

    fn begin(entry: &Entry) -> Option<Self> {
        let Body::Received(received) = &entry.body else {
            return None;
        };
        let symptoms = received.symptoms.iter().map(|s| (s.clone(), true));
        let seen = received.symptoms.iter().map(|s| (s.clone(), entry.version));
        Some(Self {
            id: entry.subject,
            version: entry.version,
            last_at: entry.at,
            symptoms: symptoms.collect(),
            seen_at: seen.collect(),
            received: stamp(entry, received.clone()),
            amended: Vec::new(),
            tests: Vec::new(),
            found_joints: Vec::new(),
            pulls: Vec::new(),
            not_safe: None,
            energy_cleared: None,
            closed_again: None,
            checks: Vec::new(),
            cause: None,
            warranty: None,
            estimate: None,
            estimates: Vec::new(),
            answer: None,
            route: None,
            steps: Vec::new(),
            clock: Clock::default(),
            replaced: Vec::new(),
            set_ups: Vec::new(),
            proof: None,
            certificates: Vec::new(),
            prepared: None,
            skipped: BTreeMap::new(),
            files: Vec::new(),
            waiting: None,
            returned: None,
            struck: Vec::new(),
            strip_from: 0,
        })
    }

    fn apply(&mut self, entry: &Entry) {
        match entry.body.clone() {
            Body::ReceiptAmended(b) => {
                self.amended.push(stamp(entry, b.clone()));
                let received = &mut self.received.body;
                received.counter = b.counter;
                received.counter_anew = b.counter_anew;
                received.sold = b.sold;
                received.first_used = b.first_used;
                received.complaint = b.complaint;
                received.due = b.due;
            }
            Body::SymptomsNoted(b) => {
                // Something is complained of after all: then it is looked for.
                if self.is_set_up_only() && !b.present.is_empty() {
                    self.cause = None;
                    self.warranty = None;
                    self.answer = None;
                }
                let seen = b.present.iter().map(|s| (s.clone(), entry.version));
                self.seen_at.extend(seen);
                self.symptoms
                    .extend(b.present.into_iter().map(|s| (s, true)));
                self.symptoms
                    .extend(b.absent.into_iter().map(|s| (s, false)));
            }
            Body::BenchTestRead(b) => self.tests.push(stamp(entry, b)),
            Body::FoundJointRead(b) => self.found_joints.push(stamp(entry, b)),
            Body::PullsRead(b) => self.pulls.push(stamp(entry, b)),
            Body::NotSafeToRun(b) => self.not_safe = Some(stamp(entry, b)),
            Body::EnergyCleared(b) => self.energy_cleared = Some(stamp(entry, b)),
            Body::CheckAnswered(b) => self.checks.push(stamp(entry, b)),
            Body::ClosedAgain(b) => self.closed_again = Some(stamp(entry, b)),
            Body::CauseConfirmed(b) => {
                self.cause = Some(stamp(entry, b));
                // Who pays, and the yes, were given for the cause that was known then.
                self.warranty = None;
                self.answer = None;
            }
            Body::WarrantyJudged(b) => {
                self.warranty = Some(stamp(entry, b));
                // A yes holds for the price and the payer that were named, for no other.
                self.answer = None;
            }
            Body::EstimateMade(mut b) => {
                if b.revision == 0 {
                    b.revision = u32::try_from(self.estimates.len() + 1).unwrap_or(u32::MAX);
                }
                let made = stamp(entry, b);
                self.estimates.push(made.clone());
                self.estimate = Some(made);
                self.answer = None;
            }
            Body::CustomerAnswered(b) => {
                // An answer is to its revision and to no other.
                let now = self.estimate.as_ref().map(|e| e.body.revision);
                if b.revision == 0 || now == Some(b.revision) {
                    self.answer = Some(stamp(entry, b));
                }
            }
            Body::RoutePlanned(b) => {
                if self.closed_again() {
                    self.strip_from = entry.version;
                    self.proof = None;
                    self.clock = Clock::default();
                }
                self.skipped.remove(&Stage::Rebuilt);
                self.route = Some(stamp(entry, b));
            }
            Body::StepDone(b) => {
                self.clock.done(&b.step);
                self.steps.push(stamp(entry, b));
            }
            Body::StepTimed(b) => self.clock.turned(b, entry.at),
            Body::PartReplaced(b) => self.replaced.push(stamp(entry, b)),
            Body::Fitted(b) => {
                self.skipped.remove(&Stage::SetUp);
                self.set_ups.push(SetUp {
                    fitted: stamp(entry, b),
                    stick_outs: Vec::new(),
                    joints: Vec::new(),
                    signed_off: None,
                });
            }
            Body::StickOutRead(b) => {
                if let Some(set_up) = self.set_ups.last_mut() {
                    set_up.stick_outs.push(stamp(entry, b));
                }
            }
            Body::TrialJointRead(b) => {
                if let Some(set_up) = self.set_ups.last_mut() {
                    set_up.joints.push(stamp(entry, b));
                }
            }
            Body::SetUpSignedOff(b) => {
                if let Some(set_up) = self.set_ups.last_mut() {
                    set_up.signed_off = Some(stamp(entry, b));
                }
            }
            Body::CertificatePrepared(b) => self.prepared = Some(stamp(entry, b)),
            Body::CertificateIssued(b) => {
                self.prepared = None;
                self.certificates.push(stamp(entry, b));
            }
            Body::ProofSignedOff(b) => self.proof = Some(stamp(entry, b)),
            Body::StageSkipped(b) => {
                if let Some(stage) = Stage::parse(&b.stage) {
                    // Not stripped after all: a strip is planned anew before the tool is opened.
                    if stage == Stage::Rebuilt {
                        self.route = None;
                    }
                    self.skipped.insert(stage, stamp(entry, b));
                }
            }
            Body::FileAttached(b) => self.files.push(stamp(entry, b)),
            Body::Waiting(b) => {
                self.clock.stop(entry.at);
                self.waiting = Some(stamp(entry, b));
            }
            Body::Resumed(_) => self.waiting = None,
            Body::Returned(b) => {
                self.waiting = None;
                self.returned = Some(stamp(entry, b));
                // Nobody is asked to sign for a tool that does not go back to work.
                if !self.goes_back_to_work() {
                    self.prepared = None;
                }
            }
            // A strike takes effect before the fold; the rest belongs to other subjects.
            Body::Struck(_)
            | Body::Received(_)
            | Body::ToolRegistered(_)
            | Body::SheetRevised(_)
            | Body::SheetWithdrawn(_)
            | Body::CrewJointsSent(_)
            | Body::CrewJointsAccepted(_)
            | Body::CrewJointsDeclined(_)
            | Body::CrewLinksRenewed(_)
            | Body::NumberPinned(_)
            | Body::NumberReleased(_)
            | Body::CountsReset(_)
            | Body::GaugeCalibrated(_)
            | Body::GaugeChecked(_)
            | Body::GaugeStudied(_)
            | Body::GaugeStruck(_) => {}
        }
    }

    /// The model sheet revision that the job is worked to.
    pub fn model_pin(&self) -> Pin {
        (&self.received.body.model).into()
    }

    /// The fault model revision that the job is worked to.
    pub fn faults_pin(&self) -> Pin {
        (&self.received.body.faults).into()
    }

    /// The shop card revision that the job is worked to.
    pub fn shop_pin(&self) -> Pin {
        (&self.received.body.shop).into()
    }

    /// The set-up in hand; one from before the tool was opened again no longer counts.
    pub fn set_up(&self) -> Option<&SetUp> {
        self.set_ups
            .last()
            .filter(|s| s.fitted.version > self.strip_from)
    }

    /// The newest result of `test` in `phase`; as left, only since the tool was last opened.
    pub fn test(&self, phase: Phase, test: &str) -> Option<&Stamped<BenchTestRead>> {
        self.tests
            .iter()
            .rev()
            .find(|t| t.body.phase == phase && t.body.test == test)
            .filter(|t| phase == Phase::AsFound || t.version > self.strip_from)
    }

    /// Every record of `step` in the present strip, oldest first.
    pub fn records<'a>(&'a self, step: &'a str) -> impl Iterator<Item = &'a Stamped<StepDone>> {
        self.steps_now().filter(move |s| s.body.step == step)
    }

    /// The newest record of `step` in the present strip.
    pub fn step(&self, step: &str) -> Option<&Stamped<StepDone>> {
        self.steps_now().rev().find(|s| s.body.step == step)
    }

    /// Steps of the present strip, in order.
    pub(super) fn steps_now(&self) -> impl DoubleEndedIterator<Item = &Stamped<StepDone>> {
        self.steps.iter().filter(|s| s.version > self.strip_from)
    }

    /// Whether part `part` was renewed in the present strip.
    pub fn renewed(&self, part: &str) -> bool {
        self.replaced
            .iter()
            .any(|r| r.body.part == part && r.version > self.strip_from)
    }

    /// Whether a route planned now would open a tool that was closed, set up, tested as left or
    /// left unopened.
    fn closed_again(&self) -> bool {
        let tested = |t: &Stamped<BenchTestRead>| {
            t.body.phase == Phase::AsLeft && t.version > self.strip_from
        };
        self.set_up().is_some()
            || self.skipped.contains_key(&Stage::Rebuilt)
            || self.tests.iter().any(tested)
            || self.steps_now().any(|s| route::closes(&s.body.step))
    }

    /// Whether the energy was taken away at the strip and has not been put back since.
    pub fn safe_in_strip(&self) -> bool {
        let looked = self.step(FIRST_STEP);
        looked.is_some_and(|s| s.body.outcome == Some(Outcome::Accept))
            && !self.steps_now().any(|s| route::runs(&s.body.step))
    }

    /// Whether the first power-up after the rebuild passed.
    pub fn powered_up(&self) -> bool {
        self.step(LAST_STEP)
            .is_some_and(|s| s.body.outcome == Some(Outcome::Accept))
    }

    /// Whether the tool went back with the setting that it came with.
    pub fn kept_setting(&self) -> bool {
        // Nobody here knows what the maker does to it.
        self.goes_back_to_work() && !self.is_changed()
    }

    /// Whether hands were at the strip or at the set-up, so that the tool is not as it came.
    pub fn is_changed(&self) -> bool {
        // A struck entry was not right, but the hand that it tells of may have been there.
        let touched = self.struck.iter().any(|(entry, _)| {
            matches!(
                entry.body,
                Body::StepDone(_)
                    | Body::Fitted(_)
                    | Body::StickOutRead(_)
                    | Body::TrialJointRead(_)
            )
        });
        self.opened() || !self.set_ups.is_empty() || touched
    }

    /// Whether the strip has begun; from then on nothing can be tested as found.
    pub fn opened(&self) -> bool {
        !self.steps.is_empty()
    }
}

/// Whether `entry` is about a certificate alone.
fn is_of_certificate(entries: &[Entry], entry: &Entry) -> bool {
    match &entry.body {
        Body::CertificatePrepared(_) | Body::CertificateIssued(_) => true,
        Body::Struck(struck) => entries
            .iter()
            .any(|e| e.version == struck.version && matches!(e.body, Body::CertificatePrepared(_))),
        _ => false,
    }
}

fn stamp<T>(entry: &Entry, body: T) -> Stamped<T> {
    Stamped {
        version: entry.version,
        at: entry.at,
        by: entry.by.clone(),
        body,
    }
}
