//! What belongs to a complete tool, and what must be there before it runs.

use crate::entry::Came;
use crate::job::{Desk, Job};
use crate::sheet::{Ending, FastenerFamily, Guard, ToolModel};

/// What did not come with the tool of `job` and is needed before it runs, as its sheet says: what keeps hands
/// away always, what catches tails where the fastener in hand parts one. Without a fastener in hand, where any
/// that the tool sets does. A sheet that marks nothing leaves it open: then all that did not come.
pub fn needed_to_run<'a>(job: &'a Job, model: &ToolModel, desk: &Desk) -> Vec<&'a Came> {
    let missing = job.received.body.came.iter().filter(|c| c.count < c.of);
    if model.kit.iter().all(|item| item.guards.is_none()) {
        return missing.collect();
    }
    let guards = |came: &&Came| {
        let line = model.kit.iter().find(|item| item.item == came.item);
        match line.and_then(|item| item.guards) {
            Some(Guard::Hands) => true,
            Some(Guard::Tails) => parts_a_tail(job, model, desk),
            None => false,
        }
    };
    missing.filter(guards).collect()
}

/// Whether a tail can fly: of the fastener in hand, else of any that the tool sets.
fn parts_a_tail(job: &Job, model: &ToolModel, desk: &Desk) -> bool {
    let parts = |family: &FastenerFamily| family.ending == Ending::Break;
    let fitted = job.set_up().map(|set_up| &set_up.fitted.body.fastener);
    match fitted.and_then(|pin| desk.shelf.fastener(&pin.into())) {
        Some(family) => parts(family),
        None => desk.shelf.settable(model).any(|(_, family)| parts(family)),
    }
}
