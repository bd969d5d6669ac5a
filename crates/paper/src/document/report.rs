//! The service report.

use calc::Message;
use calc::decision::Rule;
use serde::Serialize;
use words::{Term, Words};

use super::pulls::{Drawing, Pulls};
use super::{Data, entry, pages};
use crate::PaperError;
use crate::axis::{self, Axis, PartState};
use crate::model::{AttachedPhoto, ServiceReport, TestResult};
use crate::typeset::pdf_with;

/// Width of the axis drawing in its own units: letters come out at about 7 pt.
const DRAWING: f64 = 860.0;

/// What the template gets.
#[derive(Serialize)]
struct Report<'a> {
    #[serde(flatten)]
    report: &'a ServiceReport,
    axis: Option<Drawing<'a>>,
    photos: Vec<Photo<'a>>,
    pulls: Vec<Pulls<'a>>,
}

/// A photo, and the path under which the template finds its picture.
#[derive(Serialize)]
struct Photo<'a> {
    #[serde(flatten)]
    photo: &'a AttachedPhoto,
    path: Option<String>,
}

/// The service report as PDF, A4.
///
/// # Errors
/// A day that is not in the calendar, or the typesetter refuses.
pub fn service_report(report: &ServiceReport, words: &Words) -> Result<Vec<u8>, PaperError> {
    let mut said = pages(words);
    said.insert("entry", entry(words, report.record.sequence));
    let end = Message::new("paper-end").with("number", report.number.as_str());
    said.insert("end", words.say(&end));
    let doubt = Message::new("paper-report-doubt-reason")
        .with("name", report.doubted_by.as_str())
        .with("reason", report.doubt_reason.as_str());
    said.insert("doubt", words.say(&doubt));
    let axis = report.axis.as_ref().filter(|axis| !axis.parts.is_empty());
    if let Some(axis) = axis {
        said.insert("renewed", renewed(axis, words));
    }
    let doc = Report {
        report,
        axis: axis.map(|drawn| Drawing {
            svg: axis::axis(drawn, DRAWING),
            label: &drawn.label,
        }),
        pulls: report.pulls.iter().map(Pulls::of).collect(),
        photos: report.photos.iter().zip(1..).map(numbered).collect(),
    };
    let data = Data {
        rules: rules(report),
        ..Data::of(&doc, words, said)
    };
    let ident = format!("report {} {}", report.number, report.record.hash);
    let pictures: Vec<(String, &[u8])> = doc
        .photos
        .iter()
        .filter_map(|p| Some((p.path.clone()?, p.photo.jpeg.as_deref()?)))
        .collect();
    pdf_with("/report.typ", &data, &pictures, &ident, report.issued)
}

fn numbered((photo, number): (&AttachedPhoto, usize)) -> Photo<'_> {
    let path = photo.jpeg.as_ref().map(|_| format!("/photo-{number}.jpg"));
    Photo { photo, path }
}

/// "Renewed, double ring: 3 Collet, 5 Spring."; empty if no part of the axis was.
fn renewed(axis: &Axis, words: &Words) -> String {
    let parts: Vec<String> = (1..)
        .zip(&axis.parts)
        .filter(|(_, part)| part.state == PartState::Renewed)
        .map(|(number, part)| format!("{number}\u{a0}{}", part.name))
        .collect();
    if parts.is_empty() {
        return String::new();
    }
    words.say(&Message::new("paper-renewed").with("parts", parts.join(", ")))
}

/// The decision rules that the report's readings were judged by.
fn rules(report: &ServiceReport) -> Vec<&'static str> {
    let tests = report.tests.iter().flat_map(|t| [&t.as_found, &t.as_left]);
    let tests = tests.flatten().filter_map(|result| match result {
        TestResult::Read(reading) => Some(reading),
        TestResult::Looked(_) => None,
    });
    let torques = report.torques.iter().filter_map(|t| t.reading.as_ref());
    let wear = report.wear.iter().filter_map(|w| w.reading.as_ref());
    let trials = report.joints.iter().map(|j| &j.joint);
    let joints = report.found_joints.iter().map(|j| &j.joint).chain(trials);
    let joints = joints.flat_map(|j| &j.readings).map(|r| &r.reading);
    let used: Vec<Rule> = tests
        .chain(torques)
        .chain(wear)
        .chain(joints)
        .map(|r| r.bar.rule)
        .collect();
    [Rule::Guarded, Rule::Simple]
        .into_iter()
        .filter(|rule| used.contains(rule))
        .map(Term::id)
        .collect()
}
