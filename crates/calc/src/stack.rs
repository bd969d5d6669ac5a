//! Thickness of a clamped stack from its layers, and the grip that is made for it.
//!
//! # Formula
//! t = Σ t_i. A nominal layer t_i ± a_i lies anywhere inside alike: u_i = a_i/√3. A measured one has
//! u_i = w_i/2. u² = Σ u_i², w = 2u. The stack lies in a grip from L to U with the probability
//! Φ((U − t)/u) − Φ((L − t)/u).
//!
//! # Validity
//! Layers that vary independently of each other, clamped so that nothing stands between them. One
//! wide nominal layer alone is not normally distributed: the probability at the ends is then rough.
//!
//! # Source
//! JCGM 100:2008, 4.3.7 (rectangular), 5.1.2 (uncorrelated sum); JCGM 106:2012, 7.4 (probability).

use crate::Message;
use crate::conformity::chances;
use crate::decision::Limits;
use crate::error::{CalcError, within};
use crate::uncertainty_budget::Spread;
use crate::working::{Method, Working};

/// This method.
pub const METHOD: Method = Method {
    name: "stack-thickness",
    version: 1,
    source: "JCGM 100:2008, 4.3.7 and 5.1.2; JCGM 106:2012, 7.4",
};

/// How sure a grip must be before it is used: the usual 95 %.
pub const SURE: f64 = 0.95;

/// Layers that one stack may have.
const MOST_LAYERS: usize = 20;
/// No layer is thicker, mm.
const THICKEST_MM: f64 = 1000.0;

/// How well a layer is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Known {
    /// From a drawing: nominal, with a tolerance either side, mm.
    Nominal(f64),
    /// Measured, with an expanded uncertainty (k = 2), mm.
    Measured(f64),
}

/// A layer of the stack.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layer {
    /// Its thickness, mm.
    pub thickness_mm: f64,
    /// How well that is known.
    pub known: Known,
}

impl Layer {
    /// Its standard uncertainty, mm.
    fn standard_mm(&self) -> f64 {
        match self.known {
            Known::Nominal(tolerance) => Spread::Rectangular.standard(tolerance),
            Known::Measured(expanded) => expanded / 2.0,
        }
    }
}

/// A thickness and how well it is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thickness {
    /// Best value, mm.
    pub value_mm: f64,
    /// Standard uncertainty, mm.
    pub standard_mm: f64,
}

impl Thickness {
    /// Expanded uncertainty, k = 2, mm.
    pub fn expanded_mm(&self) -> f64 {
        2.0 * self.standard_mm
    }
}

/// The stacks that a pin length is made for, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grip {
    /// Thinnest.
    pub min_mm: f64,
    /// Thickest.
    pub max_mm: f64,
}

impl Grip {
    /// The middle, for which the pin's length is made.
    pub fn middle_mm(&self) -> f64 {
        f64::midpoint(self.min_mm, self.max_mm)
    }
}

/// Where a stack lies beside every grip.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outside {
    /// Thinner than the thinnest.
    Thinner,
    /// Thicker than the thickest.
    Thicker,
    /// Between two that leave a gap.
    Between,
}

/// The grip to use, by its place in the list.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Choice {
    /// This one, at least as sure as was asked for.
    Use(usize),
    /// The most likely one, and the next where there is one: neither is sure.
    Undecided(usize, Option<usize>),
    /// None is made for it; the nearest.
    None {
        /// On which side.
        side: Outside,
        /// The grip whose range lies nearest.
        nearest: usize,
    },
}

/// A stack held against every grip.
#[derive(Clone, Debug, PartialEq)]
pub struct Grips {
    /// Probability that the stack lies in each, in the order given. Ranges may overlap, so they may
    /// add up to more than 1.
    pub inside: Vec<f64>,
    /// Which one to use.
    pub choice: Choice,
}

