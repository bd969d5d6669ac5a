//! `one-way-components`, `grubbs-outlier`, `normality-tests`

use calc::grubbs::{self, Tail};
use calc::normality;
use calc::one_way;
use calc::working::{Method, Working};

use crate::card::Contract;
use crate::shape::{Share, choices, contract};
use crate::{MethodError, Why};

contract! {
    /// Groups of readings, all in one unit.
    struct GroupsInput {
        /// Readings of each group.
        groups: Vec<Vec<f64>>,
    }
}

contract! {
    /// What lies between the groups and what within.
    struct GroupsOutput {
        /// Sum of squares between the groups.
        ss_between: f64,
        /// Sum of squares within them.
        ss_within: f64,
        /// Degrees of freedom between.
        dof_between: f64,
        /// Degrees of freedom within.
        dof_within: f64,
        /// Ratio of the mean squares; left out if nothing differs within the groups.
        f_statistic: Option<f64>,
        /// Probability of a ratio this large if the groups do not differ.
        p_value: Option<f64>,
        /// Standard deviation within a group.
        residual_sd: f64,
        /// Variance between the groups, 0 if it came out below.
        between_variance: f64,
    }
}

/// The contract.
pub(crate) struct OneWay;

impl Contract for OneWay {
    const METHOD: Method = one_way::METHOD;
    const SUMMARY: &'static str = "method-one-way-components";
    const FORMULA: &'static str = "F = (SS_b / (k − 1)) / (SS_w / (N − k)); s_b² = (MS_b − MS_w) / n₀; n₀ = (N − Σ n_i² / N) / (k − 1)";
    const NAMES: &'static [(&'static str, &'static str)] = &[("k", "groups"), ("x", "groups")];
    type In = GroupsInput;
    type Out = GroupsOutput;

    fn compute(input: &GroupsInput) -> Result<(GroupsOutput, Option<Working>), MethodError> {
        let found = one_way::components(&input.groups)?;
        let out = GroupsOutput {
            ss_between: found.ss_between,
            ss_within: found.ss_within,
            dof_between: found.dof_between,
            dof_within: found.dof_within,
            f_statistic: found.f_statistic.filter(|f| f.is_finite()),
            p_value: found.p_value,
            residual_sd: found.within_sd,
            between_variance: found.between_variance,
        };
        Ok((out, Some(one_way::working(&input.groups, &found))))
    }
}

/// Which side of the readings is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// The highest.
    Maximum,
    /// The lowest.
    Minimum,
    /// Whichever lies further off.
    Two,
    /// Either, known beforehand.
    One,
}

choices! {
    /// Which side.
    enum SideIn of Side {
        "maximum" => Side::Maximum,
        "minimum" => Side::Minimum,
        "two-sided" => Side::Two,
        "one-sided" => Side::One,
    }
}

contract! {
    /// Readings that are tested, or how many for the critical value alone.
    struct GrubbsInput {
        /// The readings; these or `count`.
        values: Option<Vec<f64>>,
        /// How many readings.
        count: Option<u64>,
        /// Significance, the probability of a false alarm.
        significance: Share,
        /// Side that is looked at. With readings it says which; `one-sided` is for `count` alone.
        tail: SideIn = SideIn(Side::Two),
    }
}

contract! {
    /// What the test says; without readings the critical value alone.
    struct GrubbsOutput {
        /// How many standard deviations the furthest reading lies off.
        statistic: Option<f64>,
        /// What that exceeds with the significance as its probability.
        critical: f64,
        /// The reading that lies furthest off.
        outlier: Option<f64>,
        /// Whether it is an outlier at this significance.
        is_outlier: Option<bool>,
    }
}

/// The contract.
pub(crate) struct GrubbsOutlier;

impl Contract for GrubbsOutlier {
    const METHOD: Method = grubbs::METHOD;
    const SUMMARY: &'static str = "method-grubbs-outlier";
    const FORMULA: &'static str = "G = |x − x̄| / s; G_c = (n − 1) / √n · √(t² / (n − 2 + t²)), t at α / n for one side, α / (2n) for two";
    const NAMES: &'static [(&'static str, &'static str)] =
        &[("x", "values"), ("n", "count"), ("α", "significance")];
    type In = GrubbsInput;
    type Out = GrubbsOutput;

    fn compute(input: &GrubbsInput) -> Result<(GrubbsOutput, Option<Working>), MethodError> {
        let alpha = input.significance.0;
        let tail = match input.tail.0 {
            Side::Maximum | Side::One => Tail::Maximum,
            Side::Minimum => Tail::Minimum,
            Side::Two => Tail::Both,
        };
        match (&input.values, input.count) {
            (Some(_), _) if input.tail.0 == Side::One => {
                let allowed = "maximum | minimum | two-sided".to_owned();
                Err(MethodError::at(
                    "tail",
                    "one-sided",
                    Why::NotAllowed { allowed },
                ))
            }
            (Some(values), None) => {
                let found = grubbs::test(values, alpha, tail)
                    .map_err(|e| MethodError::from(e).renamed(&[("n", "values")]))?;
                let out = GrubbsOutput {
                    statistic: Some(found.statistic),
                    critical: found.critical,
                    outlier: Some(found.furthest),
                    is_outlier: Some(found.is_outlier()),
                };
                Ok((out, Some(grubbs::working(&found))))
            }
            (None, Some(count)) => {
                let count = usize::try_from(count).unwrap_or(usize::MAX);
                let out = GrubbsOutput {
                    statistic: None,
                    critical: grubbs::critical(count, alpha, tail)?,
                    outlier: None,
                    is_outlier: None,
                };
                Ok((out, None))
            }
            (None, None) => Err(MethodError::at("values", "", Why::Missing)),
            (Some(_), Some(count)) => {
                let allowed = "values | count".to_owned();
                Err(MethodError::at("count", count, Why::NotAllowed { allowed }))
            }
        }
    }
}

contract! {
    /// Readings, all in one unit.
    struct NormalityInput {
        /// The readings.
        values: Vec<f64>,
    }
}

contract! {
    /// What two tests say.
    struct NormalityOutput {
        /// Shapiro–Wilk: 1 for a perfectly normal sample.
        shapiro_w: f64,
        /// Probability of a W this small from a normal distribution.
        shapiro_p: f64,
        /// Anderson–Darling: 0 for a perfectly normal sample.
        anderson_darling: f64,
        /// The same, adjusted for the size of the sample.
        anderson_darling_adjusted: f64,
        /// Probability of that from a normal distribution.
        anderson_darling_p: f64,
    }
}

/// The contract.
pub(crate) struct NormalityTests;

impl Contract for NormalityTests {
    const METHOD: Method = normality::METHOD;
    const SUMMARY: &'static str = "method-normality-tests";
    const FORMULA: &'static str = "W = (Σ a_i · x_(i))² / Σ (x_i − x̄)²; A² = −n − 1/n · Σ (2i − 1) · (ln Φ(y_(i)) + ln(1 − Φ(y_(n+1−i))))";
    const NAMES: &'static [(&'static str, &'static str)] = &[("x", "values"), ("n", "values")];
    type In = NormalityInput;
    type Out = NormalityOutput;

    fn compute(input: &NormalityInput) -> Result<(NormalityOutput, Option<Working>), MethodError> {
        let found = normality::test(&input.values)?;
        let out = NormalityOutput {
            shapiro_w: found.w,
            shapiro_p: found.w_p,
            anderson_darling: found.a2,
            anderson_darling_adjusted: found.a2_adjusted,
            anderson_darling_p: found.a2_p,
        };
        Ok((out, Some(normality::working(&found))))
    }
}
