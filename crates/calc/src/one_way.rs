//! Groups of readings: what lies between them, and what within.
//!
//! # Formula
//! SS_b = Σ n_i · (x̄_i − x̄)²; SS_w = Σ Σ (x_ij − x̄_i)²; F = (SS_b / ν_b) / (SS_w / ν_w), ν_b = k − 1, ν_w = N − k.
//! s = √(SS_w / ν_w). Variance between: (MS_b − MS_w) / n₀, n₀ = (N − Σ n_i² / N) / (k − 1); below 0 it counts as 0.
//!
//! # Validity
//! Groups independent, readings normal with one variance within all groups.
//!
//! # Source
//! Analysis of variance with one factor: NIST/SEMATECH e-Handbook 7.4.3 (from memory). Check values: NIST StRD.

use crate::Message;
use crate::error::CalcError;
use crate::fisher;
use crate::moments::{Moments, moments};
use crate::working::{Method, Working, figures};

/// This method.
pub const METHOD: Method = Method {
    name: "one-way-components",
    version: 1,
    source: "analysis of variance, one factor: NIST/SEMATECH e-Handbook 7.4.3 (from memory)",
};

/// What the groups come to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Components {
    /// Sum of squares between the groups.
    pub ss_between: f64,
    /// Sum of squares within them.
    pub ss_within: f64,
    /// Groups less one.
    pub dof_between: f64,
    /// Readings less groups.
    pub dof_within: f64,
    /// Ratio of the mean squares; infinite if nothing differs within the groups, `None` if nothing differs at all.
    pub f_statistic: Option<f64>,
    /// Probability of a ratio this large if the groups do not differ.
    pub p_value: Option<f64>,
    /// Standard deviation within a group.
    pub within_sd: f64,
    /// Variance between the groups; 0 where it came out below.
    pub between_variance: f64,
    /// Whether it came out below 0.
    pub is_cut: bool,
}

/// Sums of squares of `groups`: at least two, at least one reading in each, and more readings than groups.
///
/// # Errors
/// Too few groups or readings, a reading that is not within ±10¹⁵.
pub fn components(groups: &[Vec<f64>]) -> Result<Components, CalcError> {
    let too_few = |input, have, need| Err(CalcError::TooFew { input, have, need });
    if groups.len() < 2 {
        return too_few("k", groups.len(), 2);
    }
    let of_groups = groups.iter().map(|g| moments("x", g));
    let of_groups: Vec<Moments> = of_groups.collect::<Result<_, _>>()?;
    let all: usize = of_groups.iter().map(|m| m.count).sum();
    if all <= groups.len() {
        return too_few("x", all, groups.len() + 1);
    }
    // The mean of each group from the first reading of all: groups that lie near each other far from
    // zero keep the digits in which they differ.
    let origin = groups[0][0];
    let offs: Vec<f64> = groups
        .iter()
        .map(|g| g.iter().map(|x| x - origin).sum::<f64>() / g.len() as f64)
        .collect();
    let n = all as f64;
    let weighted = offs.iter().zip(&of_groups).map(|(o, m)| o * m.count as f64);
    let middle = weighted.sum::<f64>() / n;
    let between = offs.iter().zip(&of_groups);
    let ss_between = between.map(|(o, m)| m.count as f64 * (o - middle).powi(2));
    let ss_between = ss_between.sum::<f64>();
    let ss_within = of_groups.iter().map(|m| m.squares).sum::<f64>();
    let (dof_between, dof_within) = ((groups.len() - 1) as f64, (all - groups.len()) as f64);
    let (ms_between, ms_within) = (ss_between / dof_between, ss_within / dof_within);
    let squares = of_groups.iter().map(|m| (m.count as f64).powi(2));
    let size = (n - squares.sum::<f64>() / n) / dof_between;
    let between_variance = (ms_between - ms_within) / size;
    let f_statistic = (ss_between > 0.0 || ss_within > 0.0).then(|| ms_between / ms_within);
    Ok(Components {
        ss_between,
        ss_within,
        dof_between,
        dof_within,
        f_statistic,
        p_value: f_statistic.map(|f| fisher::above(f, dof_between, dof_within)),
        within_sd: ms_within.sqrt(),
        between_variance: between_variance.max(0.0),
        is_cut: between_variance < 0.0,
    })
}

