//! Minutes of a piece of work, from what the sheet states and from what the shop's own clocks showed.
//!
//! # Formula
//! The sheet counts as so many jobs as w says. A task of m minutes by the sheet that was timed n times, with
//! t_i minutes each, is taken to last m' = (w · m + Σ t_i) / (w + n). A way of several tasks lasts M = Σ m';
//! with the minutes b beside it, it is charged with h = ⌈100 · (M + b) / 60⌉ / 100 hours.
//!
//! # Validity
//! The times are of the same work on the same model, each of one visit. An average, not a bound: one visit
//! in two takes longer.
//!
//! # Errors
//! Minutes that are not from 0 to [`MOST_MINUTES`], a weight below 0, neither a weight nor a time.
//!
//! # Source
//! Posterior mean of a normal mean with known spread, its prior worth w readings: Gelman et al., Bayesian Data
//! Analysis, chapter 2 (from memory). What the sheet counts as: common practice, no source.

use crate::Message;
use crate::error::{CalcError, within};
use crate::working::{Method, Working};

/// This method.
pub const METHOD: Method = Method {
    name: "labour-time",
    version: 1,
    source: "average with the sheet's minutes, which count as some jobs: posterior mean of a normal mean, Gelman et al., Bayesian Data Analysis, chapter 2 (from memory); that weight, and receiving, proof and paper: common practice, no source",
};

/// So many jobs the minutes of the sheet count as (common practice, no source).
pub const SHEET_COUNTS_AS: f64 = 4.0;

/// Minutes that no task takes: a week.
pub const MOST_MINUTES: f64 = 10_080.0;

/// A task.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Task<'a> {
    /// Minutes by the sheet.
    pub sheet: f64,
    /// Minutes of each time it was done and timed.
    pub timed: &'a [f64],
}

/// What the work takes.
#[derive(Clone, Debug, PartialEq)]
pub struct Labour {
    /// Minutes of all tasks by the sheet.
    pub sheet: f64,
    /// Minutes of each task, as learned.
    pub each: Vec<f64>,
    /// Minutes of all tasks, as learned.
    pub way: f64,
    /// How many times there are.
    pub timed: usize,
    /// Minutes beside the tasks.
    pub beside: f64,
    /// The weight of the sheet.
    pub weight: f64,
    /// Hours to charge, to the hundredth, rounded up.
    pub hours: f64,
}

/// Minutes of a task, as learned; the sheet counts as `weight` jobs.
///
/// # Errors
/// As the head of this module says.
pub fn learned(task: Task, weight: f64) -> Result<f64, CalcError> {
    let sheet = within("m", task.sheet, 0.0, MOST_MINUTES)?;
    let weight = within("w", weight, 0.0, 1e6)?;
    let mut sum = weight * sheet;
    for minutes in task.timed {
        sum += within("t", *minutes, 0.0, MOST_MINUTES)?;
    }
    let count = weight + task.timed.len() as f64;
    if count <= 0.0 {
        return Err(CalcError::TooFew {
            input: "t",
            have: 0,
            need: 1,
        });
    }
    Ok(sum / count)
}

/// What all `tasks` take, with `beside` minutes that belong to none of them.
///
/// # Errors
/// As the head of this module says.
pub fn labour(tasks: &[Task], beside: f64, weight: f64) -> Result<Labour, CalcError> {
    let beside = within("b", beside, 0.0, MOST_MINUTES)?;
    let each = tasks.iter().map(|task| learned(*task, weight));
    let each = each.collect::<Result<Vec<f64>, CalcError>>()?;
    let way = each.iter().sum();
    Ok(Labour {
        sheet: tasks.iter().map(|task| task.sheet).sum(),
        each,
        way,
        timed: tasks.iter().map(|task| task.timed.len()).sum(),
        beside,
        weight,
        hours: hours(way + beside),
    })
}

/// Hours for `minutes`, to the hundredth, rounded up.
pub fn hours(minutes: f64) -> f64 {
    // What a sum of fractions leaves behind the ninth decimal charges nobody a hundredth.
    (minutes / 0.6 - 1e-9).ceil().max(0.0) / 100.0
}

