//! An uncertainty budget: independent components to one combined and expanded uncertainty.
//!
//! # Formula
//! u_c² = Σ (c_i · u_i)². Effective degrees of freedom (Welch–Satterthwaite):
//! ν_eff = u_c⁴ / Σ ((c_i · u_i)⁴ / ν_i). Expanded: U = t(p, ν) · u_c, with ν = ν_eff truncated to a
//! whole number (the usual, safe side) or as it is.
//! A half width a gives u = a/√3 (rectangular), a/√6 (triangular), a/√2 (arcsine).
//!
//! # Validity
//! Components independent of each other; a model that is nearly linear over them. Where one
//! rectangular component rules, the factor from t is too large: give a factor instead.
//!
//! # Source
//! JCGM 100:2008, 4.3, 5.1.2, G.4.1.

use crate::Message;
use crate::error::{CalcError, within};
use crate::student::coverage_factor;
use crate::working::{Method, Working};

/// This method.
pub const METHOD: Method = Method {
    name: "uncertainty-budget",
    version: 1,
    source: "JCGM 100:2008, 4.3, 5.1.2 and G.4.1",
};

/// How a value is spread over its half width.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spread {
    /// Anywhere alike.
    Rectangular,
    /// More likely in the middle.
    Triangular,
    /// More likely at the ends, as a swing.
    Arcsine,
}

impl Spread {
    /// The standard uncertainty of a half width.
    pub fn standard(self, half_width: f64) -> f64 {
        let divisor: f64 = match self {
            Self::Rectangular => 3.0,
            Self::Triangular => 6.0,
            Self::Arcsine => 2.0,
        };
        half_width / divisor.sqrt()
    }
}

/// One component.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Component {
    /// Standard uncertainty.
    pub standard: f64,
    /// How much the result moves for one unit of it.
    pub sensitivity: f64,
    /// Degrees of freedom; infinite where it is known for sure.
    pub dof: f64,
}

/// A component by its name.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// The message that names it.
    pub name: &'static str,
    /// Symbol of the unit of its standard uncertainty; empty for a share.
    pub unit: &'static str,
    /// It.
    pub component: Component,
}

/// A budget as it is shown: what it is made of and what that comes to. One form for whatever has an uncertainty.
#[derive(Clone, Debug, PartialEq)]
pub struct Budget {
    /// Symbol of the result's unit.
    pub unit: &'static str,
    /// The components.
    pub parts: Vec<Part>,
    /// What they come to; contributions in the order of the parts.
    pub combined: Combined,
    /// Where its factor comes from.
    pub coverage: Coverage,
}

impl Budget {
    /// Of `parts`.
    ///
    /// # Errors
    /// As [`combine`].
    pub fn of(unit: &'static str, parts: Vec<Part>, coverage: Coverage) -> Result<Self, CalcError> {
        let components: Vec<Component> = parts.iter().map(|part| part.component).collect();
        Ok(Self {
            unit,
            combined: combine(&components, coverage)?,
            parts,
            coverage,
        })
    }

    /// The factor that `level` takes with its degrees of freedom, where another one was chosen.
    pub fn factor_at(&self, level: f64) -> Option<f64> {
        match self.coverage {
            Coverage::Factor(_) => coverage_factor(level, self.combined.dof).ok(),
            Coverage::AsIs(_) | Coverage::Truncated(_) => None,
        }
    }
}

/// Where the coverage factor comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Coverage {
    /// From t at this coverage probability, ν_eff truncated to a whole number.
    Truncated(f64),
    /// From t at this coverage probability, ν_eff as it is.
    AsIs(f64),
    /// A factor that was chosen.
    Factor(f64),
}

/// What a budget comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Combined {
    /// |c_i · u_i|, in the order given.
    pub contributions: Vec<f64>,
    /// u_c.
    pub standard: f64,
    /// ν_eff, not truncated; infinite if no component has a finite number.
    pub dof: f64,
    /// k.
    pub factor: f64,
    /// U.
    pub expanded: f64,
}

/// Combines `components`.
///
/// # Errors
/// No component, a negative or infinite uncertainty, degrees of freedom below 1 (also effective
/// ones), a coverage probability outside 0 to 1, a factor that is not above 0.
pub fn combine(components: &[Component], coverage: Coverage) -> Result<Combined, CalcError> {
    if components.is_empty() {
        return Err(CalcError::TooFew {
            input: "components",
            have: 0,
            need: 1,
        });
    }
    let mut contributions = Vec::with_capacity(components.len());
    for c in components {
        let u = within("u", c.standard, 0.0, f64::MAX)?;
        let sensitivity = within("c", c.sensitivity, f64::MIN, f64::MAX)?;
        if c.dof != f64::INFINITY {
            within("ν", c.dof, 1.0, f64::MAX)?;
        }
        contributions.push(within("u", (sensitivity * u).abs(), 0.0, f64::MAX)?);
    }
    // The largest comes out of the root, so that no square overflows or vanishes.
    let largest = contributions.iter().copied().fold(0.0, f64::max);
    let (mut squares, mut fourths) = (0.0, 0.0);
    for (c, contribution) in components.iter().zip(&contributions) {
        let share = if largest > 0.0 {
            contribution / largest
        } else {
            0.0
        };
        squares += share.powi(2);
        fourths += share.powi(4) / c.dof;
    }
    let standard = largest * squares.sqrt();
    let dof = if fourths > 0.0 {
        squares.powi(2) / fourths
    } else {
        f64::INFINITY
    };
    let factor = match coverage {
        Coverage::Truncated(level) => coverage_factor(level, (dof + 1e-9).floor())?,
        Coverage::AsIs(level) => coverage_factor(level, dof)?,
        Coverage::Factor(k) => within("k", k, f64::MIN_POSITIVE, f64::MAX)?,
    };
    Ok(Combined {
        contributions,
        standard,
        dof,
        factor,
        expanded: factor * standard,
    })
}

