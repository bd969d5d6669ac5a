//! A nose set: collet or jaws, anvil and housing that together fit one fastener to one front end.

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
    /// Bore of the nose housing, mm.
    pub housing_bore_mm: f64,
    /// Most pull that it bears, kN.
    pub max_pull_kn: f64,
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
    /// Teeth along the grip.
    pub teeth: u32,
    /// Whole length, mm.
    pub length_mm: f64,
    /// Length of the gripping section, mm.
    pub grip_mm: f64,
    /// Smallest and largest nominal fastener diameter that it grips, mm.
    pub takes_mm: (f64, f64),
}

/// What pushes on the collar, body or flange.
#[derive(Clone, Debug, PartialEq)]
pub struct Anvil {
    /// Part number.
    pub number: String,
    /// Throat (swaging bore) or nosepiece bore, mm.
    pub throat_mm: f64,
    /// No-go size of the throat, mm.
    pub no_go_mm: f64,
    /// Smallest and largest fastener diameter that it is for, mm.
    pub takes_mm: (f64, f64),
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
