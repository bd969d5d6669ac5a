//! Gauge repeatability and reproducibility by averages and ranges: the pocket calculator's way.
//!
//! # Formula
//! EV = R̿ · K₁; AV = √((X̄_diff · K₂)² − EV² / (p · r)), 0 if below; GRR = √(EV² + AV²); PV = R_p · K₃;
//! TV = √(GRR² + PV²); share 100 · GRR / TV; categories ⌊1.41 · PV / GRR⌋.
//!
//! # Validity
//! As the analysis of variance, without its interaction: two or three trials, two or three people, two to ten parts
//! for the factors below.
//!
//! # Source
//! AIAG, Measurement Systems Analysis, 4th edition (2010), average and range method. The factors are 1 / d₂* (from
//! memory).

use crate::Message;
use crate::error::{CalcError, within};
use crate::gauge_rr::{categories, shape};
use crate::working::{Method, Working, figures};

/// This method.
pub const METHOD: Method = Method {
    name: "gauge-rr-range",
    version: 1,
    source: "AIAG, Measurement Systems Analysis, 4th edition (2010), average and range method",
};

/// K₁ by trials, from two.
const OF_TRIALS: [f64; 2] = [0.8862, 0.5908];
/// K₂ by people, from two.
#[allow(clippy::approx_constant, reason = "the table's own four digits")]
const OF_PEOPLE: [f64; 2] = [0.7071, 0.5231];
/// K₃ by parts, from two.
#[allow(clippy::approx_constant, reason = "the table's own four digits")]
const OF_PARTS: [f64; 9] = [
    0.7071, 0.5231, 0.4467, 0.4030, 0.3742, 0.3534, 0.3375, 0.3249, 0.3146,
];

/// Factors that were given instead of the table's.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Factors {
    /// K₁.
    pub k1: Option<f64>,
    /// K₂.
    pub k2: Option<f64>,
    /// K₃.
    pub k3: Option<f64>,
}

/// What a study comes to. Standard deviations, in the unit of the readings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Study {
    /// R̿: mean of all ranges of one person on one part.
    pub mean_range: f64,
    /// X̄_diff: highest less lowest mean of a person.
    pub operator_difference: f64,
    /// R_p: highest less lowest mean of a part.
    pub part_range: f64,
    /// The factors used.
    pub factors: (f64, f64, f64),
    /// Parts times trials.
    pub readings_each: f64,
    /// EV.
    pub repeatability: f64,
    /// AV.
    pub reproducibility: f64,
    /// PV.
    pub part: f64,
}

impl Study {
    /// GRR.
    pub fn gauge(&self) -> f64 {
        self.repeatability.hypot(self.reproducibility)
    }

    /// TV.
    pub fn total(&self) -> f64 {
        self.gauge().hypot(self.part)
    }

    /// How many kinds of part the gauge tells apart, not rounded; `None` for a gauge without any spread.
    pub fn categories(&self) -> Option<f64> {
        categories(self.part, self.gauge())
    }
}

fn factor(
    input: &'static str,
    given: Option<f64>,
    table: &[f64],
    n: usize,
) -> Result<f64, CalcError> {
    if let Some(k) = given {
        return within(input, k, f64::MIN_POSITIVE, 10.0);
    }
    // The number of which there is a factor, named by what it counts.
    let counted = match input {
        "K₁" => "r",
        "K₂" => "o",
        _ => "p",
    };
    let most = (table.len() + 1) as f64;
    within(counted, n as f64, 2.0, most)?;
    Ok(table[n - 2])
}

fn span(values: impl Iterator<Item = f64> + Clone) -> f64 {
    values.clone().fold(f64::NEG_INFINITY, f64::max) - values.fold(f64::INFINITY, f64::min)
}

/// The study of `readings` by person, trial, part.
///
/// # Errors
/// Fewer than two people, trials or parts, lists of different length, a reading that is not within ±10¹², numbers of
/// which there is no factor, readings that are all the same.
pub fn study(readings: &[Vec<Vec<f64>>], factors: Factors) -> Result<Study, CalcError> {
    let (people, trials, parts) = shape(readings)?;
    for reading in readings.iter().flatten().flatten() {
        within("x", *reading, -1e12, 1e12)?;
    }
    let k1 = factor("K₁", factors.k1, &OF_TRIALS, trials)?;
    let k2 = factor("K₂", factors.k2, &OF_PEOPLE, people)?;
    let k3 = factor("K₃", factors.k3, &OF_PARTS, parts)?;
    let range = |person: &Vec<Vec<f64>>, p: usize| span(person.iter().map(move |trial| trial[p]));
    let ranges: f64 = readings
        .iter()
        .map(|person| (0..parts).map(|p| range(person, p)).sum::<f64>())
        .sum();
    let mean_range = ranges / (people * parts) as f64;
    let readings_each = (trials * parts) as f64;
    let of_person: Vec<f64> = readings
        .iter()
        .map(|person| person.iter().flatten().sum::<f64>() / readings_each)
        .collect();
    let of_part = |p: usize| readings.iter().flatten().map(|t| t[p]).sum::<f64>();
    let of_part: Vec<f64> = (0..parts)
        .map(|p| of_part(p) / (people * trials) as f64)
        .collect();
    let operator_difference = span(of_person.iter().copied());
    let part_range = span(of_part.iter().copied());
    let repeatability = mean_range * k1;
    let squared = (operator_difference * k2).powi(2) - repeatability.powi(2) / readings_each;
    let found = Study {
        mean_range,
        operator_difference,
        part_range,
        factors: (k1, k2, k3),
        readings_each,
        repeatability,
        reproducibility: squared.max(0.0).sqrt(),
        part: part_range * k3,
    };
    if found.total() <= 0.0 {
        return Err(CalcError::Alike { input: "x" });
    }
    Ok(found)
}