/// The sum of `layers`.
///
/// # Errors
/// No layer or more than twenty, a thickness that is not above 0, an uncertainty that is negative or
/// larger than the layer.
pub fn thickness(layers: &[Layer]) -> Result<Thickness, CalcError> {
    if layers.is_empty() {
        return Err(CalcError::TooFew {
            input: "t_i",
            have: 0,
            need: 1,
        });
    }
    within("layers", layers.len() as f64, 1.0, MOST_LAYERS as f64)?;
    let (mut sum, mut squares) = (0.0, 0.0);
    for layer in layers {
        sum += within("t_i", layer.thickness_mm, f64::MIN_POSITIVE, THICKEST_MM)?;
        match layer.known {
            Known::Nominal(a) => within("a_i", a, 0.0, layer.thickness_mm)?,
            Known::Measured(w) => within("w_i", w, 0.0, layer.thickness_mm)?,
        };
        squares += layer.standard_mm().powi(2);
    }
    Ok(Thickness {
        value_mm: sum,
        standard_mm: squares.sqrt(),
    })
}

/// Holds `stack` against `grips`, which rise. A grip is used when the stack lies in it with at least
/// the probability `sure`; of several such, the one whose middle is nearest.
///
/// # Errors
/// No grip, limits that are reversed or do not rise, a thickness or uncertainty that is not finite,
/// a probability outside 0.5 to 1.
pub fn choose(stack: Thickness, grips: &[Grip], sure: f64) -> Result<Grips, CalcError> {
    let (Some(first), Some(last)) = (grips.first(), grips.last()) else {
        return Err(CalcError::TooFew {
            input: "grips",
            have: 0,
            need: 1,
        });
    };
    within("p", sure, 0.5, 1.0)?;
    if let Some(at) = grips
        .windows(2)
        .position(|g| g[1].min_mm <= g[0].min_mm || g[1].max_mm <= g[0].max_mm)
    {
        return Err(CalcError::NotIncreasing { row: at + 2 });
    }
    let inside: Vec<f64> = grips
        .iter()
        .map(|g| probability(stack, g.min_mm, g.max_mm))
        .collect::<Result<_, _>>()?;
    let off_middle = |i: &usize| (stack.value_mm - grips[*i].middle_mm()).abs();
    let sure_ones = (0..grips.len()).filter(|i| inside[*i] >= sure);
    if let Some(best) = sure_ones.min_by(|a, b| off_middle(a).total_cmp(&off_middle(b))) {
        return Ok(Grips {
            inside,
            choice: Choice::Use(best),
        });
    }
    let beyond = |g: &Grip| (g.min_mm - stack.value_mm).max(stack.value_mm - g.max_mm);
    let nearest = |a: &usize, b: &usize| beyond(&grips[*a]).total_cmp(&beyond(&grips[*b]));
    let none = |side| Choice::None {
        side,
        nearest: (0..grips.len()).min_by(nearest).unwrap_or(0),
    };
    let thinner = probability(stack, f64::NEG_INFINITY, first.min_mm)?;
    let thicker = probability(stack, last.max_mm, f64::INFINITY)?;
    let gaps = grips.windows(2).filter(|g| g[0].max_mm < g[1].min_mm);
    let gaps = gaps.map(|g| probability(stack, g[0].max_mm, g[1].min_mm));
    let between: f64 = gaps.sum::<Result<f64, _>>()?;
    let mut by_chance: Vec<usize> = (0..grips.len()).collect();
    by_chance.sort_by(|a, b| inside[*b].total_cmp(&inside[*a]));
    let choice = if thinner >= sure {
        none(Outside::Thinner)
    } else if thicker >= sure {
        none(Outside::Thicker)
    } else if between >= sure {
        none(Outside::Between)
    } else {
        // One in a thousand is not worth a word.
        let next = by_chance.get(1).copied().filter(|i| inside[*i] > 1e-3);
        Choice::Undecided(by_chance[0], next)
    };
    Ok(Grips { inside, choice })
}