/// The working of a budget, its results with `decimals` decimals. The components stand in the
/// budget itself; here is what they come to.
pub fn working(combined: &Combined, decimals: usize, unit: &'static str) -> Working {
    let n = combined.contributions.len() as f64;
    let u_c = combined.standard;
    let mut w = Working::new(METHOD)
        .given("n", Message::new("given-components"), n, 0, "")
        .step("u_c", "√(Σ (c_i · u_i)²)", u_c, decimals, unit);
    if combined.dof.is_finite() {
        let formula = "u_c⁴ / Σ((c_i · u_i)⁴ / ν_i)";
        w = w.step("ν_eff", formula, combined.dof, 1, "");
    }
    w.given("k", Message::new("given-factor"), combined.factor, 3, "")
        .step("U", "k · u_c", combined.expanded, decimals, unit)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn of(standard: f64, dof: f64) -> Component {
        Component {
            standard,
            sensitivity: 1.0,
            dof,
        }
    }

    #[test]
    fn end_gauge_of_the_gum() {
        // JCGM 100:2008 H.1, Table H.1: u_c = 32 nm, ν_eff = 16, t99 = 2.92, U99 = 93 nm.
        let parts = [
            of(25.0, 18.0),
            of(5.8, 24.0),
            of(3.9, 5.0),
            of(6.7, 8.0),
            of(2.9, 50.0),
            of(16.6, 2.0),
        ];
        let b = combine(&parts, Coverage::Truncated(0.99)).expect("good");
        assert!((b.standard - 32.0).abs() <= 0.5, "{b:?}");
        assert_eq!(b.dof.floor(), 16.0);
        assert!((b.factor - 2.92).abs() <= 0.005, "{b:?}");
        assert!((b.expanded - 93.0).abs() <= 0.6, "{b:?}");
    }

    #[test]
    fn a_chosen_factor_is_held_against_that_of_its_degrees_of_freedom() {
        // JCGM 100:2008, Table G.2: t(95.45 %) is 2.28 for 10 degrees of freedom.
        let part = Part {
            name: "given-doubt-readings",
            unit: "kN",
            component: of(0.5, 10.0),
        };
        let chosen = Budget::of("kN", vec![part], Coverage::Factor(2.0)).expect("good");
        assert_eq!((chosen.combined.expanded, chosen.combined.dof), (1.0, 10.0));
        let factor = chosen.factor_at(0.9545).expect("another");
        assert!((factor - 2.28).abs() <= 0.005, "{factor}");
        let by_t = Budget::of("kN", vec![part], Coverage::AsIs(0.9545)).expect("good");
        assert_eq!(by_t.factor_at(0.9545), None);
        assert!(Budget::of("kN", Vec::new(), Coverage::Factor(2.0)).is_err());
    }

    #[test]
    fn half_widths() {
        // JCGM 100:2008 4.3.7 and 4.3.9: a/√3, a/√6.
        assert!((Spread::Rectangular.standard(1.0) - 0.577_350_269).abs() < 1e-9);
        assert!((Spread::Triangular.standard(1.0) - 0.408_248_29).abs() < 1e-9);
        assert!((Spread::Arcsine.standard(2.0) - 2.0_f64.sqrt()).abs() < 1e-12);
    }

    #[test]
    fn all_known_for_sure_gives_the_normal_factor() {
        let b = combine(
            &[of(3.0, f64::INFINITY), of(4.0, f64::INFINITY)],
            Coverage::AsIs(0.95),
        );
        let b = b.expect("good");
        assert_eq!(b.standard, 5.0);
        assert!((b.factor - 1.959_964).abs() < 1e-5);
        let none = combine(&[of(0.0, f64::INFINITY)], Coverage::Factor(2.0)).expect("good");
        assert_eq!(none.expanded, 0.0);
    }

    #[test]
    fn refusals() {
        let good = of(1.0, 5.0);
        assert!(combine(&[], Coverage::Factor(2.0)).is_err());
        for bad in [
            of(-1.0, 5.0),
            of(f64::NAN, 5.0),
            of(1.0, 0.5),
            of(1.0, f64::NAN),
            Component {
                sensitivity: f64::INFINITY,
                ..good
            },
        ] {
            assert!(combine(&[bad], Coverage::Factor(2.0)).is_err(), "{bad:?}");
        }
        for coverage in [
            Coverage::Factor(0.0),
            Coverage::Truncated(1.0),
            Coverage::AsIs(f64::NAN),
        ] {
            assert!(combine(&[good], coverage).is_err(), "{coverage:?}");
        }
    }

    proptest! {
        #[test]
        fn between_the_largest_part_and_the_plain_sum(us in prop::collection::vec(0.001..10.0f64, 1..8)) {
            let parts: Vec<_> = us.iter().map(|u| of(*u, 9.0)).collect();
            let b = combine(&parts, Coverage::Truncated(0.95)).expect("good");
            prop_assert!(b.standard <= us.iter().sum::<f64>() + 1e-9);
            prop_assert!(us.iter().all(|u| *u <= b.standard + 1e-12));
            prop_assert!(b.dof >= 9.0 - 1e-9 && b.dof <= 9.0 * us.len() as f64 + 1e-6);
        }
    }
}
