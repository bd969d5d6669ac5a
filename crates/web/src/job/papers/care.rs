//! The care sheet of a tool that was handed back, and the label of a job.

use jiff::ToSpan;
use jiff::civil::Date;
use paper::Code;
use paper::model::{CareCaution, CareLubricant, CareSheet, CareTask, Label, LubricantUse};
use shop::care::last_done;
use shop::sheet::Caution;

use crate::job::view::View;
use crate::job::{Loaded, rebuilt};
use crate::show;

/// The care sheet; `None` before the tool was handed back.
pub fn sheet(v: &View, loaded: &Loaded) -> Option<CareSheet> {
    let back = v
        .job
        .returned
        .as_ref()
        .filter(|_| v.job.goes_back_to_work())?;
    let r = &v.job.received.body;
    let tasks = v.model.tasks.iter().map(|task| CareTask {
        what: task.what.clone(),
        every_shift: task.every_shift,
        every_pulls: task.every_pulls,
        every_days: task.every_days,
        last_pulls: last_done(v.model, task, &v.tool.earlier, v.job),
        next_on: next_on(v.day_of(back.at), task.every_days),
    });
    let lubricants = v.model.lubricants.iter().map(|lubricant| CareLubricant {
        name: lubricant.name.clone(),
        uses: uses(v, &lubricant.id),
    });
    let plain = |c: &Caution| CareCaution {
        text: c.text.clone(),
        source: c.source.clone(),
    };
    // Of a part, the caution says which: the sheet's reader stands before it, the crew does not.
    let of_parts = v.model.parts.iter().filter_map(|part| {
        let caution = plain(part.caution.as_ref()?);
        let text = format!("{}: {}", part.name, caution.text);
        Some(CareCaution { text, ..caution })
    });
    let cautions = v.model.cautions.iter().map(plain).chain(of_parts);
    Some(CareSheet {
        shop: super::shop(v),
        job: r.number.to_string(),
        customer: v.person(&r.customer),
        tool: super::tool(v),
        counter: r.counter,
        tasks: tasks.collect(),
        axis: rebuilt::axis_drawing(v, None),
        lubricants: lubricants.collect(),
        cautions: cautions.collect(),
        issued_on: super::printed(v, back.at),
        record: super::head(loaded),
        issued: super::issued(v, back.at),
    })
}

/// The day on which a task by the calendar is next due: its days run from the day of the hand-back.
fn next_on(back: Date, every_days: Option<u32>) -> String {
    let next = every_days.map(|days| back.checked_add(i64::from(days).days()));
    next.and_then(Result::ok).map_or(String::new(), show::day)
}

fn uses(v: &View, lubricant: &str) -> Vec<LubricantUse> {
    let parts = v.model.parts.iter();
    parts
        .filter_map(|part| {
            let (id, amount) = part.lubricant.as_ref()?;
            (id == lubricant).then(|| LubricantUse {
                part: part.id.clone(),
                name: part.name.clone(),
                amount: amount.clone(),
            })
        })
        .collect()
}

/// The label of a job, for the tool's tray.
pub fn label(v: &View) -> Label {
    let r = &v.job.received.body;
    Label {
        code: Code::Job(r.number),
        job: r.number.to_string(),
        model: v.model.name.clone(),
        serial: r.serial.clone(),
        customer: v.person(&r.customer),
        due: r.due.map(show::day).unwrap_or_default(),
        issued: super::issued(v, v.job.received.at),
    }
}
