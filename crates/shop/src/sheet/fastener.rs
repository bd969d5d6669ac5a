//! A fastener family: grip codes, stick-out, and the limits of a good joint.

use calc::decision::{Limits, Rule};
use calc::screw_stop::Effect;
use calc::units::Unit;

use super::GaugeKind;
use crate::entry::Seen;

/// What kind of fastener it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FastenerKind {
    /// Pin and swaged collar.
    Lockbolt,
    /// Blind rivet.
    BlindRivet,
    /// Structural blind bolt.
    BlindBolt,
    /// Rivet nut.
    RivetNut,
}

/// Whether its tail breaks off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ending {
    /// The tail or mandrel parts at a notch.
    Break,
    /// The stroke or force stop ends the pull.
    NonBreak,
}

/// Form of the pull grooves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GrooveForm {
    /// Round-bottomed rings.
    Round,
    /// V of 60°.
    Vee60,
    /// Buttress.
    Buttress,
    /// Plain shank gripped by jaws.
    Plain,
    /// An internal thread, taken by a draw mandrel.
    Thread,
}

/// Pull grooves of a tail, which the collet's teeth must match.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Groove {
    /// Form.
    pub form: GrooveForm,
    /// Pitch, mm; `None` for a plain shank.
    pub pitch_mm: Option<f64>,
}

/// A grip code and the stack that it is made for.
#[derive(Clone, Debug, PartialEq)]
pub struct GripCode {
    /// The code as stamped.
    pub code: String,
    /// Thinnest stack, mm.
    pub min_mm: f64,
    /// Thickest stack, mm.
    pub max_mm: f64,
}

/// A limit that a set joint must meet.
#[derive(Clone, Debug, PartialEq)]
pub struct Criterion {
    /// Id, unique in the family.
    pub id: String,
    /// What is measured.
    pub name: String,
    /// Unit.
    pub unit: Unit,
    /// Limits.
    pub limits: Limits,
    /// Decision rule.
    pub rule: Rule,
    /// Gauges that can read it.
    pub gauges: Vec<GaugeKind>,
    /// Standard deviation between joints set alike, mm, where the sheet knows it.
    pub spread_mm: Option<f64>,
    /// How the stroke must change when the value is too low, if the stroke is the cause.
    pub if_low: Option<Effect>,
    /// How the stroke must change when the value is too high, if the stroke is the cause.
    pub if_high: Option<Effect>,
    /// What a joint shows whose value is too low.
    pub shows_low: Option<Seen>,
    /// What a joint shows whose value is too high.
    pub shows_high: Option<Seen>,
}

/// A fastener family sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct FastenerFamily {
    /// Id, unique among fasteners.
    pub id: String,
    /// Name.
    pub name: String,
    /// Kind.
    pub kind: FastenerKind,
    /// Whether the tail breaks.
    pub ending: Ending,
    /// Nominal diameter, mm.
    pub diameter_mm: f64,
    /// Material and coating, as the maker words it.
    pub material: String,
    /// Band that the stick-out must lie in with the right code, mm; `None` where stick-out says
    /// nothing (rivet nuts, blind rivets).
    pub stick_out_mm: Option<Limits>,
    /// Wanted stroke, mm, for fasteners that are set by stroke.
    pub stroke_mm: Option<Limits>,
    /// Pull grooves.
    pub groove: Groove,
    /// Length of the pull section, mm: the grooved tail, the mandrel that jaws can take, or the
    /// thread of a rivet nut.
    pub tail_mm: Option<f64>,
    /// Pull grooves on the tail, or turns of thread in a rivet nut.
    pub pull_grooves: Option<u32>,
    /// Fewest teeth that must hold, by the maker's document.
    pub grip_teeth: Option<u32>,
    /// Outside of the tail or mandrel, mm.
    pub tail_outside_mm: Option<f64>,
    /// Outside, before setting, of what the anvil or nosepiece meets, mm: collar, head or flange.
    pub collar_mm: Option<f64>,
    /// Most stroke that setting takes, mm.
    pub needs_stroke_mm: Option<f64>,
    /// Setting or break force, kN: least and most.
    pub force_kn: (f64, f64),
    /// Grip codes, thinnest first.
    pub codes: Vec<GripCode>,
    /// What a good joint measures.
    pub criteria: Vec<Criterion>,
}

impl FastenerFamily {
    /// The grip code written `code`.
    pub fn code(&self, code: &str) -> Option<&GripCode> {
        self.codes.iter().find(|c| c.code == code)
    }

    /// The criterion with this id.
    pub fn criterion(&self, id: &str) -> Option<&Criterion> {
        self.criteria.iter().find(|c| c.id == id)
    }
}