/// From the ranges to the share of the gauge.
pub fn working(found: &Study) -> Working {
    let few = |x: f64| figures(x, 5);
    let (k1, k2, k3) = found.factors;
    let (ev, av, pv) = (found.repeatability, found.reproducibility, found.part);
    let (gauge, total) = (found.gauge(), found.total());
    let (range, people, parts) = (
        found.mean_range,
        found.operator_difference,
        found.part_range,
    );
    let mut w = Working::new(METHOD)
        .given("R", Message::new("given-mean-range"), range, few(range), "")
        .given(
            "D",
            Message::new("given-operator-difference"),
            people,
            few(people),
            "",
        )
        .given(
            "R_p",
            Message::new("given-part-range"),
            parts,
            few(parts),
            "",
        )
        .given(
            "m",
            Message::new("given-readings-each"),
            found.readings_each,
            0,
            "",
        )
        .given("K₁", Message::new("given-factor-trials"), k1, 4, "")
        .given("K₂", Message::new("given-factor-people"), k2, 4, "")
        .given("K₃", Message::new("given-factor-parts"), k3, 4, "")
        .step("EV", "R · K₁", ev, few(ev), "")
        .step("AV", "√((D · K₂)² − EV² / m)", av, few(av), "")
        .step("GRR", "√(EV² + AV²)", gauge, few(gauge), "")
        .step("PV", "R_p · K₃", pv, few(pv), "")
        .step("TV", "√(GRR² + PV²)", total, few(total), "")
        .step("q", "100 · GRR / TV", 100.0 * gauge / total, 2, "%");
    if let Some(categories) = found.categories() {
        w = w.step("c", "1.41 · PV / GRR", categories, 2, "");
    }
    w.note(Message::new("note-gauge-study-bounds"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn by_hand() {
        // Ranges 2, 0, 2, 0: mean 1. People 3.5 and 5.5, parts 2.5 and 6.5. EV = 0.8862;
        // AV² = (2 · 0.7071)² − 0.8862² / 4 = 1.99996 − 0.19634; PV = 4 · 0.7071.
        let readings = vec![
            vec![vec![1.0, 5.0], vec![3.0, 5.0]],
            vec![vec![2.0, 8.0], vec![4.0, 8.0]],
        ];
        let found = study(&readings, Factors::default()).expect("good");
        assert!((found.repeatability - 0.8862).abs() < 1e-12);
        assert!(
            (found.reproducibility.powi(2) - 1.803_624_03).abs() < 1e-8,
            "{found:?}"
        );
        assert!((found.part - 2.8284).abs() < 1e-12);
        // A factor of one's own.
        let own = Factors {
            k1: Some(1.0),
            ..Factors::default()
        };
        assert_eq!(study(&readings, own).expect("good").repeatability, 1.0);
    }

    #[test]
    fn refusals() {
        let of = |people, trials, parts| {
            let readings: Vec<Vec<Vec<f64>>> = (0..people)
                .map(|o| vec![(0..parts).map(|p| (o * p) as f64).collect(); trials])
                .collect();
            study(&readings, Factors::default())
        };
        assert!(of(3, 3, 10).is_ok());
        for (people, trials, parts, named) in [(4, 2, 5, "o"), (2, 4, 5, "r"), (2, 2, 11, "p")] {
            let error = of(people, trials, parts).expect_err("no factor");
            assert!(matches!(error, CalcError::OutOfRange { input, .. } if input == named));
        }
        assert!(study(&[], Factors::default()).is_err());
        let zero = Factors {
            k2: Some(0.0),
            ..Factors::default()
        };
        assert!(study(&vec![vec![vec![1.0, 2.0]; 2]; 2], zero).is_err());
        assert!(study(&vec![vec![vec![1.0, f64::NAN]; 2]; 2], Factors::default()).is_err());
        assert!(study(&vec![vec![vec![1.0; 2]; 2]; 2], Factors::default()).is_err());
    }
}