/// Probability that the stack lies from `low` to `high`.
fn probability(stack: Thickness, low: f64, high: f64) -> Result<f64, CalcError> {
    within("t", stack.value_mm, f64::MIN, f64::MAX)?;
    within("u", stack.standard_mm, 0.0, f64::MAX)?;
    let side = |limit: f64| Some(limit).filter(|l| l.is_finite());
    let limits = Limits::new(side(low), side(high))?;
    if stack.standard_mm < f64::MIN_POSITIVE {
        let holds = (low..=high).contains(&stack.value_mm);
        return Ok(f64::from(u8::from(holds)));
    }
    Ok(chances(stack.value_mm, stack.standard_mm, limits)?.inside)
}

/// Names of layers in a working, in order.
const THICK: [&str; 8] = ["t₁", "t₂", "t₃", "t₄", "t₅", "t₆", "t₇", "t₈"];
const DOUBT: [&str; 8] = ["u₁", "u₂", "u₃", "u₄", "u₅", "u₆", "u₇", "u₈"];
const HALF: [&str; 8] = ["a₁", "a₂", "a₃", "a₄", "a₅", "a₆", "a₇", "a₈"];
const WIDE: [&str; 8] = ["w₁", "w₂", "w₃", "w₄", "w₅", "w₆", "w₇", "w₈"];
const RECTANGULAR: [&str; 8] = [
    "a₁ / √3",
    "a₂ / √3",
    "a₃ / √3",
    "a₄ / √3",
    "a₅ / √3",
    "a₆ / √3",
    "a₇ / √3",
    "a₈ / √3",
];
const CERTIFIED: [&str; 8] = [
    "w₁ / 2", "w₂ / 2", "w₃ / 2", "w₄ / 2", "w₅ / 2", "w₆ / 2", "w₇ / 2", "w₈ / 2",
];
const SUMS: [&str; 8] = [
    "t₁",
    "t₁ + t₂",
    "t₁ + t₂ + t₃",
    "t₁ + t₂ + t₃ + t₄",
    "t₁ + t₂ + t₃ + t₄ + t₅",
    "t₁ + t₂ + t₃ + t₄ + t₅ + t₆",
    "t₁ + t₂ + t₃ + t₄ + t₅ + t₆ + t₇",
    "t₁ + t₂ + t₃ + t₄ + t₅ + t₆ + t₇ + t₈",
];
const ROOTS: [&str; 8] = [
    "√(u₁²)",
    "√(u₁² + u₂²)",
    "√(u₁² + u₂² + u₃²)",
    "√(u₁² + u₂² + u₃² + u₄²)",
    "√(u₁² + u₂² + u₃² + u₄² + u₅²)",
    "√(u₁² + u₂² + u₃² + u₄² + u₅² + u₆²)",
    "√(u₁² + u₂² + u₃² + u₄² + u₅² + u₆² + u₇²)",
    "√(u₁² + u₂² + u₃² + u₄² + u₅² + u₆² + u₇² + u₈²)",
];

/// The working of [`thickness`]; more than eight layers are summed without being listed.
///
/// # Errors
/// As [`thickness`].
pub fn working(layers: &[Layer]) -> Result<Working, CalcError> {
    let sum = thickness(layers)?;
    let mut w = Working::new(METHOD);
    let listed = layers.len() <= THICK.len();
    if listed {
        for (i, layer) in layers.iter().enumerate() {
            let layer_is = Message::new("given-layer").with("n", i + 1);
            w = w.given(THICK[i], layer_is, layer.thickness_mm, 3, "mm");
            let (symbol, what, doubt) = match layer.known {
                Known::Nominal(a) => (HALF[i], "given-layer-tolerance", a),
                Known::Measured(x) => (WIDE[i], "given-layer-expanded", x),
            };
            w = w.given(symbol, Message::new(what).with("n", i + 1), doubt, 3, "mm");
        }
        for (i, layer) in layers.iter().enumerate() {
            let formula = match layer.known {
                Known::Nominal(_) => RECTANGULAR[i],
                Known::Measured(_) => CERTIFIED[i],
            };
            w = w.step(DOUBT[i], formula, layer.standard_mm(), 5, "mm");
        }
    }
    let n = layers.len();
    let (total, root) = if listed {
        (SUMS[n - 1], ROOTS[n - 1])
    } else {
        ("Σ t_i", "√(Σ u_i²)")
    };
    Ok(w.step("t", total, sum.value_mm, 3, "mm")
        .step("u", root, sum.standard_mm, 5, "mm")
        .step("w", "2 · u", sum.expanded_mm(), 4, "mm"))
}

