//! `pull-reading`, `pull-envelope`

use calc::decision::Verdict;
use calc::pull::envelope::{self, Envelope};
use calc::pull::reading::{
    self, Ending, Fastener, Features, Filter, Phase, Reading, Setup, Value, read_pull,
};
use calc::pull::recording::RecordedPull;
use calc::working::{Method, Working};

use crate::MethodError;
use crate::card::Contract;
use crate::shape::{NotNegative, Share, choices, contract};

choices! {
    /// How the fastener sets.
    enum FastenerIn of Fastener {
        "break-lockbolt" => Fastener::BreakLockbolt,
        "stop-lockbolt" => Fastener::StopLockbolt,
        "blind-rivet" => Fastener::BlindRivet,
        "rivet-nut" => Fastener::RivetNut,
    }
}

choices! {
    /// What is done against noise.
    enum FilterIn of Filter { "usual" => Filter::Usual, "none" => Filter::None, }
}

choices! {
    /// How the pull ended.
    enum EndingOut of Ending {
        "break" => Ending::Break,
        "stop" => Ending::Stop,
        "unknown" => Ending::Unknown,
    }
}

choices! {
    /// A phase.
    enum PhaseOut of Phase {
        "take-up" => Phase::TakeUp,
        "pull-up" => Phase::PullUp,
        "form" => Phase::Form,
        "clamp" => Phase::Clamp,
        "eject" => Phase::Eject,
    }
}

choices! {
    /// Whether the pull is like the good ones.
    enum LikeOut of Verdict {
        "accept" => Verdict::Accept,
        "undecided" => Verdict::Undecided,
        "reject" => Verdict::Reject,
    }
}

contract! {
    /// A recorded pull, from rest to rest.
    struct ReadingInput {
        /// Time of each sample.
        time_s: Vec<f64>,
        /// Stroke at each.
        stroke_mm: Vec<f64>,
        /// Force at each.
        force_kN: Vec<f64>,
        /// How the fastener sets.
        fastener: FastenerIn,
        /// What is done against noise.
        filter: FilterIn = FilterIn(Filter::Usual),
        /// Standard uncertainty of the force, from the load cell.
        force_standard_kN: NotNegative = NotNegative(0.0),
        /// Standard uncertainty of the stroke, from the displacement sensor.
        stroke_standard_mm: NotNegative = NotNegative(0.0),
    }
}

contract! {
    /// A number with its uncertainty.
    struct Known {
        /// The number.
        value: f64,
        /// Its expanded uncertainty, k = 2.
        expanded: f64,
    }
}

impl From<Value> for Known {
    fn from(found: Value) -> Self {
        Self {
            value: found.value,
            expanded: found.expanded(),
        }
    }
}

contract! {
    /// A phase as found.
    struct FoundOut {
        /// Which.
        phase: PhaseOut,
        /// Stroke from home at which it ends; of the eject on the way back.
        end_mm: Known,
        /// Energy in it.
        energy_J: Known,
    }
}

contract! {
    /// What the pull says; a number that it does not have is left out.
    struct ReadingOutput {
        /// How it ended.
        ending: EndingOut,
        /// Its phases, in order.
        phases: Vec<FoundOut>,
        /// Largest force as recorded, zero and drift off.
        peak_raw_kN: f64,
        /// Largest force behind the filter.
        peak_kN: Known,
        /// Force at which pin or mandrel parted.
        break_kN: Option<Known>,
        /// Force of the take-up.
        take_up_kN: Option<Known>,
        /// Force in the middle half of the form.
        plateau_kN: Option<Known>,
        /// Slope of the pull-up.
        stiffness_kN_mm: Option<Known>,
        /// Stroke from home.
        stroke_mm: Known,
        /// Energy up to the end of the stroke.
        energy_J: Known,
        /// Energy that did not come back when the tool let go.
        hysteresis_J: Option<Known>,
        /// Largest reverse load on the way back.
        release_kN: Option<Known>,
        /// Stroke from home at which the jaws slipped, each time.
        slips_at_mm: Vec<f64>,
        /// Mean size of the slips.
        slip_kN: Option<Known>,
        /// Rises and falls that are no slips, for each mm of stroke.
        stick_slip_per_mm: f64,
        /// Their mean size.
        stick_slip_kN: Option<Known>,
    }
}

