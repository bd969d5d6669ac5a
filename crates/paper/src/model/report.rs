//! The service report: what was wrong, what was done, and what the tool does now.

use calc::decision::Verdict;
use calc::screw_stop::Hand;
use serde::Serialize;
use words::Term;

use crate::axis::Axis;
use crate::pull_plot::PullPlot;

use super::{
    AttachedFile, AttachedPhoto, Day, FastenerChoice, FoundJoint, Instrument, NoseChoice, Reading,
    RecordHead, Setting, Shop, StickOut, TestResult, Tool, TrialJoint, WorkingView, serial,
};

/// A service report.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ServiceReport {
    /// Who issues it.
    pub shop: Shop,
    /// Report number, unique in the shop.
    pub number: String,
    /// Job number.
    pub job: String,
    /// Customer.
    pub customer: String,
    /// The tool.
    pub tool: Tool,
    /// State on arrival, and what came with it.
    pub condition: Vec<String>,
    /// Dates as printed.
    pub dates: Dates,
    /// Complaint in the customer's words.
    pub complaint: String,
    /// What was found.
    pub found: Option<Found>,
    /// Why the tool goes back without repair, if it does.
    pub unrepaired: Option<Unrepaired>,
    /// What of the readings was in doubt when the tool went back, a line each.
    pub doubts: Vec<String>,
    /// What is in doubt and was not told then, a line each.
    pub doubts_since: Vec<String>,
    /// Who handed it back all the same.
    pub doubted_by: String,
    /// Why; empty where nothing was in doubt.
    pub doubt_reason: String,
    /// Warranty verdict.
    pub warranty: Option<Warranty>,
    /// Price and the customer's answer.
    pub price: Option<Price>,
    /// Parts renewed.
    pub parts: Vec<PartRenewed>,
    /// The parts along the axis, those renewed marked so; `None` leaves the drawing out.
    #[serde(skip)]
    pub axis: Option<Axis>,
    /// Torque readings.
    pub torques: Vec<Torque>,
    /// What the tool is set up for.
    pub fastener: Option<FastenerChoice>,
    /// The nose set on it.
    pub nose: Option<NoseChoice>,
    /// Stick-out.
    pub stick_out: Option<StickOut>,
    /// The setting.
    pub setting: Option<Setting>,
    /// Trial joints.
    pub joints: Vec<TrialJoint>,
    /// Bench tests, as found and as left.
    pub tests: Vec<Test>,
    /// Wear, as measured.
    pub wear: Vec<Wear>,
    /// Recorded pulls that count.
    #[serde(skip)]
    pub pulls: Vec<PullsPrinted>,
    /// Joints as found.
    pub found_joints: Vec<FoundJoint>,
    /// Why there are no as-found results, if there are none.
    pub not_run_as_found: String,
    /// Gauges that took the readings.
    pub instruments: Vec<Instrument>,
    /// Steps left out or passed without a reading, and why.
    pub deviations: Vec<Change>,
    /// Entries of the record that were struck, and why.
    pub corrections: Vec<Change>,
    /// Workings of the computed numbers.
    pub workings: Vec<WorkingView>,
    /// Photos, in the order of the work.
    #[serde(skip)]
    pub photos: Vec<AttachedPhoto>,
    /// Files that are not printed.
    pub files: Vec<AttachedFile>,
    /// What goes back with the tool.
    pub handed_over: Vec<String>,
    /// Who authorises the report.
    pub authorised_by: String,
    /// The record that stands behind it.
    pub record: RecordHead,
    /// Day of issue.
    #[serde(skip)]
    pub issued: Day,
}

/// Recorded pulls of one file.
#[derive(Clone, Debug, PartialEq)]
pub struct PullsPrinted {
    /// Version of the entry of the job that they are.
    pub entry: u32,
    /// When, what was pulled, how many count.
    pub title: String,
    /// The worst verdict; `None` where there was nothing to hold them against.
    pub outcome: Option<Verdict>,
    /// What they come down to, a line each.
    pub lines: Vec<String>,
    /// A row for each pull: number, peak, stroke, verdict.
    pub rows: Vec<[String; 4]>,
    /// Name of the recording.
    pub file: String,
    /// Its hash.
    pub hash: String,
    /// The drawing; `None` where the recording is lost.
    pub plot: Option<PullPlot>,
}

