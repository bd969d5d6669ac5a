//! Entries: what the logbook keeps. These structs are the record's own form; state is folded from
//! them and never stored itself.
//!
//! A kind of entry is one variant of [`Body`] with its struct. Field names are part of the record:
//! they may be added (with a default), never renamed or given another meaning; for that, the kind's
//! schema number rises and `from_json` brings older ones up.

mod agreed;
mod attached;
mod certificate;
mod crew;
mod fault;
mod gauge;
mod learning;
mod pull;
mod pull_drawing;
mod reading;
mod rebuilt;
mod received;
mod register;
mod returned;
mod setup;
mod stack;

use jiff::Timestamp;
use serde::{Deserialize, Serialize};
use uuid::Uuid;

pub use agreed::{
    AnswerWay, CompareRule, Cover, CustomerAnswered, Discount, EstimateMade, LineJudged,
    OptionKind, PriceLine, QuoteOption, TaxRule, WarrantyJudged,
};
pub use attached::FileAttached;
pub use certificate::{CertificateIssued, CertificatePrepared, InDoubt};
pub use crew::{
    CrewJoint, CrewJointsAccepted, CrewJointsDeclined, CrewJointsSent, CrewLinksRenewed,
    CrewReading, GivenTurns,
};
pub use fault::{
    BenchTestRead, CauseConfirmed, CheckAnswered, ClosedAgain, EnergyCleared, FoundJointRead,
    HandedOver, NotSafeToRun, Phase, Said, SymptomsNoted,
};
pub use gauge::{
    CalibrationPoint, CheckPoint, CheckedAs, CurveShape, GaugeCalibrated, GaugeChecked,
    GaugeStruck, GaugeStudied, WrenchWay,
};
pub use learning::{CountsReset, LearntNumber, NumberPinned, NumberReleased};
pub use pull::{BandUsed, FeatureRead, PullRead, PullsCorrected, PullsRead};
pub use pull_drawing::{
    CurveDrawn, PhaseDrawn, PullCounts, PullDrawing, PullPhase, PullsDrawn, SlipDrawn,
};
pub use reading::{CalibrationUsed, Outcome, PinRecord, Reading};
pub use rebuilt::{AdapterUsed, PartReplaced, RoutePlanned, StepDone, StepTimed};
pub use received::{Came, PackState, ReceiptAmended, Received};
pub use register::{SheetRevised, SheetWithdrawn, ToolRegistered};
pub use returned::{
    End, PackGone, ProofSignedOff, Resumed, Returned, StageSkipped, Struck, WaitFor, Waiting,
};
pub use setup::{
    Fitted, JointReading, OwnAdjuster, PastSetUp, Seen, SetUpSignedOff, StickOutRead,
    TrialJointRead,
};
pub use stack::{LayerKind, StackLayer, StackRead, ThicknessRead};

/// Key of a person in the side table of names: a salted hash, so that a name can be erased while
/// the chain stays whole.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(transparent)]
pub struct PersonKey(pub String);

/// The subject that all sheet revisions belong to.
pub const SHELF: Uuid = Uuid::from_u128(0x5e7_0000_0000_4000_8000_0000_0000_0001);

/// The subject that what a manager says of learned numbers belongs to.
pub const LEARNING: Uuid = Uuid::from_u128(0x5e7_0000_0000_4000_8000_0000_0000_0002);

/// One line of the logbook, read.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// What it is about: a job, a tool, a tool's inbox, a gauge, the shelf.
    pub subject: Uuid,
    /// Its number within the subject, from 1.
    pub version: u32,
    /// When it was written.
    pub at: Timestamp,
    /// Who wrote it.
    pub by: PersonKey,
    /// What it says.
    pub body: Body,
}