/// A pull of columns.
fn recorded(time_s: &[f64], stroke_mm: &[f64], force_kn: &[f64]) -> RecordedPull {
    RecordedPull {
        first_line: 1,
        last_line: time_s.len() as u64,
        time_s: time_s.to_vec(),
        stroke_mm: stroke_mm.to_vec(),
        force_kn: force_kn.to_vec(),
        ..RecordedPull::default()
    }
}

fn setup(fastener: Fastener, filter: Filter, force: NotNegative, stroke: NotNegative) -> Setup {
    Setup {
        filter,
        force_u_kn: force.0,
        stroke_u_mm: stroke.0,
        ..Setup::of(fastener)
    }
}

/// The contract.
pub(crate) struct PullReading;

impl Contract for PullReading {
    const METHOD: Method = reading::METHOD;
    const SUMMARY: &'static str = "method-pull-reading";
    const FORMULA: &'static str =
        "min Σ (F − lines with free bends)²; F_max = max H(F − F₀); W = ∫ F ds";
    const NAMES: &'static [(&'static str, &'static str)] =
        &[("t", "time_s"), ("s", "stroke_mm"), ("F", "force_kN")];
    type In = ReadingInput;
    type Out = ReadingOutput;

    fn compute(input: &ReadingInput) -> Result<(ReadingOutput, Option<Working>), MethodError> {
        let pull = recorded(&input.time_s, &input.stroke_mm, &input.force_kN);
        let setup = setup(
            input.fastener.0,
            input.filter.0,
            input.force_standard_kN,
            input.stroke_standard_mm,
        );
        let found = read_pull(&pull, &setup)?;
        let working = reading::working(&found);
        Ok((told(found), Some(working)))
    }
}

fn told(found: Reading) -> ReadingOutput {
    let numbers: &Features = &found.features;
    let phases = found.phases.iter().map(|phase| FoundOut {
        phase: PhaseOut(phase.phase),
        end_mm: phase.end_mm.into(),
        energy_J: phase.energy_j.into(),
    });
    ReadingOutput {
        ending: EndingOut(found.ending),
        phases: phases.collect(),
        peak_raw_kN: numbers.peak_raw_kn,
        peak_kN: numbers.peak_kn.into(),
        break_kN: numbers.break_kn.map(Known::from),
        take_up_kN: numbers.take_up_kn.map(Known::from),
        plateau_kN: numbers.plateau_kn.map(Known::from),
        stiffness_kN_mm: numbers.stiffness_kn_mm.map(Known::from),
        stroke_mm: numbers.stroke_mm.into(),
        energy_J: numbers.energy_j.into(),
        hysteresis_J: numbers.hysteresis_j.map(Known::from),
        release_kN: numbers.release_kn.map(Known::from),
        slips_at_mm: found.slips.iter().map(|slip| slip.stroke_mm).collect(),
        slip_kN: numbers.slip_kn.map(Known::from),
        stick_slip_per_mm: numbers.stick_slip_per_mm,
        stick_slip_kN: numbers.stick_slip_kn.map(Known::from),
    }
}

contract! {
    /// A recorded pull, from rest to rest.
    struct PullIn {
        /// Time of each sample.
        time_s: Vec<f64>,
        /// Stroke at each.
        stroke_mm: Vec<f64>,
        /// Force at each.
        force_kN: Vec<f64>,
    }
}

