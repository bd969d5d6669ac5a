//! `labour-time`

use calc::labour_time::{self, SHEET_COUNTS_AS, Task};
use calc::working::{Method, Working};

use crate::MethodError;
use crate::card::Contract;
use crate::shape::{NotNegative, contract};

contract! {
    /// A task on the way.
    struct TaskIn {
        /// Minutes by the sheet.
        sheet_min: NotNegative,
        /// Minutes of each time it was done and timed.
        timed_min: Vec<NotNegative> = Vec::new(),
    }
}

contract! {
    /// A piece of work.
    struct Input {
        /// Its tasks.
        tasks: Vec<TaskIn>,
        /// Minutes that belong to none of them.
        beside_min: NotNegative = NotNegative(0.0),
        /// So many jobs the sheet's minutes count as.
        sheet_counts_as: NotNegative = NotNegative(SHEET_COUNTS_AS),
    }
}

contract! {
    /// What it takes.
    struct Output {
        /// Minutes of all tasks by the sheet.
        sheet_min: f64,
        /// Minutes of each task, as learned.
        each_min: Vec<f64>,
        /// Minutes of all tasks, as learned.
        way_min: f64,
        /// Hours to charge, to the hundredth, rounded up.
        hours: f64,
    }
}

/// The contract.
pub(crate) struct LabourTime;

impl Contract for LabourTime {
    const METHOD: Method = labour_time::METHOD;
    const SUMMARY: &'static str = "method-labour-time";
    const FORMULA: &'static str = "m' = (w · m + Σ t) / (w + n); h = ⌈100 · (Σ m' + b) / 60⌉ / 100";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("m", "tasks"),
        ("t", "tasks"),
        ("b", "beside_min"),
        ("w", "sheet_counts_as"),
    ];
    type In = Input;
    type Out = Output;

    fn compute(input: &Input) -> Result<(Output, Option<Working>), MethodError> {
        let timed: Vec<Vec<f64>> = input
            .tasks
            .iter()
            .map(|task| task.timed_min.iter().map(|t| t.0).collect())
            .collect();
        let tasks = input.tasks.iter().zip(&timed);
        let tasks: Vec<Task> = tasks
            .map(|(task, timed)| Task {
                sheet: task.sheet_min.0,
                timed,
            })
            .collect();
        let found = labour_time::labour(&tasks, input.beside_min.0, input.sheet_counts_as.0)?;
        let working = labour_time::working(&found);
        let out = Output {
            sheet_min: found.sheet,
            each_min: found.each,
            way_min: found.way,
            hours: found.hours,
        };
        Ok((out, Some(working)))
    }
}
