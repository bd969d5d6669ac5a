//! A shop that learns from its closed jobs.

use jiff::{Timestamp, ToSpan};
use uuid::Uuid;

use super::{Bench, Drawn, Followed};
use crate::diagnosis::Seen;
use crate::entry::{PinRecord, Said};
use crate::learning::{Counted, Lesson, Lessons, Rulings};
use crate::sheet::{Cause, FaultModel};

/// A shop that begins with `sheet` and learns after every lot of jobs: what comes of the `measured` jobs with the sheet
/// alone and after each lot, and the numbers with all of them. Measured jobs teach nothing.
pub fn learn(
    bench: &Bench,
    sheet: &FaultModel,
    lots: &[usize],
    measured: &[Drawn],
    uniform: &mut impl FnMut() -> f64,
) -> (Vec<Followed>, FaultModel) {
    let measure = |faults: &FaultModel| {
        let jobs = measured.iter().map(|job| bench.work(faults, job).0);
        jobs.fold(Followed::default(), Followed::and)
    };
    let mut closed: Vec<Lesson> = Vec::new();
    let mut faults = bench.taught(sheet, &closed);
    let mut found = vec![measure(&faults)];
    for lot in lots {
        for _ in 0..*lot {
            let job = bench.drawn(uniform);
            let (_, seen) = bench.work(&faults, &job);
            closed.push(bench.lesson(sheet, job.cause, &seen, closed.len()));
        }
        faults = bench.taught(sheet, &closed);
        found.push(measure(&faults));
    }
    (found, faults)
}

/// A shop in which each cause is more or less frequent than `sheet` says, by a factor drawn log-uniformly between
/// 1 / `most` and `most`.
pub fn other_shop(sheet: &FaultModel, most: f64, uniform: &mut impl FnMut() -> f64) -> FaultModel {
    let mut truth = sheet.clone();
    for cause in &mut truth.causes {
        cause.per_1000 = (cause.per_1000 * most.powf(2.0 * uniform() - 1.0)).min(999.0);
    }
    truth
}

impl Bench<'_> {
    /// The numbers of `sheet` with what the `closed` jobs teach.
    fn taught(&self, sheet: &FaultModel, closed: &[Lesson]) -> FaultModel {
        let lessons = Lessons::of(sheet, closed, (None, Timestamp::MAX), self.shelf);
        let rulings = Rulings::default();
        let counted = Counted::of(sheet, self.drive(), &lessons, &rulings, self.shelf);
        counted.faults_for(&self.tool.id)
    }

    /// What the job teaches, the `number`-th: a tool of its own, so that none comes back.
    fn lesson(&self, faults: &FaultModel, cause: &Cause, seen: &Seen, number: usize) -> Lesson {
        let number = i64::try_from(number).unwrap_or(0);
        let closed = Timestamp::UNIX_EPOCH + number.hours();
        let said = seen.checks.iter();
        Lesson {
            job: Uuid::from_u128(number.unsigned_abs().into()),
            tool: Uuid::from_u128(number.unsigned_abs().into()),
            model: PinRecord {
                id: self.tool.id.clone(),
                revision: 1,
            },
            faults: faults.id.clone(),
            opened: closed,
            closed,
            counter: None,
            counter_anew: false,
            mended: true,
            causes: vec![cause.id.clone()],
            symptoms: seen.symptoms.clone().into_iter().collect(),
            checks: said
                .map(|(id, said)| (id.clone(), *said == Said::Yes))
                .collect(),
        }
    }
}
