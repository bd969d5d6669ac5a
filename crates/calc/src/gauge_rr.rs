//! Gauge repeatability and reproducibility by analysis of variance: people × parts × trials.
//!
//! # Formula
//! Two crossed random factors. SS of parts, people, interaction and what is left, each over its degrees of freedom.
//! With p parts, o people, r trials: σ²_E = MS_E; σ²_PO = (MS_PO − MS_E) / r; σ²_O = (MS_O − MS_PO) / (p · r);
//! σ²_P = (MS_P − MS_PO) / (o · r). Without the interaction MS_E = (SS_PO + SS_E) / (ν_PO + ν_E) takes the place of MS_PO.
//! A component below 0 counts as 0. Reproducibility is people and interaction, gauge R&R that and repeatability.
//! Categories: ⌊1.41 · σ_P / σ_GRR⌋.
//!
//! # Validity
//! Every person reads every part equally often, blind and in random order; parts span what the gauge is used for.
//!
//! # Source
//! AIAG, Measurement Systems Analysis, 4th edition (2010), ANOVA method (from memory; its data are public). Check
//! values: statsmodels 0.15.0. That an interaction with p of 0.25 or more is pooled is common practice.

use crate::Message;
use crate::error::{CalcError, within};
use crate::fisher;
use crate::working::{Method, Working, figures};

/// This method.
pub const METHOD: Method = Method {
    name: "gauge-rr-anova",
    version: 1,
    source: "AIAG, Measurement Systems Analysis, 4th edition (2010), ANOVA method (from memory)",
};

/// An interaction with this probability or more is pooled where it is tested.
pub const POOLED_FROM: f64 = 0.25;

/// What becomes of the interaction of people and parts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Interaction {
    /// It stays a component of its own.
    Kept,
    /// It is taken into the repeatability.
    Pooled,
    /// Pooled if its probability is [`POOLED_FROM`] or more, else kept.
    Tested,
}

/// A sum of squares and its degrees of freedom.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Squares {
    /// Sum of squares.
    pub ss: f64,
    /// Degrees of freedom.
    pub dof: f64,
}

impl Squares {
    /// Mean square.
    pub fn mean(&self) -> f64 {
        self.ss / self.dof
    }
}

/// What a study comes to. Variances, in the square of the readings' unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Study {
    /// Between the parts.
    pub part: Squares,
    /// Between the people.
    pub operator: Squares,
    /// Interaction of the two.
    pub interaction: Squares,
    /// Between the trials.
    pub repeat: Squares,
    /// All readings about their mean.
    pub ss_total: f64,
    /// Ratio of the mean squares of interaction and repeatability; `None` without any repeatability.
    pub interaction_f: Option<f64>,
    /// Probability of a ratio this large without an interaction.
    pub interaction_p: Option<f64>,
    /// Whether the interaction was taken into the repeatability.
    pub is_pooled: bool,
    /// Variance of the repeatability.
    pub repeatability: f64,
    /// Variance of the interaction.
    pub interaction_variance: f64,
    /// Variance between the people.
    pub operator_variance: f64,
    /// Variance between the parts.
    pub part_variance: f64,
}

impl Study {
    /// Variance of the reproducibility: people and interaction.
    pub fn reproducibility(&self) -> f64 {
        self.operator_variance + self.interaction_variance
    }

    /// Variance of the gauge: repeatability and reproducibility.
    pub fn gauge(&self) -> f64 {
        self.repeatability + self.reproducibility()
    }

    /// Variance of all.
    pub fn total(&self) -> f64 {
        self.gauge() + self.part_variance
    }

    /// How many kinds of part the gauge tells apart, not rounded; `None` for a gauge without any spread.
    pub fn categories(&self) -> Option<f64> {
        categories(self.part_variance.sqrt(), self.gauge().sqrt())
    }
}

/// 1.41 · σ_P / σ_GRR; `None` without a spread of the gauge.
pub(crate) fn categories(part: f64, gauge: f64) -> Option<f64> {
    (gauge > 0.0).then(|| 1.41 * part / gauge)
}

/// How many people, trials and parts `readings` has, by person, trial, part: at least two of each.
///
/// # Errors
/// Fewer than two of one, or lists of different length.
pub fn shape(readings: &[Vec<Vec<f64>>]) -> Result<(usize, usize, usize), CalcError> {
    let people = readings.len();
    let trials = readings.first().map_or(0, Vec::len);
    let parts = readings.first().and_then(|p| p.first()).map_or(0, Vec::len);
    for (input, have) in [("o", people), ("r", trials), ("p", parts)] {
        if have < 2 {
            return Err(CalcError::TooFew {
                input,
                have,
                need: 2,
            });
        }
    }
    let uneven = |input, have, need| Err(CalcError::Uneven { input, have, need });
    for person in readings {
        if person.len() != trials {
            return uneven("r", person.len(), trials);
        }
        if let Some(trial) = person.iter().find(|t| t.len() != parts) {
            return uneven("p", trial.len(), parts);
        }
    }
    Ok((people, trials, parts))
}