/// Dates as printed; an empty one is left out.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Dates {
    /// Received.
    pub received: String,
    /// Tested.
    pub tested: String,
    /// Issued.
    pub issued: String,
}

/// What was found.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Found {
    /// Causes confirmed, or that there is none in the tool.
    pub causes: Vec<String>,
    /// Remark.
    pub note: String,
    /// Checks that led there.
    pub checks: Vec<Check>,
}

/// A check and its answer.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Check {
    /// What was checked.
    pub question: String,
    /// Answer.
    pub answer: String,
    /// What was seen.
    pub note: String,
}

/// The tool goes back without repair.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Unrepaired {
    /// How the job ended.
    pub how: String,
    /// Why.
    pub reason: String,
}

/// Whether the warranty pays.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cover {
    /// Covered.
    Covered,
    /// Not covered.
    NotCovered,
    /// Cannot tell.
    CannotTell,
    /// In part.
    InPart,
}

impl Term for Cover {
    fn id(self) -> &'static str {
        match self {
            Self::Covered => "paper-cover-covered",
            Self::NotCovered => "paper-cover-not-covered",
            Self::CannotTell => "paper-cover-cannot-tell",
            Self::InPart => "paper-cover-in-part",
        }
    }
}

/// The warranty verdict.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Warranty {
    /// Verdict.
    #[serde(serialize_with = "serial::term")]
    pub cover: Cover,
    /// The term that decides.
    pub term: String,
    /// The evidence that it rests on.
    pub evidence: String,
}

/// Price and answer. Amounts come formatted, with currency where the total stands.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Price {
    /// Lines.
    pub lines: Vec<PriceLine>,
    /// Sum before tax.
    pub net: String,
    /// Tax rate, such as "20 %"; empty for none.
    pub tax_rate: String,
    /// Tax.
    pub tax: String,
    /// Sum to pay.
    pub total: String,
    /// Remark.
    pub note: String,
    /// The customer's answer.
    pub answer: Option<Answer>,
}

/// A line of the price.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PriceLine {
    /// What.
    pub what: String,
    /// Part number; empty for labour.
    pub number: String,
    /// How many.
    pub count: String,
    /// Price each.
    pub each: String,
    /// Price of the line.
    pub sum: String,
}

/// The customer's answer.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Answer {
    /// Yes or no.
    pub yes: bool,
    /// Who said it.
    pub name: String,
    /// When, as printed.
    pub on: String,
    /// Remark.
    pub note: String,
}

/// A part renewed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PartRenewed {
    /// Name.
    pub name: String,
    /// Number of the part that went in.
    pub number: String,
    /// Why.
    pub reason: String,
    /// Pull counter at that moment; empty if not known.
    pub counter: String,
}

/// A part measured for wear.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Wear {
    /// Part.
    pub part: String,
    /// What was measured on it.
    pub what: String,
    /// The reading; `None` if the step was passed without one.
    pub reading: Option<Reading>,
    /// Size when new, why there is no reading, earlier readings.
    pub note: String,
    /// Pulls left, and what to do; empty where the part was renewed or nothing tells.
    pub life: String,
}

/// A joint tightened.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Torque {
    /// Joint.
    pub joint: String,
    /// Thread size.
    pub thread: String,
    /// Thread hand.
    #[serde(serialize_with = "serial::term")]
    pub hand: Hand,
    /// The reading; `None` if the step was passed without one.
    pub reading: Option<Reading>,
    /// Locking, or why there is no reading.
    pub note: String,
}

/// A bench test.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Test {
    /// What was tested.
    pub name: String,
    /// How.
    pub method: String,
    /// Before anything was cleaned or changed.
    pub as_found: Option<TestResult>,
    /// Before the tool went back.
    pub as_left: Option<TestResult>,
}

/// A step left out, or an entry struck.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Change {
    /// What.
    pub what: String,
    /// Why.
    pub reason: String,
    /// Who and when.
    pub by: String,
}