/// From the sums of squares to the components.
pub fn working(groups: &[Vec<f64>], found: &Components) -> Working {
    let few = |x: f64| figures(x, 6);
    let (a, b) = (found.ss_between, found.ss_within);
    let (ms_b, ms_w) = (a / found.dof_between, b / found.dof_within);
    let mut w = Working::new(METHOD)
        .given(
            "k",
            Message::new("given-groups"),
            groups.len() as f64,
            0,
            "",
        )
        .given("SS_b", Message::new("given-ss-between"), a, few(a), "")
        .given("SS_w", Message::new("given-ss-within"), b, few(b), "")
        .given(
            "ν_b",
            Message::new("given-dof-between"),
            found.dof_between,
            0,
            "",
        )
        .given(
            "ν_w",
            Message::new("given-dof-within"),
            found.dof_within,
            0,
            "",
        )
        .step("MS_b", "SS_b / ν_b", ms_b, few(ms_b), "")
        .step("MS_w", "SS_w / ν_w", ms_w, few(ms_w), "")
        .step("s", "√(MS_w)", found.within_sd, few(found.within_sd), "");
    if let Some(f) = found.f_statistic {
        w = w.step("F", "MS_b / MS_w", f, few(f), "");
    }
    if found.is_cut {
        w = w.note(Message::new("note-variance-below-zero"));
    }
    w
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The pattern of NIST's SmLs sets: nine groups about `base`, half of `pairs` readings each side.
    fn smls(base: f64, pairs: usize) -> Vec<Vec<f64>> {
        let middles = [0.4, 0.3, 0.5, 0.3, 0.5, 0.3, 0.5, 0.3, 0.5];
        let group = |middle: f64| {
            let turns = (0..2 * pairs).map(|i| if i % 2 == 0 { -0.1 } else { 0.1 });
            let around = turns.map(|t| base + ((middle + t) * 10.0_f64).round() / 10.0);
            std::iter::once(base + middle).chain(around).collect()
        };
        middles.iter().map(|m| group(*m)).collect()
    }

    #[test]
    fn stress_sets_of_nist() {
        // NIST StRD, analysis of variance: F of SmLs01–03 (base 1), 04–06 (10⁶), 07–09 (10¹²) is 21, 201,
        // 2001 for 21, 201, 2001 readings a group; SS_b 1.68, 16.08, 160.08; SS_w 1.8, 18, 180.
        for (base, least) in [(1.0, 13.0), (1e6, 8.0), (1e12, 4.0)] {
            for (pairs, certified) in [(10, 21.0), (100, 201.0), (1000, 2001.0)] {
                let found = components(&smls(base, pairs)).expect("nine groups");
                let f = found.f_statistic.expect("they differ");
                let digits = -((f - certified).abs().max(1e-16) / certified).log10();
                assert!(digits >= least, "{base} {pairs}: {f}, {digits} digits");
            }
        }
    }

    #[test]
    fn groups_of_different_size() {
        // scipy 1.17.1 stats.f_oneway([1, 2, 4], [3, 5], [6, 7, 8, 9]); n₀ = (9 − 29/9) / 2 = 26/9
        // by hand.
        let groups = vec![
            vec![1.0, 2.0, 4.0],
            vec![3.0, 5.0],
            vec![6.0, 7.0, 8.0, 9.0],
        ];
        let found = components(&groups).expect("three");
        assert!((found.f_statistic.expect("some") - 12.428_571_428_571_42).abs() < 1e-9);
        assert!((found.p_value.expect("some") - 0.007_351_680_384_087_802).abs() < 1e-9);
        let by_hand = (found.ss_between / 2.0 - found.ss_within / 6.0) / (26.0 / 9.0);
        assert!((found.between_variance - by_hand).abs() < 1e-12);
    }

    #[test]
    fn groups_that_agree_have_nothing_between() {
        // By hand: both means are 2, so SS_b = 0 and the variance between comes out below 0.
        let found = components(&[vec![1.0, 3.0], vec![2.0, 2.0]]).expect("two");
        assert_eq!((found.between_variance, found.is_cut), (0.0, true));
        assert_eq!(found.p_value, Some(1.0));
        let equal = components(&[vec![5.0, 5.0], vec![5.0]]).expect("two");
        assert_eq!(equal.f_statistic, None);
    }

    #[test]
    fn refusals() {
        for groups in [
            vec![],
            vec![vec![1.0, 2.0]],
            vec![vec![1.0], vec![]],
            vec![vec![1.0], vec![2.0]],
            vec![vec![1.0, f64::NAN], vec![2.0]],
        ] {
            assert!(components(&groups).is_err(), "{groups:?}");
        }
    }

    proptest! {
        #[test]
        fn the_parts_are_the_whole(a in prop::collection::vec(-9.0..9.0f64, 2..9), b in prop::collection::vec(-9.0..9.0f64, 1..9)) {
            let whole = moments("x", &[a.clone(), b.clone()].concat()).expect("good").squares;
            let found = components(&[a, b]).expect("good");
            prop_assert!((found.ss_between + found.ss_within - whole).abs() < 1e-9);
        }
    }
}
