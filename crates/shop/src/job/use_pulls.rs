//! Taking recorded pulls as evidence.

use calc::pull::envelope::{self, Envelope};
use calc::pull::reading;
use calc::units::Unit;
use calc::{Message, decision};

use super::bench_test::measure;
use super::judge::method_of;
use super::refusal::{Refusals, refuse, refuse_all};
use super::{BenchTestIn, Desk, Job, Measured, Stage, Stamped, TypedValue};
use crate::entry::{BandUsed, Body, Phase, PinRecord, PullRead, PullsRead};
use crate::pulls::{Judged, OnePull, gauges_of, judge_pull, outcome_of, setup};
use crate::sheet::{BenchTest, BenchTestKind, Feature, Gauge, Kind, Rig, ToolModel};

/// Pulls to be taken, with what was read from their recording.
#[derive(Clone, Debug, PartialEq)]
pub struct PullsIn {
    /// As found or as left.
    pub phase: Phase,
    /// The recording, by the hash under which it is attached.
    pub sha256: String,
    /// Rig id; `None` where the file's headings alone decide.
    pub rig: Option<String>,
    /// Fastener id; `None` for a pull to stall.
    pub fastener: Option<String>,
    /// Numbers of the pulls that are to count.
    pub count: Vec<u32>,
    /// Every pull of the recording.
    pub read: Vec<OnePull>,
    /// Faults that were named.
    pub faults: u32,
    /// Good pulls of the same model and fastener, with the recordings that they stand in.
    pub band: Option<(Envelope, Vec<String>)>,
    /// Remark.
    pub note: String,
}

impl Job {
    /// Recorded pulls of `phase` that count; as left, only since the tool was last opened.
    pub fn pulls_in(&self, phase: Phase) -> impl Iterator<Item = &Stamped<PullsRead>> {
        let since = self.strip_from;
        self.pulls
            .iter()
            .filter(move |p| p.body.phase == phase)
            .filter(move |p| phase == Phase::AsFound || p.version > since)
    }

    /// Whether pulls of `phase` can be taken now.
    pub fn takes_pulls(&self, phase: Phase, desk: &Desk) -> bool {
        self.pulls_or_refuse(phase, desk).is_ok()
    }

    fn pulls_or_refuse(&self, phase: Phase, desk: &Desk) -> Result<(), Refusals> {
        match phase {
            Phase::AsFound => self.may_run_as_found(desk),
            Phase::AsLeft => {
                self.open_or_refuse(Stage::Proved)?;
                if self.proof.is_some() {
                    return refuse_all(Message::new("refuse-proof-stands"));
                }
                if self.energy_forbidden(desk) {
                    return refuse_all(Message::new("refuse-no-energy"));
                }
                Ok(())
            }
        }
    }

    pub(super) fn use_pulls(&self, input: &PullsIn, desk: &Desk) -> Result<Vec<Body>, Refusals> {
        let model = self.model_or_refuse(desk)?;
        self.pulls_or_refuse(input.phase, desk)?;
        let attached = self.files.iter().find(|f| f.body.sha256 == input.sha256);
        let Some(file) = attached else {
            return refuse_all(Message::new("refuse-pulls-no-file"));
        };
        let before = self.pulls_in(input.phase);
        if before.into_iter().any(|p| p.body.sha256 == input.sha256) {
            return refuse_all(Message::new("refuse-pulls-again"));
        }
        let rig = match &input.rig {
            None => None,
            Some(id) => Some(rig_or_refuse(id, desk)?),
        };
        let fastener = match &input.fastener {
            None => None,
            Some(id) => {
                let pin = desk.shelf.newest(Kind::Fastener, id);
                let found = pin.and_then(|pin| Some((desk.shelf.fastener(&pin)?, pin)));
                let unknown = || vec![refuse("fastener", Message::new("refuse-pulls-fastener"))];
                Some(found.ok_or_else(unknown)?)
            }
        };
        let counted = counted(input)?;
        let rig_sheet = rig.as_ref().map(|(_, rig)| *rig);
        let gauges = rig_sheet.map_or(Vec::new(), |rig| gauges_of(rig, desk));
        let in_date = gauges.len() == 2 && gauges.iter().all(|(_, g)| g.in_date(desk.today));
        let setup = setup(rig_sheet, fastener.as_ref().map(|(f, _)| *f), desk);
        let judged = |pull: &OnePull| {
            judge_pull(
                pull,
                &Judged {
                    model,
                    fastener: fastener.as_ref().map(|(f, _)| *f),
                    setup: &setup,
                    band: input.band.as_ref().map(|(band, _)| band),
                    is_evidence: in_date && within_reach(pull, &gauges),
                },
            )
        };
        let pulls: Vec<PullRead> = counted.iter().filter_map(|p| judged(p)).collect();
        let band = input.band.as_ref();
        let mut methods = vec![method_of(reading::METHOD), method_of(decision::METHOD)];
        methods.extend(band.map(|_| method_of(envelope::METHOD)));
        let tests = match (&fastener, rig_sheet) {
            (None, Some(rig)) => self.tests_of(model, rig, &pulls, input, desk)?,
            _ => Vec::new(),
        };
        let read = PullsRead {
            phase: input.phase,
            sha256: input.sha256.clone(),
            name: file.body.name.clone(),
            rig: rig.map(|(pin, _)| pin),
            fastener: fastener.as_ref().map(|(_, pin)| PinRecord::from(pin)),
            gauges: gauges.into_iter().map(|(pin, _)| pin).collect(),
            in_date,
            found: u32::try_from(input.read.len()).unwrap_or(u32::MAX),
            faults: input.faults,
            outcome: outcome_of(&pulls),
            pulls,
            band: band.map(|(band, recordings)| BandUsed {
                pulls: u32::try_from(band.count()).unwrap_or(u32::MAX),
                share: band.share,
                recordings: recordings.clone(),
            }),
            methods,
            note: input.note.trim().to_owned(),
        };
        Ok(std::iter::once(read.into()).chain(tests).collect())
    }

