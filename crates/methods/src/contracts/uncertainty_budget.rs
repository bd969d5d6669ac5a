//! `uncertainty-budget`

use calc::uncertainty_budget::{Component, Coverage, METHOD, Spread, combine, working};
use calc::working::{Method, Working};

use crate::card::Contract;
use crate::shape::{Extended, NotNegative, Positive, Share, choices, contract};
use crate::{MethodError, Why};

choices! {
    /// How a value is spread over its half width.
    enum Distribution of Spread {
        "rectangular" => Spread::Rectangular,
        "triangular" => Spread::Triangular,
        "arcsine" => Spread::Arcsine,
    }
}

choices! {
    /// What becomes of the effective degrees of freedom.
    enum Dof of bool { "truncate" => true, "as-is" => false, }
}

contract! {
    /// One component: exactly one of `standard`, `expanded`, `half_width`, `readings`,
    /// `standard_deviation`.
    struct ComponentIn {
        /// What it is.
        name: Option<String>,
        /// Standard uncertainty.
        standard: Option<NotNegative>,
        /// Expanded uncertainty, as on a certificate.
        expanded: Option<NotNegative>,
        /// Coverage factor of `expanded`.
        factor: Positive = Positive(2.0),
        /// Half of the width in which it lies.
        half_width: Option<NotNegative>,
        /// How it is spread over `half_width`.
        distribution: Distribution = Distribution(Spread::Rectangular),
        /// Repeated readings: their mean is used.
        readings: Option<Vec<f64>>,
        /// Standard deviation of readings made before.
        standard_deviation: Option<NotNegative>,
        /// How many readings the mean is made of, with `standard_deviation`.
        count: u64 = 1,
        /// How much the result moves for one unit of it.
        sensitivity: f64 = 1.0,
        /// Degrees of freedom; by default those of `readings` or of `count`, and else inf.
        dof: Option<Extended>,
    }
}

contract! {
    /// A budget; all components in units that the sensitivities bring to the result's.
    struct Input {
        /// The components.
        components: Vec<ComponentIn>,
        /// Coverage probability.
        level: Share = Share(0.95),
        /// A coverage factor that was chosen instead of `level`.
        coverage_factor: Option<Positive>,
        /// Whether the effective degrees of freedom are truncated to a whole number.
        dof_rule: Dof = Dof(true),
    }
}

contract! {
    /// What it comes to.
    struct Output {
        /// |sensitivity · standard uncertainty| of each component.
        contributions: Vec<f64>,
        /// Combined standard uncertainty.
        standard: f64,
        /// Effective degrees of freedom (Welch–Satterthwaite), not truncated.
        dof_effective: Extended,
        /// Coverage factor.
        coverage_factor: f64,
        /// Expanded uncertainty.
        expanded: f64,
    }
}

/// The contract.
pub(crate) struct UncertaintyBudget;

impl Contract for UncertaintyBudget {
    const METHOD: Method = METHOD;
    const SUMMARY: &'static str = "method-uncertainty-budget";
    const FORMULA: &'static str =
        "u_c² = Σ (c_i · u_i)²; ν_eff = u_c⁴ / Σ ((c_i · u_i)⁴ / ν_i); U = k · u_c";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("p", "level"),
        ("k", "coverage_factor"),
        // Effective degrees of freedom follow from those of the components.
        ("ν", "components"),
        ("u", "components"),
    ];
    type In = Input;
    type Out = Output;

    fn compute(input: &Input) -> Result<(Output, Option<Working>), MethodError> {
        let read = |(i, c)| component(c).map_err(|e| e.item(i).under("components"));
        let components: Vec<Component> = input
            .components
            .iter()
            .enumerate()
            .map(read)
            .collect::<Result<_, _>>()?;
        let coverage = match (input.coverage_factor, input.dof_rule.0) {
            (Some(k), _) => Coverage::Factor(k.0),
            (None, true) => Coverage::Truncated(input.level.0),
            (None, false) => Coverage::AsIs(input.level.0),
        };
        let combined = combine(&components, coverage)?;
        let working = working(&combined, 4, "");
        let out = Output {
            standard: combined.standard,
            dof_effective: Extended(combined.dof),
            coverage_factor: combined.factor,
            expanded: combined.expanded,
            contributions: combined.contributions,
        };
        Ok((out, Some(working)))
    }
}

fn component(c: &ComponentIn) -> Result<Component, MethodError> {
    let ways = [
        c.standard.map(|u| (u.0, f64::INFINITY)),
        c.expanded.map(|u| (u.0 / c.factor.0, f64::INFINITY)),
        c.half_width
            .map(|a| (c.distribution.0.standard(a.0), f64::INFINITY)),
        c.readings.as_deref().map(of_mean).transpose()?,
        c.standard_deviation
            .map(|s| of_earlier(s.0, c.count))
            .transpose()?,
    ];
    let mut ways = ways.into_iter().flatten();
    let (Some((standard, dof)), None) = (ways.next(), ways.next()) else {
        let allowed = "standard | expanded | half_width | readings | standard_deviation";
        let allowed = allowed.to_owned();
        return Err(MethodError::at("", "", Why::NotAllowed { allowed }));
    };
    Ok(Component {
        standard,
        sensitivity: c.sensitivity,
        dof: c.dof.map_or(dof, |d| d.0),
    })
}

/// Standard uncertainty of the mean of these readings, and its degrees of freedom.
fn of_mean(readings: &[f64]) -> Result<(f64, f64), MethodError> {
    let n = readings.len();
    if n < 2 {
        return Err(MethodError::at(
            "readings",
            "",
            Why::Count { have: n, need: 2 },
        ));
    }
    let no_gauge = calc::repeated::GaugeDoubt {
        expanded: 0.0,
        resolution: 0.0,
    };
    let mean = calc::repeated::mean(readings, no_gauge)?;
    Ok((mean.standard, (n - 1) as f64))
}

fn of_earlier(spread: f64, count: u64) -> Result<(f64, f64), MethodError> {
    if count == 0 {
        let allowed = "≥ 1".to_owned();
        return Err(MethodError::at("count", count, Why::NotAllowed { allowed }));
    }
    // The earlier readings' number is not known here, so `dof` says it where it matters.
    Ok((spread / (count as f64).sqrt(), f64::INFINITY))
}
