//! Grip: the code that a stack asks for, and what explains a stick-out.

mod checks;
mod contradiction;
mod explain;
mod layers;
mod pins;
mod suits;

pub use checks::Check;
pub use contradiction::contradiction;
pub(crate) use contradiction::without_setting;
pub use explain::{Explained, Explanation, explanations};
pub use layers::{LayerIn, StackIn};
pub use pins::{PinsRead, odd_pin};
pub(crate) use suits::code_to_fit;
pub use suits::{Suits, code_for_stack};

use calc::stack::{self, Known, Layer, Thickness};
use calc::working::Working;

use crate::entry::{StackRead, StickOutRead, ThicknessRead};
use crate::job::SetUp;

/// The layers of a stack as the calculation takes them.
fn reckoned(stack: &StackRead) -> Vec<Layer> {
    let layer = |thickness: &ThicknessRead| match thickness {
        ThicknessRead::Nominal {
            thickness_mm,
            tolerance_mm,
        } => Layer {
            thickness_mm: *thickness_mm,
            known: Known::Nominal(*tolerance_mm),
        },
        ThicknessRead::Measured(reading) => Layer {
            thickness_mm: reading.value,
            known: Known::Measured(reading.expanded.unwrap_or(0.0)),
        },
    };
    stack.layers.iter().map(|l| layer(&l.thickness)).collect()
}

/// The thickness of a stack and how well it is known; `None` for one without layers.
pub fn thickness(stack: &StackRead) -> Option<Thickness> {
    stack::thickness(&reckoned(stack)).ok()
}

/// How the thickness comes about.
pub fn thickness_working(stack: &StackRead) -> Option<Working> {
    stack::working(&reckoned(stack)).ok()
}

/// The stack that counts for a stick-out: its own, else the one that the code was chosen for.
pub fn stack_of<'a>(set_up: &'a SetUp, read: &'a StickOutRead) -> Option<&'a StackRead> {
    read.stack.as_ref().or(set_up.fitted.body.stack.as_ref())
}
