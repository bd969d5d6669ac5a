//! `stack-thickness`

use calc::stack::{self, Choice, Grip, Known, Layer, METHOD, Outside, choose, thickness};
use calc::working::{Method, Working};

use crate::card::Contract;
use crate::shape::{NotNegative, Positive, Share, choices, contract};
use crate::{MethodError, Why};

choices! {
    /// What the stack says of the grips.
    enum VerdictOut of Verdict {
        "use" => Verdict::Use,
        "undecided" => Verdict::Undecided,
        "thinner" => Verdict::Outside(Outside::Thinner),
        "thicker" => Verdict::Outside(Outside::Thicker),
        "between" => Verdict::Outside(Outside::Between),
    }
}

/// A choice without its place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Verdict {
    /// One is sure enough.
    Use,
    /// None is sure.
    Undecided,
    /// None is made for it.
    Outside(Outside),
}

contract! {
    /// A layer: exactly one of `tolerance_mm` and `expanded_mm`.
    struct LayerIn {
        /// Its thickness.
        thickness_mm: Positive,
        /// Tolerance either side, where it is nominal.
        tolerance_mm: Option<NotNegative>,
        /// Expanded uncertainty (k = 2), where it was measured.
        expanded_mm: Option<NotNegative>,
    }
}

contract! {
    /// A stack and, to be chosen from, grips.
    struct Input {
        /// Its layers.
        layers: Vec<LayerIn>,
        /// Thinnest and thickest stack of each grip, mm, rising.
        grips_mm: Option<Vec<(f64, f64)>>,
        /// How sure a grip must be.
        sure: Share = Share(stack::SURE),
    }
}

contract! {
    /// The thickness and, where grips were given, which one suits.
    struct Output {
        /// Thickness.
        thickness_mm: f64,
        /// Standard uncertainty.
        standard_mm: f64,
        /// Expanded uncertainty, k = 2.
        expanded_mm: f64,
        /// Probability that the stack lies in each grip.
        inside: Option<Vec<f64>>,
        /// What follows.
        verdict: Option<VerdictOut>,
        /// Place of the grip, from 0: the one to use, the likeliest, or the nearest.
        grip: Option<u64>,
    }
}

/// The contract.
pub(crate) struct StackThickness;

impl Contract for StackThickness {
    const METHOD: Method = METHOD;
    const SUMMARY: &'static str = "method-stack-thickness";
    const FORMULA: &'static str =
        "t = Σ t_i; u_i = a_i / √3 or w_i / 2; u² = Σ u_i²; p = Φ((U − t) / u) − Φ((L − t) / u)";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("t_i", "layers"),
        ("a_i", "layers"),
        ("w_i", "layers"),
        ("t", "layers"),
        ("u", "layers"),
        ("L", "grips_mm"),
        ("U", "grips_mm"),
        ("grips", "grips_mm"),
        ("table", "grips_mm"),
        ("p", "sure"),
    ];
    type In = Input;
    type Out = Output;

    fn compute(input: &Input) -> Result<(Output, Option<Working>), MethodError> {
        let read = |(i, l)| layer(l).map_err(|e| e.item(i).under("layers"));
        let layers: Vec<Layer> = input
            .layers
            .iter()
            .enumerate()
            .map(read)
            .collect::<Result<_, _>>()?;
        let sum = thickness(&layers)?;
        let mut out = Output {
            thickness_mm: sum.value_mm,
            standard_mm: sum.standard_mm,
            expanded_mm: sum.expanded_mm(),
            inside: None,
            verdict: None,
            grip: None,
        };
        if let Some(grips) = &input.grips_mm {
            let found = choose(sum, &grips_of(grips), input.sure.0)?;
            let (verdict, place) = match found.choice {
                Choice::Use(i) => (Verdict::Use, i),
                Choice::Undecided(i, _) => (Verdict::Undecided, i),
                Choice::None { side, nearest } => (Verdict::Outside(side), nearest),
            };
            out.inside = Some(found.inside);
            out.verdict = Some(VerdictOut(verdict));
            out.grip = Some(place as u64);
        }
        Ok((out, Some(stack::working(&layers)?)))
    }
}

/// Grips from pairs.
pub(super) fn grips_of(pairs: &[(f64, f64)]) -> Vec<Grip> {
    let grip = |&(min_mm, max_mm): &(f64, f64)| Grip { min_mm, max_mm };
    pairs.iter().map(grip).collect()
}

fn layer(l: &LayerIn) -> Result<Layer, MethodError> {
    let known = match (l.tolerance_mm, l.expanded_mm) {
        (Some(a), None) => Known::Nominal(a.0),
        (None, Some(w)) => Known::Measured(w.0),
        _ => {
            let allowed = "tolerance_mm | expanded_mm".to_owned();
            return Err(MethodError::at("", "", Why::NotAllowed { allowed }));
        }
    };
    Ok(Layer {
        thickness_mm: l.thickness_mm.0,
        known,
    })
}
