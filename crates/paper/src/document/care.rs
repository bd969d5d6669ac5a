//! The care sheet.

use calc::Message;
use serde::Serialize;
use words::Words;

use super::{Data, entry, pages};
use crate::PaperError;
use crate::axis::axis;
use crate::model::{CareCaution, CareLubricant, CareSheet, CareTask, RecordHead, Shop, Tool};
use crate::typeset::pdf;

/// Width of the axis drawing in its own units: letters come out at about 8 pt.
const DRAWING: f64 = 720.0;

/// What the template gets.
#[derive(Serialize)]
struct Care<'a> {
    shop: &'a Shop,
    customer: &'a str,
    tool: &'a Tool,
    record: &'a RecordHead,
    shift: Vec<&'a str>,
    tasks: Vec<Row<'a>>,
    axis: Option<Drawing<'a>>,
    lubricants: Vec<Lubricant<'a>>,
    cautions: &'a [CareCaution],
}

/// A task that the counter or the calendar calls for.
#[derive(Serialize)]
struct Row<'a> {
    what: &'a str,
    every: String,
    next: String,
}

#[derive(Serialize)]
struct Drawing<'a> {
    svg: String,
    label: &'a str,
    legend: Vec<(usize, &'a str, &'a str)>,
}

#[derive(Serialize)]
struct Lubricant<'a> {
    name: &'a str,
    /// Number on the drawing (empty if it is not there), part, amount.
    uses: Vec<(String, &'a str, &'a str)>,
}

/// The care sheet as PDF, A4: what to do in front, what is inside behind.
///
/// # Errors
/// A day that is not in the calendar, or the typesetter refuses.
pub fn care_sheet(sheet: &CareSheet, words: &Words) -> Result<Vec<u8>, PaperError> {
    let mut said = pages(words);
    said.insert("entry", entry(words, sheet.record.sequence));
    let issued = Message::new("paper-care-issued")
        .with("day", sheet.issued_on.as_str())
        .with("job", sheet.job.as_str());
    said.insert("issued", words.say(&issued));
    let doc = Care {
        shop: &sheet.shop,
        customer: &sheet.customer,
        tool: &sheet.tool,
        record: &sheet.record,
        shift: shift(&sheet.tasks),
        tasks: rows(sheet, words),
        axis: drawing(sheet),
        lubricants: sheet
            .lubricants
            .iter()
            .map(|lubricant| uses(sheet, lubricant))
            .collect(),
        cautions: &sheet.cautions,
    };
    let data = Data::of(&doc, words, said);
    let ident = format!("care {} {}", sheet.job, sheet.record.hash);
    pdf("/care.typ", &data, &ident, sheet.issued)
}

fn shift(tasks: &[CareTask]) -> Vec<&str> {
    let shift = tasks.iter().filter(|task| task.every_shift);
    shift.map(|task| task.what.as_str()).collect()
}

/// The other tasks, the most frequent first; those by the calendar alone last.
fn rows<'a>(sheet: &'a CareSheet, words: &Words) -> Vec<Row<'a>> {
    let is_timed = |task: &&CareTask| task.every_pulls.is_some() || task.every_days.is_some();
    let mut tasks: Vec<&CareTask> = sheet.tasks.iter().filter(is_timed).collect();
    let often = |task: &CareTask| {
        (
            task.every_pulls.unwrap_or(u64::MAX),
            task.every_days.unwrap_or(u32::MAX),
        )
    };
    tasks.sort_by_key(|task| often(task));
    tasks
        .into_iter()
        .map(|task| Row {
            what: &task.what,
            every: words.say(&every(task)),
            next: next(task, sheet.counter, words),
        })
        .collect()
}

fn every(task: &CareTask) -> Message {
    let pulls = |count: u64| Message::new("paper-every-pulls").with("pulls", count);
    let days = |count: u32| Message::new("paper-every-days").with("days", count);
    match (task.every_pulls, task.every_days) {
        (Some(p), Some(d)) => Message::new("paper-every-either")
            .with("pulls", pulls(p))
            .with("days", days(d)),
        (Some(p), None) => pulls(p),
        (None, d) => days(d.unwrap_or(0)),
    }
}

fn next(task: &CareTask, counter: Option<u64>, words: &Words) -> String {
    let at = task.next_pulls(counter);
    if let Some((at, _)) = at.zip(counter).filter(|(at, counter)| at <= counter) {
        return words.say(&Message::new("paper-next-due").with("pulls", at));
    }
    let at = at.map(|at| Message::new("paper-next-pulls").with("pulls", at));
    match (at, task.next_on.as_str()) {
        (Some(at), "") => words.say(&at),
        (Some(at), day) => words.say(
            &Message::new("paper-next-either")
                .with("pulls", at)
                .with("day", unbroken(day)),
        ),
        (None, day) => unbroken(day),
    }
}

/// A date stays on one line.
fn unbroken(day: &str) -> String {
    day.replace(' ', "\u{a0}")
}

fn drawing(sheet: &CareSheet) -> Option<Drawing<'_>> {
    let parts = &sheet.axis.parts;
    (!parts.is_empty()).then(|| Drawing {
        svg: axis(&sheet.axis, DRAWING),
        label: &sheet.axis.label,
        legend: (1..)
            .zip(parts)
            .map(|(number, part)| (number, part.name.as_str(), part.number.as_str()))
            .collect(),
    })
}

fn uses<'a>(sheet: &CareSheet, lubricant: &'a CareLubricant) -> Lubricant<'a> {
    let number = |id: &str| {
        let at = sheet.axis.parts.iter().position(|part| part.id == id);
        at.map(|at| (at + 1).to_string()).unwrap_or_default()
    };
    Lubricant {
        name: &lubricant.name,
        uses: lubricant
            .uses
            .iter()
            .map(|place| {
                let (name, amount) = (place.name.as_str(), place.amount.as_str());
                (number(&place.part), name, amount)
            })
            .collect(),
    }
}
