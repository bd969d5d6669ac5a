//! Sizes that no sheet states, measured on the parts in hand: they decide the criteria that a missing size
//! leaves open. The sheets stay as they are; what they state is not measured over.

use calc::units::Unit;

use crate::sheet::{FastenerFamily, NoseSet};

/// A size that can be measured for a match.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Missing {
    /// The text that asks for it.
    pub ask: &'static str,
    /// Its name in a form.
    pub name: &'static str,
    /// Its unit; `None` for a count.
    pub unit: Option<Unit>,
    /// Least and most that it can be.
    pub range: (f64, f64),
    /// Measured on the nose set; else on the fastener.
    pub on_nose: bool,
}

const fn of_fastener(ask: &'static str, name: &'static str, unit: Option<Unit>) -> Missing {
    Missing {
        ask,
        name,
        unit,
        range: match unit {
            Some(_) => (0.05, 500.0),
            None => (1.0, 500.0),
        },
        on_nose: false,
    }
}

const fn of_nose(ask: &'static str, name: &'static str, unit: Option<Unit>) -> Missing {
    Missing {
        on_nose: true,
        ..of_fastener(ask, name, unit)
    }
}

const MM: Option<Unit> = Some(Unit::Millimetre);

/// Every size that can be measured.
pub const MEASURABLE: [Missing; 14] = [
    of_fastener("measure-groove-pitch", "groove_pitch", MM),
    of_fastener("measure-grooves", "grooves", None),
    of_fastener("measure-tail", "tail", MM),
    of_fastener("measure-tail-outside", "tail_outside", MM),
    of_fastener("measure-collar", "collar", MM),
    of_fastener("measure-stroke", "needs_stroke", MM),
    of_nose("measure-teeth-pitch", "teeth_pitch", MM),
    of_nose("measure-teeth", "teeth", None),
    of_nose("measure-grip", "grip", MM),
    of_nose("measure-length", "collet_length", MM),
    of_nose("measure-throat", "throat", MM),
    of_nose("measure-housing", "housing", MM),
    of_nose("measure-collet-outside", "collet_outside", MM),
    of_nose("measure-max-pull", "max_pull", Some(Unit::Kilonewton)),
];

/// Sizes as measured, by [`Missing::name`].
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sizes {
    /// Name and value.
    pub values: Vec<(&'static str, f64)>,
}

impl Sizes {
    fn fill(&self, slot: &mut Option<f64>, name: &str) {
        *slot = slot.or_else(|| self.of(name));
    }

    fn of(&self, name: &str) -> Option<f64> {
        let found = self.values.iter().find(|(own, _)| *own == name);
        found.map(|(_, value)| *value)
    }

    fn count(&self, slot: &mut Option<u32>, name: &str) {
        // A count was read as a whole number within its range.
        *slot = slot.or_else(|| self.of(name).map(|value| value as u32));
    }

    /// `fastener` with what its sheet does not state.
    pub fn fill_fastener(&self, fastener: &FastenerFamily) -> FastenerFamily {
        let mut filled = fastener.clone();
        self.fill(&mut filled.groove.pitch_mm, "groove_pitch");
        self.count(&mut filled.pull_grooves, "grooves");
        self.fill(&mut filled.tail_mm, "tail");
        self.fill(&mut filled.tail_outside_mm, "tail_outside");
        self.fill(&mut filled.collar_mm, "collar");
        self.fill(&mut filled.needs_stroke_mm, "needs_stroke");
        filled
    }

    /// `nose` with what its sheet does not state.
    pub fn fill_nose(&self, nose: &NoseSet) -> NoseSet {
        let mut filled = nose.clone();
        self.fill(&mut filled.collet.pitch_mm, "teeth_pitch");
        self.count(&mut filled.collet.teeth, "teeth");
        self.fill(&mut filled.collet.grip_mm, "grip");
        self.fill(&mut filled.collet.length_mm, "collet_length");
        self.fill(&mut filled.anvil.throat_mm, "throat");
        self.fill(&mut filled.housing.bore_mm, "housing");
        self.fill(&mut filled.collet.outside_mm, "collet_outside");
        self.fill(&mut filled.max_pull_kn, "max_pull");
        filled
    }
}
