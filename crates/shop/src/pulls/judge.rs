//! What a pull's numbers are held against, and the verdict.

use calc::decision::{self, Limits, Rule, Verdict};
use calc::pull::envelope::Envelope;
use calc::pull::reading::{Reading, Setup, Value};

use super::{OnePull, numbers};
use crate::entry::{FeatureRead, Outcome, PullRead};
use crate::sheet::{BenchTestKind, FastenerFamily, Feature, ToolModel};

/// What decides on pulls.
#[derive(Clone, Copy, Debug)]
pub struct Judged<'a> {
    /// Model of the tool.
    pub model: &'a ToolModel,
    /// What was pulled; `None` to stall.
    pub fastener: Option<&'a FastenerFamily>,
    /// Good pulls of the same, recorded by the same gauges, where there are enough, and how a pull is read beside them.
    pub band: Option<(&'a Envelope, &'a Setup)>,
    /// Gauges are known, in date, and read so far: otherwise a number is shown and decides nothing.
    pub is_evidence: bool,
}

/// The limits of `feature` on `model`: of its bench tests to stall, of its pull limits with a fastener. A slip is
/// one too many where the sheet sets no limit.
pub fn limits_of(
    model: &ToolModel,
    fastener: Option<&FastenerFamily>,
    feature: Feature,
) -> Option<(Limits, Rule)> {
    let given = match fastener {
        None => model.bench_tests.iter().find_map(|test| match &test.kind {
            BenchTestKind::Measured { limits, rule, .. } if test.feature == Some(feature) => {
                Some((*limits, *rule))
            }
            _ => None,
        }),
        Some(fastener) => model
            .pull_limits
            .iter()
            .find(|limit| limit.fastener == fastener.id && limit.feature == feature)
            .map(|limit| (limit.limits, limit.rule)),
    };
    let no_slip = || Limits::new(None, Some(0.5)).ok().map(|l| (l, Rule::Simple));
    given.or_else(|| (feature == Feature::Slips).then(no_slip).flatten())
}

/// `pull` with its verdicts; `None` where it cannot be read.
pub fn judge_pull(pull: &OnePull, by: &Judged) -> Option<PullRead> {
    let reading = pull.reading.as_ref().ok()?;
    let by = &Judged {
        is_evidence: by.is_evidence && !pull.spoiled,
        ..*by
    };
    let features = numbers(reading, by.fastener.is_none()).into_iter();
    let features = features.filter_map(|(feature, value)| judge_one(feature, value, by));
    Some(PullRead {
        number: pull.number,
        first_line: pull.first_line,
        last_line: pull.last_line,
        features: features.collect(),
        like: like(reading, by),
        spoiled: pull.spoiled,
        beyond: Vec::new(),
    })
}

/// Numbers that are kept and printed whether they are judged or not.
pub const PRINTED: [Feature; 5] = [
    Feature::Peak,
    Feature::Stroke,
    Feature::SlipSize,
    Feature::StickSlipSize,
    Feature::Hysteresis,
];

/// What is kept of a number: the value where it is judged or always printed.
fn judge_one(feature: Feature, value: Value, by: &Judged) -> Option<FeatureRead> {
    let limits = limits_of(by.model, by.fastener, feature);
    if limits.is_none() && !PRINTED.contains(&feature) {
        return None;
    }
    let expanded = value.expanded();
    let verdict = limits.map(|(limits, rule)| {
        let verdict = decision::judge(value.value, expanded, limits, rule);
        evidence(verdict.unwrap_or(Verdict::Undecided), by)
    });
    Some(FeatureRead {
        feature: feature.key().to_owned(),
        value: value.value,
        expanded,
        lower: limits.and_then(|(limits, _)| limits.lower()),
        upper: limits.and_then(|(limits, _)| limits.upper()),
        outcome: verdict.map(Outcome::from),
    })
}

fn evidence(verdict: Verdict, by: &Judged) -> Verdict {
    match by.is_evidence {
        true => verdict,
        false => Verdict::Undecided,
    }
}

fn like(reading: &Reading, by: &Judged) -> Option<Outcome> {
    let (band, beside) = by.band?;
    let compared = band.compare(reading, beside).ok()?;
    Some(evidence(compared.verdict, by).into())
}

/// The worst verdict of `pulls`; `None` where none was given.
pub fn outcome_of(pulls: &[PullRead]) -> Option<Outcome> {
    let all = pulls.iter().flat_map(|pull| {
        let features = pull.features.iter().filter_map(|f| f.outcome);
        features.chain(pull.like)
    });
    let worst = all.map(Verdict::from).max();
    worst.map(Outcome::from)
}
