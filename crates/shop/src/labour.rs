//! Labour as the shop's own clocks know it: the minutes of the sheet, drawn towards the times that this
//! shop took for the same task on the same model.
//!
//! A time counts where a closed job timed the whole task: each of its steps, each time it was done. How
//! times and sheet are weighed is [`calc::labour_time`].

use std::collections::BTreeMap;

use calc::Message;
use calc::labour_time::{self, Labour, SHEET_COUNTS_AS};
use calc::working::{Working, places};

use crate::estimate::BENCH_MINUTES;
use crate::job::Job;
use crate::quote::route_minutes;
use crate::route::{self, Task};
use crate::sheet::{Part, ToolModel};

/// A clock that ran less, minutes, was started and stopped by mistake. Common practice, no source.
const STOPPED_AT_ONCE: f64 = 0.1;
/// A clock that shows more than so many times the sheet's minutes was left running (common practice, no
/// source).
pub const LEFT_RUNNING: f64 = 5.0;

/// Of a task below this, minutes, the clock may show as much as of one of so many.
const SHORTEST: f64 = 1.0;

/// The shop's own times of the tasks of a model, by the first step of each.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Times {
    timed: BTreeMap<String, Vec<f64>>,
    left_out: BTreeMap<String, usize>,
}

impl Times {
    /// The times of `jobs`, all of this model; those that have not ended do not count.
    pub fn of(model: &ToolModel, jobs: &[Job]) -> Self {
        let mut times = Self::default();
        for job in jobs.iter().filter(|job| job.returned.is_some()) {
            let Some(route) = job.planned(model) else {
                continue;
            };
            for task in route.tasks() {
                if let Some(minutes) = job.minutes_of(&task.steps) {
                    times.add(&task, minutes);
                }
            }
        }
        times
    }

    fn add(&mut self, task: &Task, minutes: f64) {
        let key = task.steps[0].clone();
        // Stopped at once it measured no work either.
        if minutes > LEFT_RUNNING * task.minutes.max(SHORTEST) || minutes < STOPPED_AT_ONCE {
            *self.left_out.entry(key).or_default() += 1;
        } else {
            self.timed.entry(key).or_default().push(minutes);
        }
    }

    fn of_task(&self, task: &Task) -> &[f64] {
        self.timed.get(&task.steps[0]).map_or(&[], Vec::as_slice)
    }

    /// Hands-on minutes of the route to all of `parts` and back, as learned; 0 where there is none.
    pub fn minutes(&self, model: &ToolModel, parts: &[&Part]) -> f64 {
        match self.labour(&tasks(model, parts)) {
            Some(labour) => labour.way,
            None => route_minutes(model, parts),
        }
    }

    /// `None` where the sheet states minutes that the method refuses: then they stand as they are.
    fn labour(&self, tasks: &[Task]) -> Option<Labour> {
        let weighed: Vec<labour_time::Task> = tasks
            .iter()
            .map(|task| labour_time::Task {
                sheet: task.minutes,
                timed: self.of_task(task),
            })
            .collect();
        labour_time::labour(&weighed, f64::from(BENCH_MINUTES), SHEET_COUNTS_AS).ok()
    }

    /// How the hours of labour for `parts` come about: the sheet's minutes, how often each task was
    /// timed here, what is taken.
    pub fn working(&self, model: &ToolModel, parts: &[&Part]) -> Option<Working> {
        let tasks = tasks(model, parts);
        let labour = self.labour(&tasks)?;
        let mut working = labour_time::working(&labour);
        for (task, taken) in tasks.iter().zip(&labour.each) {
            let timed = self.of_task(task);
            if !timed.is_empty() {
                let mean = timed.iter().sum::<f64>() / timed.len() as f64;
                let note = Message::new("note-labour-task")
                    .with("task", task.name)
                    .number("sheet", task.minutes, places(task.minutes, 0))
                    .with("count", timed.len())
                    .number("mean", mean, 1)
                    .number("taken", *taken, 1);
                working = working.note(note);
            }
            if let Some(count) = self.left_out.get(&task.steps[0]) {
                let note = Message::new("note-labour-left-out")
                    .with("task", task.name)
                    .with("count", *count)
                    .number("most", LEFT_RUNNING, 0);
                working = working.note(note);
            }
        }
        Some(working)
    }
}

fn tasks<'a>(model: &'a ToolModel, parts: &[&Part]) -> Vec<Task<'a>> {
    let ids: Vec<&str> = parts.iter().map(|part| part.id.as_str()).collect();
    route::to(model, &ids).map_or(Vec::new(), |route| route.tasks())
}
