//! A nose set: collet or jaws, anvil and housing that together fit one fastener to one front end.

use rust_decimal::Decimal;

use super::{GrooveForm, Thread};

/// A nose set sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct NoseSet {
    /// Id, unique among nose sets.
    pub id: String,
    /// Name.
    pub name: String,
    /// Thread that screws onto the tool.
    pub thread: Thread,
    /// Collet, jaws or draw mandrel.
    pub collet: Collet,
    /// Anvil.
    pub anvil: Anvil,
    /// Housing.
    pub housing: Housing,
    /// Most pull that it bears, kN; `None` where the sheet does not say.
    pub max_pull_kn: Option<f64>,
    /// Parts that are easily taken for these.
    pub look_alikes: Vec<LookAlike>,
}

/// What grips the tail.
#[derive(Clone, Debug, PartialEq)]
pub struct Collet {
    /// Part number.
    pub number: String,
    /// Groove form that its teeth match.
    pub form: GrooveForm,
    /// Tooth pitch, mm; `None` for plain jaws.
    pub pitch_mm: Option<f64>,
    /// Teeth along the grip; `None` where the sheet does not say.
    pub teeth: Option<u32>,
    /// Whole length, mm; `None` where the sheet does not say.
    pub length_mm: Option<f64>,
    /// Length of the gripping section, mm; `None` where the sheet does not say.
    pub grip_mm: Option<f64>,
    /// Outside diameter, which runs in the housing, mm; `None` where the sheet does not say.
    pub outside_mm: Option<f64>,
    /// Smallest and largest nominal fastener diameter that it grips, mm.
    pub takes_mm: (f64, f64),
    /// Over the counter.
    pub counter: Counter,
}

/// What holds the anvil on the tool, with the collet running inside.
#[derive(Clone, Debug, PartialEq)]
pub struct Housing {
    /// Part number; `None` where the sheet does not say.
    pub number: Option<String>,
    /// Bore, mm; `None` where the sheet does not say.
    pub bore_mm: Option<f64>,
    /// Over the counter.
    pub counter: Counter,
}

/// What a part costs over the counter, and how many lie there.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counter {
    /// Price without tax, in the shop's currency; `None` where the sheet does not say.
    pub price: Option<Decimal>,
    /// How many are on hand; `None` where nobody has counted.
    pub on_hand: Option<u32>,
}

/// What pushes on the collar, body or flange.
#[derive(Clone, Debug, PartialEq)]
pub struct Anvil {
    /// Part number.
    pub number: String,
    /// Throat (swaging bore) or nosepiece bore, mm; `None` where the sheet does not say.
    pub throat_mm: Option<f64>,
    /// No-go size of the throat, mm; `None` where the sheet does not say.
    pub no_go_mm: Option<f64>,
    /// Smallest and largest fastener diameter that it is for, mm.
    pub takes_mm: (f64, f64),
    /// Over the counter.
    pub counter: Counter,
}

/// A part easily taken for the right one.
#[derive(Clone, Debug, PartialEq)]
pub struct LookAlike {
    /// Its part number.
    pub number: String,
    /// What differs.
    pub differs: String,
    /// Size on the right part, mm.
    pub this_mm: f64,
    /// Size on the wrong part, mm.
    pub that_mm: f64,
    /// What the wrong one does.
    pub effect: String,
}