/// The working of a probability of [`choose`], after that of the sum.
///
/// # Errors
/// As [`choose`].
pub fn working_of(layers: &[Layer], grip: Grip) -> Result<Working, CalcError> {
    let sum = thickness(layers)?;
    let p = probability(sum, grip.min_mm, grip.max_mm)?;
    let w = working(layers)?
        .given("L", Message::new("given-grip-min"), grip.min_mm, 2, "mm")
        .given("U", Message::new("given-grip-max"), grip.max_mm, 2, "mm");
    Ok(w.step("p", "Φ((U − t) / u) − Φ((L − t) / u)", p, 4, ""))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Sixteenths of an inch ± 0.8 mm, codes 4 to 8.
    fn sixteenths() -> Vec<Grip> {
        let code = |n: i32| Grip {
            min_mm: f64::from(n) * 1.5875 - 0.8,
            max_mm: f64::from(n) * 1.5875 + 0.8,
        };
        (4..=8).map(code).collect()
    }

    fn nominal(thickness_mm: f64, tolerance: f64) -> Layer {
        Layer {
            thickness_mm,
            known: Known::Nominal(tolerance),
        }
    }

    fn measured(thickness_mm: f64, expanded: f64) -> Layer {
        Layer {
            thickness_mm,
            known: Known::Measured(expanded),
        }
    }

    fn exactly(value_mm: f64) -> Thickness {
        Thickness {
            value_mm,
            standard_mm: 0.0,
        }
    }

    #[test]
    fn a_sum_by_hand() {
        // Arithmetic by JCGM 100, 4.3.7 and 5.1.2: 0.3/√3 = 0.173205, 0.04/2 = 0.02, and
        // √(0.173205² + 0.173205² + 0.02²) = √0.0604 = 0.245764.
        let t = thickness(&[nominal(4.0, 0.3), nominal(4.0, 0.3), measured(1.5, 0.04)]);
        let t = t.expect("good");
        assert!((t.value_mm - 9.5).abs() < 1e-12);
        assert!((t.standard_mm - 0.245_764).abs() < 5e-7, "{t:?}");
        assert!((t.expanded_mm() - 0.491_528).abs() < 1e-6, "{t:?}");
    }

    #[test]
    fn probabilities_from_the_normal_table() {
        // Standard normal table, Φ(1) = 0.8413, Φ(2) = 0.9772, Φ(3) = 0.9987: half a millimetre
        // either side of 9.5 with u = 0.25 is ±2u, 0.9545; one end at 1u, the other at 3u, 0.8400.
        let stack = |value_mm| Thickness {
            value_mm,
            standard_mm: 0.25,
        };
        let grip = [Grip {
            min_mm: 9.0,
            max_mm: 10.0,
        }];
        let p = |t| choose(stack(t), &grip, SURE).expect("good");
        assert!((p(9.5).inside[0] - 0.9545).abs() < 1e-4);
        assert_eq!(p(9.5).choice, Choice::Use(0));
        assert!((p(9.75).inside[0] - 0.8400).abs() < 1e-4);
        assert_eq!(p(9.75).choice, Choice::Undecided(0, None));
    }

    #[test]
    fn the_code_to_use_two_or_none() {
        let of = |t, u| {
            let stack = Thickness {
                value_mm: t,
                standard_mm: u,
            };
            choose(stack, &sixteenths(), SURE).expect("good").choice
        };
        assert_eq!(of(9.5, 0.1), Choice::Use(2));
        // 8.73 mm is where codes 05 and 06 meet.
        assert!(matches!(of(8.73, 0.2), Choice::Undecided(_, Some(_))));
        let thinner = Choice::None {
            side: Outside::Thinner,
            nearest: 0,
        };
        assert_eq!(of(3.0, 0.2), thinner);
        let thicker = Choice::None {
            side: Outside::Thicker,
            nearest: 4,
        };
        assert_eq!(of(15.0, 0.2), thicker);
        // So near the end of the last that it may be beyond.
        assert_eq!(of(13.5, 0.2), Choice::Undecided(4, None));
    }

    #[test]
    fn a_gap_between_two_grips_is_no_grip() {
        let gapped = [(1.6, 3.2), (4.8, 6.4)].map(|(min_mm, max_mm)| Grip { min_mm, max_mm });
        let got = choose(exactly(4.0), &gapped, SURE).expect("good");
        assert_eq!(got.inside, [0.0, 0.0]);
        let between = Choice::None {
            side: Outside::Between,
            nearest: 0,
        };
        assert_eq!(got.choice, between);
        let got = choose(exactly(4.1), &gapped, SURE).expect("good");
        assert!(matches!(got.choice, Choice::None { nearest: 1, .. }));
    }

    #[test]
    fn refusals() {
        assert!(thickness(&[]).is_err());
        assert!(thickness(&vec![nominal(1.0, 0.1); 21]).is_err());
        for bad in [
            nominal(0.0, 0.0),
            nominal(-1.0, 0.1),
            nominal(f64::NAN, 0.1),
            nominal(1.0, -0.1),
            nominal(1.0, 1.1),
            nominal(1.0, f64::NAN),
            measured(2.0, f64::INFINITY),
            measured(2000.0, 0.1),
        ] {
            assert!(thickness(&[bad]).is_err(), "{bad:?}");
            assert!(working(&[bad]).is_err(), "{bad:?}");
        }
        let grips = sixteenths();
        assert!(choose(exactly(9.5), &[], SURE).is_err());
        assert!(choose(exactly(f64::NAN), &grips, SURE).is_err());
        assert!(choose(exactly(9.5), &grips, 0.4).is_err());
        let reversed: Vec<Grip> = grips.iter().rev().copied().collect();
        assert!(choose(exactly(9.5), &reversed, SURE).is_err());
    }

    #[test]
    fn the_working_shows_each_layer() {
        let layers = [nominal(4.0, 0.3), measured(1.5, 0.04)];
        let w = working_of(&layers, sixteenths()[0]).expect("good");
        assert_eq!(w.steps[0].filled, "0.300 / √3");
        assert_eq!(w.steps[1].filled, "0.040 / 2");
        assert_eq!(w.steps[2].filled, "4.000 + 1.500");
        assert_eq!(w.steps.last().map(|s| s.symbol), Some("p"));
        assert!(working(&vec![nominal(1.0, 0.1); 9]).is_ok());
    }

    proptest! {
        #[test]
        fn a_layer_more_is_never_thinner_nor_surer(
            t in prop::collection::vec((0.5..20.0f64, 0.0..0.4f64), 1..8),
            more in 0.5..20.0f64, doubt in 0.0..0.4f64,
        ) {
            let mut layers: Vec<Layer> = t.iter().map(|(t, a)| nominal(*t, *a)).collect();
            let before = thickness(&layers).expect("good");
            layers.push(nominal(more, doubt));
            let after = thickness(&layers).expect("good");
            prop_assert!(after.value_mm > before.value_mm);
            prop_assert!(after.standard_mm >= before.standard_mm);
        }

        #[test]
        fn a_stack_in_the_middle_of_a_grip_takes_it(n in 0usize..5, u in 0.0..0.35f64) {
            let grips = sixteenths();
            let stack = Thickness { value_mm: grips[n].middle_mm(), standard_mm: u };
            prop_assert_eq!(choose(stack, &grips, SURE).expect("good").choice, Choice::Use(n));
        }
    }
}