impl PullIn {
    fn read(&self, setup: &Setup) -> Result<Reading, MethodError> {
        let pull = recorded(&self.time_s, &self.stroke_mm, &self.force_kN);
        read_pull(&pull, setup).map_err(|error| {
            let error = MethodError::from(error);
            let field = match error.field.as_str() {
                "t" => "time_s",
                "s" => "stroke_mm",
                "F" => "force_kN",
                other => other,
            };
            MethodError {
                field: field.to_owned(),
                ..error
            }
        })
    }
}

contract! {
    /// Accepted pulls, and one that is held against them.
    struct EnvelopeInput {
        /// Pulls that were accepted, five at least, alike in model, nose, fastener and grip.
        accepted: Vec<PullIn>,
        /// The pull that is held against them.
        pull: PullIn,
        /// How the fastener sets.
        fastener: FastenerIn,
        /// Share of good pulls that the band is to hold.
        share: Share = Share(0.9),
        /// What is done against noise.
        filter: FilterIn = FilterIn(Filter::Usual),
        /// Standard uncertainty of the force, where the accepted ones were recorded by another load cell.
        force_standard_kN: NotNegative = NotNegative(0.0),
        /// Standard uncertainty of the stroke, where they were recorded by another displacement sensor.
        stroke_standard_mm: NotNegative = NotNegative(0.0),
    }
}

contract! {
    /// The band, and where the pull lies.
    struct EnvelopeOutput {
        /// How many spreads wide the band is on each side.
        factor: f64,
        /// Share of good pulls that lie wholly inside, about.
        share: f64,
        /// Largest deviation of each accepted pull from the others, in spreads.
        left_out: Vec<f64>,
        /// Whether the pull is like them.
        verdict: LikeOut,
        /// Its deviation at the place that decides, in spreads.
        deviation: f64,
        /// Guard band there, in spreads.
        guard: f64,
        /// Stroke from home of that place; left out where the travel decides.
        at_mm: Option<f64>,
        /// Lowest good force at each place.
        lower_kN: Vec<f64>,
        /// Highest good force at each place.
        upper_kN: Vec<f64>,
    }
}

/// The contract.
pub(crate) struct PullEnvelope;

impl Contract for PullEnvelope {
    const METHOD: Method = envelope::METHOD;
    const SUMMARY: &'static str = "method-pull-envelope";
    const FORMULA: &'static str =
        "d = max |f − m| / s; k = ⌈(n + 1) p⌉-th smallest d, one left out";
    const NAMES: &'static [(&'static str, &'static str)] =
        &[("n", "accepted"), ("p", "share"), ("phases", "accepted")];
    type In = EnvelopeInput;
    type Out = EnvelopeOutput;

    fn compute(input: &EnvelopeInput) -> Result<(EnvelopeOutput, Option<Working>), MethodError> {
        let setup = setup(
            input.fastener.0,
            input.filter.0,
            input.force_standard_kN,
            input.stroke_standard_mm,
        );
        let read = |(i, pull): (usize, &PullIn)| {
            pull.read(&setup).map_err(|e| e.item(i).under("accepted"))
        };
        let accepted: Vec<Reading> = input
            .accepted
            .iter()
            .enumerate()
            .map(read)
            .collect::<Result<_, _>>()?;
        let accepted: Vec<&Reading> = accepted.iter().collect();
        let band = Envelope::of(&accepted, input.share.0)?;
        let pull = input.pull.read(&setup).map_err(|e| e.under("pull"))?;
        let compared = band.compare(&pull, &setup).map_err(|e| {
            let error = MethodError::from(e);
            MethodError {
                field: "pull".to_owned(),
                ..error
            }
        })?;
        let edges = band.band();
        let out = EnvelopeOutput {
            factor: band.k,
            share: band.share,
            left_out: band.left_out.clone(),
            verdict: LikeOut(compared.verdict),
            deviation: compared.deviation,
            guard: compared.guard,
            at_mm: compared.worst_mm,
            lower_kN: edges.iter().map(|edge| edge.lower_kn).collect(),
            upper_kN: edges.iter().map(|edge| edge.upper_kn).collect(),
        };
        Ok((out, Some(band.working(&compared))))
    }
}