/// The study of `readings` by person, trial, part.
///
/// # Errors
/// As [`shape`]; a reading that is not within ±10¹²; readings that are all the same.
pub fn study(readings: &[Vec<Vec<f64>>], interaction: Interaction) -> Result<Study, CalcError> {
    let (people, trials, parts) = shape(readings)?;
    for reading in readings.iter().flatten().flatten() {
        within("x", *reading, -1e12, 1e12)?;
    }
    let first = readings[0][0][0];
    let at = |o: usize, r: usize, p: usize| readings[o][r][p] - first;
    let (o_n, r_n, p_n) = (people as f64, trials as f64, parts as f64);
    let cell = |o: usize, p: usize| (0..trials).map(|r| at(o, r, p)).sum::<f64>() / r_n;
    let cells: Vec<Vec<f64>> = (0..people)
        .map(|o| (0..parts).map(|p| cell(o, p)).collect())
        .collect();
    let of_person: Vec<f64> = cells.iter().map(|c| c.iter().sum::<f64>() / p_n).collect();
    let of_part = |p: usize| cells.iter().map(|c| c[p]).sum::<f64>() / o_n;
    let of_part: Vec<f64> = (0..parts).map(of_part).collect();
    let all = of_person.iter().sum::<f64>() / o_n;
    let squares = |means: &[f64]| means.iter().map(|m| (m - all).powi(2)).sum::<f64>();
    let (mut ss_cells, mut ss_repeat, mut ss_total) = (0.0, 0.0, 0.0);
    for o in 0..people {
        for p in 0..parts {
            ss_cells += (cells[o][p] - of_person[o] - of_part[p] + all).powi(2);
            for r in 0..trials {
                ss_repeat += (at(o, r, p) - cells[o][p]).powi(2);
                ss_total += (at(o, r, p) - all).powi(2);
            }
        }
    }
    if ss_total <= 0.0 {
        return Err(CalcError::Alike { input: "x" });
    }
    let part = Squares {
        ss: o_n * r_n * squares(&of_part),
        dof: p_n - 1.0,
    };
    let operator = Squares {
        ss: p_n * r_n * squares(&of_person),
        dof: o_n - 1.0,
    };
    let crossed = Squares {
        ss: r_n * ss_cells,
        dof: (p_n - 1.0) * (o_n - 1.0),
    };
    let repeat = Squares {
        ss: ss_repeat,
        dof: p_n * o_n * (r_n - 1.0),
    };
    let interaction_f = (repeat.ss > 0.0).then(|| crossed.mean() / repeat.mean());
    let interaction_p = interaction_f.map(|f| fisher::above(f, crossed.dof, repeat.dof));
    let is_pooled = match interaction {
        Interaction::Kept => false,
        Interaction::Pooled => true,
        Interaction::Tested => interaction_p.is_some_and(|p| p >= POOLED_FROM),
    };
    // The mean square that people and parts are held against, and the repeatability.
    let (beside, repeatability) = if is_pooled {
        let pooled = Squares {
            ss: crossed.ss + repeat.ss,
            dof: crossed.dof + repeat.dof,
        };
        (pooled.mean(), pooled.mean())
    } else {
        (crossed.mean(), repeat.mean())
    };
    let of_interaction = (crossed.mean() - repeat.mean()) / r_n;
    Ok(Study {
        part,
        operator,
        interaction: crossed,
        repeat,
        ss_total,
        interaction_f,
        interaction_p,
        is_pooled,
        repeatability,
        interaction_variance: if is_pooled {
            0.0
        } else {
            of_interaction.max(0.0)
        },
        operator_variance: ((operator.mean() - beside) / (p_n * r_n)).max(0.0),
        part_variance: ((part.mean() - beside) / (o_n * r_n)).max(0.0),
    })
}