/// From the minutes to the hours.
pub fn working(found: &Labour) -> Working {
    let part_minutes = || Message::new("given-part-minutes");
    let working = Working::new(METHOD);
    let working = if found.timed == 0 {
        working.given("M", part_minutes(), found.sheet, 0, "min")
    } else {
        let jobs = Message::new("given-sheet-as-jobs");
        working
            .given("M_s", part_minutes(), found.sheet, 0, "min")
            .given("w", jobs, found.weight, 0, "")
            .given(
                "N",
                Message::new("given-own-times"),
                found.timed as f64,
                0,
                "",
            )
            .step("M", "Σ (w · m + Σ t) / (w + n)", found.way, 1, "min")
    };
    working
        .given(
            "b",
            Message::new("given-bench-minutes"),
            found.beside,
            0,
            "min",
        )
        .step("h", "(M + b) / 60", found.hours, 2, "h")
        .note(Message::new("note-labour"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn by_hand() {
        // (4 · 6 + 9 + 10 + 11) / 7 = 54 / 7; nothing was timed of the other. 54 / 7 + 3 + 40 min are
        // 50.714 min, 0.84524 h.
        let tasks = [
            Task {
                sheet: 6.0,
                timed: &[9.0, 10.0, 11.0],
            },
            Task {
                sheet: 3.0,
                timed: &[],
            },
        ];
        let found = labour(&tasks, 40.0, SHEET_COUNTS_AS).expect("good");
        assert_eq!((found.sheet, found.timed), (9.0, 3));
        assert!((found.way - (54.0 / 7.0 + 3.0)).abs() < 1e-12);
        assert_eq!(found.hours, 0.85);
        let shown = working(&found);
        assert_eq!(shown.steps[0].value, "10.7");
        assert_eq!(shown.steps[1].filled, "(10.7 + 40) / 60");
        // The sheet alone needs no weight.
        assert_eq!(
            working(&labour(&tasks[1..], 40.0, 4.0).expect("good"))
                .given
                .len(),
            2
        );
    }

    #[test]
    fn a_hundredth_is_charged_whole_and_not_before_it_is_begun() {
        // 33 min are 0.55 h as it stands; 13 + 40 min are 0.8833 h.
        assert_eq!([hours(33.0), hours(53.0), hours(0.0)], [0.55, 0.89, 0.0]);
        assert_eq!(hours((4.0 * 30.0 + 45.0) / 5.0), 0.55);
    }

    #[test]
    fn refusals() {
        let of = |sheet, timed: &[f64], weight| learned(Task { sheet, timed }, weight);
        for wrong in [
            of(-1.0, &[], 4.0),
            of(f64::NAN, &[], 4.0),
            of(1.0, &[1.0, -0.1], 4.0),
            of(1.0, &[MOST_MINUTES * 2.0], 4.0),
            of(1.0, &[], -1.0),
        ] {
            assert!(wrong.is_err());
        }
        assert!(matches!(of(1.0, &[], 0.0), Err(CalcError::TooFew { .. })));
        assert!(labour(&[], f64::INFINITY, 4.0).is_err());
        assert_eq!(labour(&[], 0.0, 4.0).map(|l| l.hours), Ok(0.0));
    }

    proptest! {
        #[test]
        fn it_lies_between_the_sheet_and_the_own_mean_and_nearer_to_it_with_each_time(
            sheet in 0.0..100.0f64, timed in prop::collection::vec(0.0..100.0f64, 1..20), weight in 0.1..20.0f64,
        ) {
            let mean = timed.iter().sum::<f64>() / timed.len() as f64;
            let found = learned(Task { sheet, timed: &timed }, weight).expect("good");
            prop_assert!(found >= sheet.min(mean) - 1e-9 && found <= sheet.max(mean) + 1e-9);
            let mut more = timed.clone();
            more.push(mean);
            let nearer = learned(Task { sheet, timed: &more }, weight).expect("good");
            prop_assert!((nearer - mean).abs() <= (found - mean).abs() + 1e-9);
        }
    }
}