macro_rules! bodies {
    ($($variant:ident $kind:literal $doc:literal;)*) => {
        /// What an entry says.
        #[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
        #[serde(tag = "kind", content = "body")]
        pub enum Body { $(#[doc = $doc] #[serde(rename = $kind)] $variant($variant),)* }

        impl Body {
            /// Every kind, as stored.
            pub const KINDS: &[&str] = &[$($kind,)*];

            /// Its kind, as stored.
            pub fn kind(&self) -> &'static str {
                match self { $(Self::$variant(_) => $kind,)* }
            }
        }

        $(impl From<$variant> for Body {
            fn from(body: $variant) -> Self { Self::$variant(body) }
        })*
    };
}

bodies! {
    ToolRegistered "tool-registered" "A tool that the shop had not seen before.";
    SheetRevised "sheet-revised" "A sheet was loaded.";
    SheetWithdrawn "sheet-withdrawn" "A sheet was taken out of force.";
    Received "received" "A tool was taken in: a job begins.";
    ReceiptAmended "receipt-amended" "What was written down at the counter is put right.";
    SymptomsNoted "symptoms-noted" "Symptoms seen or ruled out at the bench.";
    BenchTestRead "bench-test-read" "A bench test, as found or as left.";
    FoundJointRead "found-joint-read" "A joint was set with the tool as it came, and read.";
    NotSafeToRun "not-safe-to-run" "As-found tests were not made, and why.";
    EnergyCleared "energy-cleared" "A named person cleared the tool for energised looks.";
    PullsRead "pulls-read" "Recorded pulls were looked at and count.";
    CheckAnswered "check-answered" "A check of the fault-finder was made.";
    ClosedAgain "closed-again" "A tool that lay open for a look is closed again.";
    CauseConfirmed "cause-confirmed" "The cause is known, or there is none.";
    WarrantyJudged "warranty-judged" "The warranty verdict.";
    EstimateMade "estimate-made" "Parts and labour, priced.";
    CustomerAnswered "customer-answered" "The customer's yes or no.";
    RoutePlanned "route-planned" "How far the tool is stripped.";
    StepDone "step-done" "A step of strip or rebuild was done.";
    StepTimed "step-timed" "The clock of a step was started or stopped.";
    PartReplaced "part-replaced" "A part was renewed.";
    Fitted "fitted" "Fastener and nose set for the set-up.";
    StickOutRead "stick-out-read" "Stick-out was measured, and what setting follows.";
    TrialJointRead "trial-joint-read" "A trial joint was set and read.";
    SetUpSignedOff "set-up-signed-off" "The setting stands.";
    ProofSignedOff "proof-signed-off" "The bench proof stands.";
    StageSkipped "stage-skipped" "A stage is not needed, and why.";
    FileAttached "file-attached" "A photo or file was attached to a stage.";
    CertificatePrepared "certificate-prepared" "A certificate waits for the second person who authorises it.";
    CertificateIssued "certificate-issued" "A certificate of the bench proof was issued.";
    Waiting "waiting" "The job waits.";
    Resumed "resumed" "The job goes on.";
    Struck "struck" "An earlier entry no longer counts.";
    Returned "returned" "The tool was handed back: the job ends.";
    CrewJointsSent "crew-joints-sent" "A crew set joints at the work place and read them.";
    CrewJointsAccepted "crew-joints-accepted" "A crew's joints count as evidence.";
    CrewJointsDeclined "crew-joints-declined" "A crew's joints count for nothing, and why.";
    CrewLinksRenewed "crew-links-renewed" "Links on cards printed so far open nothing.";
    NumberPinned "number-pinned" "A learned number is held at a value.";
    NumberReleased "number-released" "A pinned number follows the closed jobs again.";
    CountsReset "counts-reset" "Jobs closed until now count no more.";
    GaugeCalibrated "gauge-calibrated" "A gauge was calibrated.";
    GaugeChecked "gauge-checked" "A gauge was checked against a reference.";
    GaugeStudied "gauge-studied" "Repeatability and reproducibility of a gauge were studied.";
    GaugeStruck "gauge-struck" "What was written of a gauge counts no more.";
}

impl Body {
    /// Schema number of this kind as written today.
    pub fn schema(&self) -> u32 {
        1
    }

    /// The body as stored: JSON text.
    pub fn to_json(&self) -> String {
        match serde_json::to_value(self) {
            Ok(serde_json::Value::Object(mut tagged)) => {
                tagged.remove("body").unwrap_or_default().to_string()
            }
            _ => unreachable!("an entry body is a map with text keys"),
        }
    }

    /// The body that was stored as `json` under `kind` and `schema`.
    ///
    /// # Errors
    /// An unknown kind, a schema newer than this program, JSON that is not of the kind's form.
    pub fn from_json(kind: &str, schema: u32, json: &str) -> Result<Self, String> {
        if schema != 1 {
            return Err(format!(
                "entry kind {kind} has schema {schema}; this program reads up to 1"
            ));
        }
        let body: serde_json::Value =
            serde_json::from_str(json).map_err(|e| format!("entry of kind {kind}: {e}"))?;
        serde_json::from_value(serde_json::json!({ "kind": kind, "body": body }))
            .map_err(|e| format!("entry of kind {kind}: {e}"))
    }
}
