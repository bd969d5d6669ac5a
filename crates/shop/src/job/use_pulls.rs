//! Taking recorded pulls as evidence.

use calc::pull::envelope;
use calc::pull::reading::{self, Setup};
use calc::units::Unit;
use calc::{Message, decision};

use super::judge::method_of;
use super::refusal::{Refusals, refuse, refuse_all};
use super::tests_of_pulls::OfTest;
use super::{Desk, Job, Stage, Stamped};
use crate::entry::{BandUsed, Body, Phase, PinRecord, PullRead, PullsCorrected, PullsRead};
use crate::gauge::Standing;
use crate::pulls::{
    Behind, FromRest, Good, Judged, KnownBy, OnePull, beside, gauges_of, judge_pull, known_now,
    outcome_of, setup,
};
use crate::sheet::{Gauge, Kind, Rig, ToolModel};

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
    /// By what the gauges of the rig were known when they were read.
    pub known_by: Vec<KnownBy>,
    /// Faults that were named.
    pub faults: u32,
    /// Good pulls of the same model and fastener.
    pub band: Option<Good>,
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
        let spoiled: Vec<String> = counted
            .iter()
            .filter(|pull| pull.spoiled)
            .map(|pull| pull.number.to_string())
            .collect();
        if !spoiled.is_empty() && input.note.trim().is_empty() {
            let message = Message::new("refuse-pulls-spoiled").with("pulls", spoiled.join(", "));
            return Err(vec![refuse("note", message)]);
        }
        if let (Phase::AsLeft, Some((_, pin))) = (input.phase, &fastener)
            && let Some(set_up) = self.set_up()
            && set_up.fitted.body.fastener.id != pin.id
            && input.note.trim().is_empty()
        {
            let for_it = desk.shelf.fastener(&(&set_up.fitted.body.fastener).into());
            let name = for_it.map_or("", |family| family.name.as_str());
            let message = Message::new("refuse-pulls-other-fastener").with("name", name);
            return Err(vec![refuse("note", message)]);
        }
        let rig_sheet = rig.as_ref().map(|(_, rig)| *rig);
        let gauges = rig_sheet.map_or(Vec::new(), |rig| gauges_of(rig, desk));
        let standings: Vec<Standing> = gauges
            .iter()
            .map(|(_, gauge)| desk.shelf.standing(gauge, desk.today, None))
            .collect();
        let in_date = standings.len() == 2 && standings.iter().all(Standing::is_in_date);
        let behind = behind(&gauges, &standings);
        let no_curve = behind.iter().zip(UNITS);
        let no_curve = no_curve.filter(|(behind, unit)| !behind.has_curve(*unit));
        let no_curve: Vec<String> = no_curve.map(|(b, _)| b.gauge.id.clone()).collect();
        let setup = setup(rig_sheet, fastener.as_ref().map(|(f, _)| *f), desk);
        let known_by = rig_sheet.map_or(Vec::new(), |rig| known_now(rig, desk));
        if known_by != input.known_by {
            return refuse_all(Message::new("refuse-pulls-calibrated-since"));
        }
        let band = input.band.as_ref();
        let counts_gauges = band.is_some_and(|good| good.counts_gauges(&known_by));
        let beside = beside(&setup, counts_gauges);
        let judged = |pull: &OnePull| {
            let beyond = beyond(pull, &behind);
            let by = Judged {
                model,
                fastener: fastener.as_ref().map(|(f, _)| *f),
                band: band.map(|good| (&good.band, &beside)),
                is_evidence: in_date && no_curve.is_empty() && beyond.is_empty(),
            };
            let judged = judge_pull(pull, &by)?;
            Some(PullRead { beyond, ..judged })
        };
        let pulls: Vec<PullRead> = counted.iter().filter_map(|p| judged(p)).collect();
        let mut methods = vec![method_of(reading::METHOD), method_of(decision::METHOD)];
        methods.extend(band.map(|_| method_of(envelope::METHOD)));
        let tests = match (&fastener, rig_sheet) {
            (None, Some(rig)) => self.tests_of(model, (rig, &setup), &pulls, input, desk)?,
            _ => Vec::new(),
        };
        let read = PullsRead {
            phase: input.phase,
            sha256: input.sha256.clone(),
            name: file.body.name.clone(),
            rig: rig.map(|(pin, _)| pin),
            fastener: fastener.as_ref().map(|(_, pin)| PinRecord::from(pin)),
            calibrations: calibrations(&gauges, &standings),
            gauges: gauges.into_iter().map(|(pin, _)| pin).collect(),
            no_curve,
            in_date,
            found: u32::try_from(input.read.len()).unwrap_or(u32::MAX),
            faults: input.faults,
            outcome: outcome_of(&pulls),
            pulls,
            band: band.map(|good| BandUsed {
                pulls: u32::try_from(good.band.count()).unwrap_or(u32::MAX),
                share: good.band.share,
                recordings: good.recordings.iter().map(|r| r.sha256.clone()).collect(),
                counts_gauges,
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
        (rig, setup): (&Rig, &Setup),
        pulls: &[PullRead],
        input: &PullsIn,
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        let mut read = Vec::new();
        for test in &model.bench_tests {
            let Some(of_test) = OfTest::of(test, rig, setup, pulls, desk) else {
                continue;
            };
            if input.phase == Phase::AsLeft && self.turn_has_come(test).is_err() {
                continue;
            }
            // A cell that does not reach the full pull recorded none: what was lost under less answers nothing.
            let cell = desk.shelf.gauge_in_force(&rig.load_cell);
            let reaches = |kn: f64| cell.is_some_and(|cell| cell.reaches(kn, Unit::Kilonewton));
            if model.force_behind(test).is_some() && !reaches(model.full_pull_kn()) {
                continue;
            }
            read.push(of_test.read(test, input.phase, desk)?.into());
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

/// The calibrations on the record among `standings`.
fn calibrations(gauges: &[(PinRecord, &Gauge)], standings: &[Standing]) -> Vec<PullsCorrected> {
    let all = gauges.iter().zip(standings);
    all.filter_map(|((pin, _), standing)| {
        Some(PullsCorrected {
            gauge: pin.id.clone(),
            number: standing.calibration?.number,
        })
    })
    .collect()
}

/// What load cell and displacement sensor give, in this order.
const UNITS: [Unit; 2] = [Unit::Kilonewton, Unit::Millimetre];

fn behind<'a>(gauges: &[(PinRecord, &'a Gauge)], standings: &[Standing<'a>]) -> Vec<Behind<'a>> {
    let all = gauges.iter().zip(standings);
    let one = all.map(|((_, gauge), standing)| Behind {
        gauge,
        calibration: standing.calibration,
    });
    one.collect()
}

/// Ids of the gauges that the pull went beyond: what they show at rest included, they do not read as far, or their
/// calibrations have no points about it.
fn beyond(pull: &OnePull, behind: &[Behind]) -> Vec<String> {
    let Ok(reading) = &pull.reading else {
        return Vec::new();
    };
    let (peak, zero) = (reading.features.peak_raw_kn, reading.told.zero_kn);
    let (home, stroke) = (reading.told.home_mm, reading.features.stroke_mm.value);
    let all = behind.iter().zip(UNITS);
    let beyond = all.filter(|(behind, unit)| {
        // Without a curve nothing is decided, whatever it reached.
        behind.known(*unit).is_some_and(|known| match unit {
            Unit::Kilonewton => {
                let shown = FromRest::new(known.deviations, *unit).shown(peak);
                !(behind.reads_to(*unit, shown)
                    && behind.reads_to(*unit, zero + shown)
                    && behind.has_points_about(*unit, peak))
            }
            // From the sensor's own zero, wherever home lies on it.
            _ => [home, home + stroke].into_iter().any(|at| {
                let shown = behind.indicated(*unit, at);
                !(behind.reads_to(*unit, shown) && behind.has_way_to(*unit, at))
            }),
        })
    });
    beyond.map(|(behind, _)| behind.gauge.id.clone()).collect()
}
