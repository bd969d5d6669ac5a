//! `stroke-from-stick-out`

use calc::screw_stop::{Effect, Hand, ScrewStop, View, Zero};
use calc::stroke_relation::{self, Length, METHOD, Relation, stroke, turns};
use calc::working::{Method, Working};

use crate::MethodError;
use crate::card::Contract;
use crate::shape::{NotNegative, Positive, choices, contract};

choices! {
    /// What turning away from zero does to the stroke.
    enum AwayIn of Effect {
        "shortens" => Effect::Shortens,
        "lengthens" => Effect::Lengthens,
    }
}

contract! {
    /// A stick-out, the lengths of the nose, the stop.
    struct Input {
        /// Stick-out (L).
        stick_out_mm: NotNegative,
        /// Expanded uncertainty of the stick-out.
        stick_out_expanded_mm: NotNegative = NotNegative(0.0),
        /// Depth from anvil face to pin stop at home (N).
        nose_depth_mm: NotNegative,
        /// Expanded uncertainty of the depth.
        nose_depth_expanded_mm: NotNegative = NotNegative(0.0),
        /// Height of the anvil face above the work when the swage is complete (A).
        anvil_height_mm: NotNegative,
        /// Expanded uncertainty of the height.
        anvil_height_expanded_mm: NotNegative = NotNegative(0.0),
        /// Gap still to close when the stick-out was read (g).
        gap_mm: NotNegative = NotNegative(0.0),
        /// Expanded uncertainty of the gap.
        gap_expanded_mm: NotNegative = NotNegative(0.0),
        /// Jaw bite and elastic stretch (e).
        stretch_mm: NotNegative,
        /// Expanded uncertainty of bite and stretch.
        stretch_expanded_mm: NotNegative = NotNegative(0.0),
        /// Full stroke of the tool.
        full_stroke_mm: Positive,
        /// Travel of the stop per turn.
        pitch_mm: Positive,
        /// What turning away from zero does.
        away_from_zero: AwayIn,
    }
}

contract! {
    /// The stroke and the turns that give it.
    struct Output {
        /// Stroke.
        stroke_mm: f64,
        /// Its expanded uncertainty.
        expanded_mm: f64,
        /// Turns from zero.
        turns: f64,
        /// Their expanded uncertainty.
        expanded_turns: f64,
    }
}

/// The contract.
pub(crate) struct StrokeFromStickOut;

impl Contract for StrokeFromStickOut {
    const METHOD: Method = METHOD;
    const SUMMARY: &'static str = "method-stroke-from-stick-out";
    const FORMULA: &'static str =
        "S = L − N − A + g + e; turns = (S₀ − S) / p, or S / p where turning away lengthens";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("L", "stick_out_mm"),
        ("N", "nose_depth_mm"),
        ("A", "anvil_height_mm"),
        ("g", "gap_mm"),
        ("e", "stretch_mm"),
        // Too short or too long a stroke follows from the stick-out.
        ("S", "stick_out_mm"),
        ("S₀", "full_stroke_mm"),
        ("p", "pitch_mm"),
        ("w", "stick_out_expanded_mm"),
    ];
    type In = Input;
    type Out = Output;

    fn compute(input: &Input) -> Result<(Output, Option<Working>), MethodError> {
        let length = |value: NotNegative, expanded: NotNegative| Length {
            value_mm: value.0,
            expanded_mm: expanded.0,
        };
        let relation = Relation {
            nose_depth: length(input.nose_depth_mm, input.nose_depth_expanded_mm),
            anvil_height: length(input.anvil_height_mm, input.anvil_height_expanded_mm),
            stretch: length(input.stretch_mm, input.stretch_expanded_mm),
        };
        let stick_out = length(input.stick_out_mm, input.stick_out_expanded_mm);
        let gap = length(input.gap_mm, input.gap_expanded_mm);
        // Only what turning away from zero does counts here; hand and view say which way that is.
        let stop = ScrewStop {
            pitch_mm: input.pitch_mm.0,
            hand: Hand::Right,
            screwing_in: input.away_from_zero.0,
            zero: Zero::Open,
            view: View::AdjusterEnd,
        };
        let full = input.full_stroke_mm.0;
        let s = stroke(&relation, stick_out, gap)?;
        let out = Output {
            stroke_mm: s.value_mm,
            expanded_mm: s.expanded_mm,
            turns: turns(&stop, full, s.value_mm)?,
            expanded_turns: s.expanded_mm / stop.pitch_mm,
        };
        let working = stroke_relation::working(&relation, stick_out, gap, &stop, full)?;
        Ok((out, Some(working)))
    }
}
