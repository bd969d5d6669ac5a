//! What a route takes: tools, what goes on and in, what must be new, where to take care.

use super::way::joints_of;
use super::{Act, Route};
use crate::sheet::{Caution, Joint, Part};

/// A lubricant or fluid, with where it goes and how much of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Consumable<'a> {
    /// What it is.
    pub name: &'a str,
    /// The part that gets it, or the step that it is for.
    pub at: &'a str,
    /// How much, as the sheet words it.
    pub amount: &'a str,
}

impl<'a> Route<'a> {
    /// Whether the part with this id comes off.
    pub fn takes_off(&self, part: &str) -> bool {
        self.off.iter().any(|off| off.id == part)
    }

    /// Every joint that is undone, in order.
    pub fn joints(&self) -> Vec<&'a Joint> {
        let joints = self.off.iter().map(|part| joints_of(self.model, part));
        joints.flatten().collect()
    }

    /// The tools of its joints, each once.
    pub fn tools(&self) -> Vec<&'a str> {
        let mut tools: Vec<&str> = Vec::new();
        for joint in self.joints() {
            if !tools.contains(&joint.tool.as_str()) {
                tools.push(&joint.tool);
            }
        }
        tools
    }

    /// Every caution at its steps, each once.
    pub fn cautions(&self) -> Vec<&'a Caution> {
        let mut cautions: Vec<&Caution> = Vec::new();
        for caution in self.steps.iter().filter_map(|step| step.caution) {
            if !cautions.contains(&caution) {
                cautions.push(caution);
            }
        }
        cautions
    }

    /// Lubricants of the parts that are fitted, and what is filled in, in the order of the rebuild.
    pub fn consumables(&self) -> Vec<Consumable<'a>> {
        let needed = self.steps.iter().filter_map(|step| match step.act {
            Act::Fit(part) => Some((part.lubricant.as_ref()?, part.name.as_str())),
            Act::Close(closing) => Some((closing.fills.as_ref()?, closing.what.as_str())),
            _ => None,
        });
        let named = needed.map(|((id, amount), at)| {
            let known = self.model.lubricants.iter().find(|l| l.id == *id);
            Consumable {
                name: known.map_or(id, |l| &l.name),
                at,
                amount,
            }
        });
        named.collect()
    }

    /// Parts that are renewed because they were disturbed.
    pub fn renewed(&self) -> Vec<&'a Part> {
        self.off.iter().copied().filter(|part| part.renew).collect()
    }
}