/// From the components to the share of the gauge.
pub fn working(found: &Study) -> Working {
    let few = |x: f64| figures(x, 5);
    let (repeatability, operators) = (found.repeatability, found.operator_variance);
    let (crossed, part) = (found.interaction_variance, found.part_variance);
    let (gauge, total) = (found.gauge(), found.total());
    let mut w = Working::new(METHOD)
        .given(
            "s_E²",
            Message::new("given-repeatability-variance"),
            repeatability,
            few(repeatability),
            "",
        )
        .given(
            "s_O²",
            Message::new("given-operator-variance"),
            operators,
            few(operators),
            "",
        )
        .given(
            "s_PO²",
            Message::new("given-interaction-variance"),
            crossed,
            few(crossed),
            "",
        )
        .given(
            "s_P²",
            Message::new("given-part-variance"),
            part,
            few(part),
            "",
        )
        .step("s_GRR²", "s_E² + s_O² + s_PO²", gauge, few(gauge), "")
        .step("s_T²", "s_GRR² + s_P²", total, few(total), "")
        .step(
            "q",
            "100 · √(s_GRR² / s_T²)",
            100.0 * (gauge / total).sqrt(),
            2,
            "%",
        );
    if let Some(categories) = found.categories() {
        w = w.step("c", "1.41 · √(s_P² / s_GRR²)", categories, 2, "");
    }
    w = w.note(Message::new(if found.is_pooled {
        "note-interaction-pooled"
    } else {
        "note-interaction-kept"
    }));
    w.note(Message::new("note-gauge-study-bounds"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn two_by_two_by_two_by_hand() {
        // Person 1: parts 1, 5 and 3, 5; person 2: 2, 8 and 4, 8. Cell means 2, 5, 3, 8; people 3.5, 5.5;
        // parts 2.5, 6.5; all 4.5. SS_O = 4 · 2 = 8, SS_P = 4 · 8 = 32, cells less both ∓0.5: SS_PO = 2, SS_E = 4.
        let readings = vec![
            vec![vec![1.0, 5.0], vec![3.0, 5.0]],
            vec![vec![2.0, 8.0], vec![4.0, 8.0]],
        ];
        let kept = study(&readings, Interaction::Kept).expect("good");
        let ss = [
            kept.operator.ss,
            kept.part.ss,
            kept.interaction.ss,
            kept.repeat.ss,
        ];
        assert_eq!(ss, [8.0, 32.0, 2.0, 4.0]);
        assert_eq!(kept.ss_total, 46.0);
        // σ²_E = 1, σ²_PO = (2 − 1) / 2, σ²_O = (8 − 2) / 4, σ²_P = (32 − 2) / 4.
        assert_eq!(kept.repeatability, 1.0);
        assert_eq!(kept.interaction_variance, 0.5);
        assert_eq!((kept.operator_variance, kept.part_variance), (1.5, 7.5));
        // Pooled: MS = 6 / 5.
        let pooled = study(&readings, Interaction::Pooled).expect("good");
        assert_eq!(
            (pooled.repeatability, pooled.interaction_variance),
            (1.2, 0.0)
        );
        // F = 2 with 1 and 4 degrees of freedom: p = 0.2302 (scipy 1.17.1 stats.f.sf), below 0.25, so it stays.
        let tested = study(&readings, Interaction::Tested).expect("good");
        assert!(!tested.is_pooled);
        assert!((tested.interaction_p.expect("some") - 0.230_199_641_080_498_9).abs() < 1e-9);
    }

    #[test]
    fn refusals() {
        type Readings = Vec<Vec<Vec<f64>>>;
        let good: Readings = vec![vec![vec![1.0, 5.0]; 2]; 2];
        let with = |change: &dyn Fn(&mut Readings)| {
            let mut readings = good.clone();
            change(&mut readings);
            study(&readings, Interaction::Kept)
        };
        assert!(with(&|_| ()).is_ok());
        assert!(with(&|r| r.truncate(1)).is_err());
        assert!(with(&|r| r[1].truncate(1)).is_err());
        assert!(with(&|r| r[1][1].truncate(1)).is_err());
        assert!(with(&|r| r[0][0][0] = f64::NAN).is_err());
        assert!(with(&|r| r.clear()).is_err());
        let flat = with(&|r| *r = vec![vec![vec![2.0; 2]; 2]; 2]);
        assert_eq!(flat, Err(CalcError::Alike { input: "x" }));
    }

    proptest! {
        #[test]
        fn the_parts_are_the_whole(xs in prop::collection::vec(-9.0..9.0f64, 24)) {
            let readings: Vec<Vec<Vec<f64>>> = xs.chunks(8).map(|o| o.chunks(4).map(<[f64]>::to_vec).collect()).collect();
            let s = study(&readings, Interaction::Tested).expect("good");
            let parts = s.part.ss + s.operator.ss + s.interaction.ss + s.repeat.ss;
            prop_assert!((parts - s.ss_total).abs() < 1e-9);
            prop_assert!(s.gauge() >= 0.0 && s.total() > 0.0);
        }
    }
}
