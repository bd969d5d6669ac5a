//! Photos and files at their stage.

use std::collections::BTreeSet;

use calc::Message;

use super::refusal::{Refusal, Refusals, refuse, refuse_all};
use super::{Desk, Job, Stage, Stamped};
use crate::entry::{Body, FileAttached};

impl Job {
    pub(super) fn attach(
        &self,
        files: Vec<FileAttached>,
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        if files.is_empty() {
            return Err(vec![refuse("file", Message::new("refuse-file-none"))]);
        }
        let is_open = |file: &FileAttached| {
            Stage::parse(&file.stage).is_some_and(|stage| self.is_open(stage))
        };
        if !files.iter().all(is_open) {
            return refuse_all(Message::new("refuse-file-stage"));
        }
        let steps = self.model(desk).and_then(|model| self.route_steps(model));
        let on_route = |file: &FileAttached| {
            let stage = Stage::parse(&file.stage) == Some(Stage::Rebuilt);
            let mut steps = steps.iter().flatten();
            file.step.is_empty() || (stage && steps.any(|step| step.id == file.step))
        };
        if let Some(lost) = files.iter().find(|file| !on_route(file)) {
            let message = Message::new("refuse-no-step").with("step", lost.step.as_str());
            return Err(vec![refuse("step", message)]);
        }
        let mut there: BTreeSet<(String, String)> =
            self.files.iter().map(|f| key(&f.body)).collect();
        let again: Vec<Refusal> = files
            .iter()
            .filter(|file| !there.insert(key(file)))
            .map(|file| {
                let message = Message::new("refuse-file-again").with("name", file.name.as_str());
                refuse("file", message)
            })
            .collect();
        if !again.is_empty() {
            return Err(again);
        }
        let attached = files.into_iter().map(|file| {
            let note = file.note.trim().to_owned();
            FileAttached { note, ..file }.into()
        });
        Ok(attached.collect())
    }

    /// Files of the step with this id, in order.
    pub fn files_of_step<'a>(
        &'a self,
        step: &'a str,
    ) -> impl Iterator<Item = &'a Stamped<FileAttached>> {
        self.files.iter().filter(move |f| f.body.step == step)
    }

    /// Files attached to `stage`, in order.
    pub fn files_at(&self, stage: Stage) -> impl Iterator<Item = &Stamped<FileAttached>> {
        self.files
            .iter()
            .filter(move |f| Stage::parse(&f.body.stage) == Some(stage))
    }
}

/// The same bytes at the same stage are the same file.
fn key(file: &FileAttached) -> (String, String) {
    (file.stage.clone(), file.sha256.clone())
}
