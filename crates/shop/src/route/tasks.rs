//! A route as tasks: what the sheet states minutes for, and the steps that these minutes are for.

use super::Route;
use super::way::{closing, joints_of};

/// A task of a route.
#[derive(Clone, Debug, PartialEq)]
pub struct Task<'a> {
    /// The part, or what is done before the first power-up.
    pub name: &'a str,
    /// Hands-on minutes by the sheet.
    pub minutes: f64,
    /// Ids of its steps: a part off and fitted again with its joints; what is gauged on the way is no
    /// part of it. The first is enough to tell tasks of a model apart.
    pub steps: Vec<String>,
}

impl<'a> Route<'a> {
    /// Its tasks, in order.
    pub fn tasks(&self) -> Vec<Task<'a>> {
        let parts = self.off.iter().map(|part| {
            let mut steps = vec![format!("off-{}", part.id), format!("fit-{}", part.id)];
            for joint in joints_of(self.model, part) {
                steps.push(format!("undo-{}", joint.id));
                steps.push(format!("tighten-{}", joint.id));
            }
            Task {
                name: part.name.as_str(),
                minutes: part.minutes,
                steps,
            }
        });
        let closing = closing(self.model, &self.off).map(|closing| Task {
            name: closing.what.as_str(),
            minutes: closing.minutes,
            steps: vec![format!("close-{}", closing.id)],
        });
        parts.chain(closing).collect()
    }

    /// Hands-on minutes of all of them.
    pub fn minutes(&self) -> f64 {
        self.tasks().iter().map(|task| task.minutes).sum()
    }
}
