//! From readings to a verdict.

use calc::decision::{self, Verdict};

use super::Desk;
use super::desk::all_in_date;
use crate::entry::Reading;

/// The verdict on readings; one from a gauge out of date is not evidence, so nothing is decided.
pub(super) fn verdict_of(
    readings: &[Reading],
    value: f64,
    expanded: f64,
    limits: decision::Limits,
    rule: decision::Rule,
) -> Verdict {
    if all_in_date(readings) {
        decision::judge(value, expanded, limits, rule).unwrap_or(Verdict::Undecided)
    } else {
        Verdict::Undecided
    }
}

/// `readings` with their verdicts, each judged alone: places on one part, or several screws, do not
/// make up for one another. `None` if one of them says nothing.
pub(super) fn each_alone(
    readings: Vec<Reading>,
    limits: decision::Limits,
    rule: decision::Rule,
    desk: &Desk,
) -> Option<Vec<(Reading, Verdict)>> {
    let judged = readings.into_iter().map(|reading| {
        let alone = std::slice::from_ref(&reading);
        let mean = desk.mean_of(alone)?;
        let verdict = verdict_of(alone, mean.value, mean.expanded, limits, rule);
        Some((reading, verdict))
    });
    judged.collect()
}

/// The worst of `judged`, by its verdict, then by how far it lies beyond a limit; and the others.
pub(super) fn worst_of(
    mut judged: Vec<(Reading, Verdict)>,
    limits: decision::Limits,
) -> Option<(Reading, Verdict, Vec<Reading>)> {
    let beyond = |value: f64| {
        let below = limits.lower().map(|l| l - value);
        let above = limits.upper().map(|u| value - u);
        below.into_iter().chain(above).fold(f64::MIN, f64::max)
    };
    let all = judged.iter().enumerate();
    let worst = all.max_by(|(_, (a, judged_a)), (_, (b, judged_b))| {
        let by_distance = || beyond(a.value).total_cmp(&beyond(b.value));
        judged_a.cmp(judged_b).then_with(by_distance)
    });
    let (reading, verdict) = judged.remove(worst?.0);
    let others = judged.into_iter().map(|(reading, _)| reading);
    Some((reading, verdict, others.collect()))
}

/// A method as recorded.
pub(crate) fn method_of(method: calc::working::Method) -> String {
    format!("{} {}", method.name, method.version)
}
