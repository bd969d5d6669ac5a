//! What the record says of a service task: at which counter it was last done here, by the steps and parts of jobs.

use crate::counter::Anew;
use crate::job::Job;
use crate::sheet::{Part, Task, ToolModel};

/// The pulls at which `task` was last done, in `this` job or the ended ones of the tool before it, oldest first.
/// `None` where no job tells, where nobody read the counter then, or where it began anew since.
pub fn last_done(model: &ToolModel, task: &Task, earlier: &[Job], this: &Job) -> Option<u64> {
    for job in earlier.iter().chain([this]).rev() {
        if let Some(at) = done_in(model, task, job) {
            return at;
        }
        if Anew::of(job).is_some() {
            return None;
        }
    }
    None
}

/// The counter at which `job` did the task, `None` in it where that was not read; `None` where it did not do it.
///
/// A task that is called after a part is done by renewing it; one that washes parts by taking them off, washing
/// and fitting them again; another that looks at parts by gauging or renewing each of them.
fn done_in(model: &ToolModel, task: &Task, job: &Job) -> Option<Option<u64>> {
    let at_receipt = job.received.body.counter;
    let mut replaced = job.replaced.iter();
    if let Some(renewed) = replaced.rfind(|r| r.body.part == task.id) {
        return Some(renewed.body.counter.or(at_receipt));
    }
    let renews = model.part(&task.id).is_some();
    let all = |ids: &[String], is_done: &dyn Fn(&Part) -> bool| {
        let mut parts = ids.iter().map(|id| model.part(id));
        !ids.is_empty() && parts.all(|part| part.is_some_and(is_done))
    };
    let washed = all(&task.washes, &|part| is_washed(job, part));
    let looked = || all(&task.parts, &|part| is_looked_at(job, part));
    let is_look = task.washes.is_empty() && !renews;
    (washed || (is_look && looked())).then_some(at_receipt)
}

/// Whether `part` came off, was washed then, and was fitted after that.
fn is_washed(job: &Job, part: &Part) -> bool {
    let after = |since: u32, step: &str| {
        let mut steps = job.steps.iter();
        let done = steps.find(|s| s.version > since && s.body.step == step);
        done.map(|s| s.version)
    };
    after(0, &format!("off-{}", part.id))
        .and_then(|off| after(off, "clean"))
        .and_then(|clean| after(clean, &format!("fit-{}", part.id)))
        .is_some()
}

/// Whether every dimension of `part` that wears was read, or the part was renewed.
fn is_looked_at(job: &Job, part: &Part) -> bool {
    let is_read = |id: &str| {
        let step = format!("gauge-{}-{id}", part.id);
        let mut steps = job.steps.iter();
        steps.any(|s| s.body.step == step && s.body.reading.is_some())
    };
    let renewed = job.replaced.iter().any(|r| r.body.part == part.id);
    renewed || (!part.wear.is_empty() && part.wear.iter().all(|wear| is_read(&wear.id)))
}