    /// The bench tests that pulls to stall answer: those of which there are as many as the test asks for.
    fn tests_of(
        &self,
        model: &ToolModel,
        rig: &Rig,
        pulls: &[PullRead],
        input: &PullsIn,
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        let mut read = Vec::new();
        for test in &model.bench_tests {
            let Some((values, gauge)) = readings(test, rig, pulls) else {
                continue;
            };
            if input.phase == Phase::AsLeft && self.turn_has_come(test).is_err() {
                continue;
            }
            let test_in = BenchTestIn {
                phase: input.phase,
                test: test.id.clone(),
                measured: Some(Measured {
                    gauge: gauge.to_owned(),
                    gauge_field: "rig".to_owned(),
                    values,
                }),
                passed: None,
                note: String::new(),
            };
            read.push(measure(test, &test_in, desk)?.into());
        }
        Ok(read)
    }
}

fn rig_or_refuse<'a>(id: &str, desk: &Desk<'a>) -> Result<(PinRecord, &'a Rig), Refusals> {
    let pin = desk.shelf.newest(Kind::Rig, id);
    let found = pin.and_then(|pin| Some((PinRecord::from(&pin), desk.shelf.rig(&pin)?)));
    let unknown = || Message::new("refuse-no-rig").with("rig", id);
    found.ok_or_else(|| vec![refuse("rig", unknown())])
}

/// The pulls that are to count: at least one, each there and readable.
fn counted(input: &PullsIn) -> Result<Vec<&OnePull>, Refusals> {
    let mut counted = Vec::new();
    for number in &input.count {
        let pull = input.read.iter().find(|p| p.number == *number);
        match pull.filter(|p| p.reading.is_ok()) {
            Some(pull) => counted.push(pull),
            None => {
                let message = Message::new("refuse-pull-unread").with("number", *number);
                return Err(vec![refuse("pull", message)]);
            }
        }
    }
    if counted.is_empty() {
        return Err(vec![refuse("pull", Message::new("refuse-pulls-none"))]);
    }
    Ok(counted)
}

/// Whether both gauges read as far as the pull went.
fn within_reach(pull: &OnePull, gauges: &[(PinRecord, &Gauge)]) -> bool {
    let Ok(reading) = &pull.reading else {
        return false;
    };
    let went = [
        (reading.features.peak_raw_kn, Unit::Kilonewton),
        (reading.features.stroke_mm.value, Unit::Millimetre),
    ];
    gauges.iter().zip(went).all(|((_, gauge), (value, unit))| {
        let most = gauge.unit.convert(gauge.range.1, unit);
        most.is_some_and(|most| value <= most)
    })
}

/// Readings that `pulls` give `test`, and the gauge of `rig` that took them; `None` where the test asks for nothing that
/// they have, for more of them, or for another kind of gauge.
fn readings<'a>(
    test: &BenchTest,
    rig: &'a Rig,
    pulls: &[PullRead],
) -> Option<(Vec<TypedValue>, &'a str)> {
    let feature = test.feature?;
    let BenchTestKind::Measured { count, .. } = &test.kind else {
        return None;
    };
    let gauge = match feature.unit()? {
        Unit::Kilonewton => &rig.load_cell,
        Unit::Millimetre => &rig.stroke_sensor,
        _ => return None,
    };
    let of_pull = |pull: &PullRead| {
        let value = value_of(pull, feature)?;
        Some(TypedValue {
            field: "pull".to_owned(),
            raw: format!("{value:.4} {}", feature.symbol()),
            value,
        })
    };
    let values: Vec<TypedValue> = pulls.iter().filter_map(of_pull).collect();
    (values.len() >= *count).then_some((values, gauge))
}

fn value_of(pull: &PullRead, feature: Feature) -> Option<f64> {
    let read = pull.features.iter().find(|f| f.feature == feature.key())?;
    Some(read.value)
}
