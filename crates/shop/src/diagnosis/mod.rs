//! Which cause is likely, and what to look at next.
//!
//! Up to three faults at once are weighed exactly: symptoms speak through noisy-OR with the sheet's leak,
//! checks with their false alarm. "Something not in the list" is always one of the causes. A symptom that
//! nobody looked for says nothing; one that was looked for and is not there speaks against the causes that
//! show it. What to do next is chosen by what it costs until the tool works ([`plan`](mod@plan)).

mod alike;
mod network;
pub mod plan;
mod seen;
pub mod simulate;

use calc::fault_finder::{Faults, Observation, posterior, posterior_working, stumbling_block};
use calc::information;
use calc::working::{Working, fixed};
use calc::{Message, fault_finder};

use crate::sheet::{Cause, Check, Drive, FaultModel, ToolState};
use network::Network;

pub use alike::{Alike, alike};
pub use plan::{Costs, Plan, Step, plan, plan_in_time};
pub use seen::Seen;

/// Least that a check must be expected to tell, bits.
const LEAST_BITS: f64 = 1e-6;

/// Bits below which a check is not asked for beside another. Common practice, no source.
const LEAST_BESIDE: f64 = 0.01;

/// A cause with its probability.
#[derive(Clone, Debug, PartialEq)]
pub struct Ranked<'a> {
    /// The cause; `None` for something not in the list.
    pub cause: Option<&'a Cause>,
    /// Probability that it is there, alone or with others.
    pub probability: f64,
    /// What each piece of evidence adds to its log-odds, strongest first: in favour above 0.
    pub why: Vec<(Evidence<'a>, f64)>,
    /// How the probability was reckoned.
    pub working: Working,
}

/// A piece of evidence.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Evidence<'a> {
    /// A symptom, there or not.
    Symptom(&'a str, bool),
    /// A check and its answer.
    Check(&'a Check, bool),
    /// How likely the part whose wear would be the cause is beyond its limit.
    Worn(&'a Cause, f64),
}

/// A check that was not made, and what it is expected to tell.
#[derive(Clone, Debug, PartialEq)]
pub struct OpenCheck<'a> {
    /// The check.
    pub check: &'a Check,
    /// Bits about which cause it is, if it is one.
    pub bits: f64,
}

/// What the evidence says.
#[derive(Clone, Debug, PartialEq)]
pub struct Diagnosis<'a> {
    /// Causes, most likely first.
    pub ranked: Vec<Ranked<'a>>,
    /// The likeliest causes together, if more than one at once is likelier than any alone.
    pub together: Vec<Option<&'a Cause>>,
    /// Checks not yet made that tell something, most bits per minute first.
    pub open: Vec<OpenCheck<'a>>,
    /// Nothing may put energy on the tool, so energised checks are left out.
    pub no_energy: bool,
    /// It was cleared for dry cycles, so checks under load are left out.
    pub no_load: bool,
    /// The observation that does not go with the others, where they contradict each other.
    pub odd: Option<Evidence<'a>>,
    /// For each cause of the network, its share as the one fault that is sought.
    shares: Vec<f64>,
}

impl<'a> Diagnosis<'a> {
    /// What is looked at in one go with `check`, because the hands hold it already: open checks of its visit that tell
    /// enough, most bits per minute first.
    pub fn beside(&self, check: &Check) -> impl Iterator<Item = &'a Check> {
        let of_visit = self.open.iter().filter(move |open| {
            let visit = open.check.visit.as_ref();
            visit.is_some() && visit == check.visit.as_ref() && open.check.id != check.id
        });
        of_visit
            .filter(|open| open.bits > LEAST_BESIDE)
            .map(|open| open.check)
    }
}

/// Weighs the causes that occur on `drive`. `None` if the evidence rules everything out.
pub fn diagnose<'a>(faults: &'a FaultModel, drive: Drive, seen: &Seen) -> Option<Diagnosis<'a>> {
    let network = Network::of(faults, drive, seen)?;
    let (evidence, observations): (Vec<Evidence>, Vec<Observation>) =
        network.observed(seen).into_iter().unzip();
    let found = posterior(&network.model, &observations, Faults::Three).ok()?;
    let ranked: Vec<Ranked> = found
        .ranked()
        .into_iter()
        .map(|place| Ranked {
            cause: network.causes[place],
            probability: found.causes[place],
            why: strongest_first(&evidence, &found.why[place]),
            working: basis(faults, posterior_working(&network.model, &found, place)),
        })
        .collect();
    let likeliest = found.sets.first().filter(|set| set.causes.len() > 1);
    let shares = shares(&network, &observations, &found)?;
    let forbidden = Forbidden {
        energy: seen.no_energised_look(faults),
        load: seen.no_energy(faults),
    };
    Some(Diagnosis {
        ranked,
        together: likeliest.map_or(Vec::new(), |set| {
            set.causes.iter().map(|i| network.causes[*i]).collect()
        }),
        open: open_checks(&network, &shares, seen, forbidden),
        no_energy: forbidden.energy,
        no_load: forbidden.load && !forbidden.energy,
        odd: found.conflict.odd().map(|place| evidence[place]),
        shares,
    })
}

/// The observation that stands against all others, where together they rule everything out: [`diagnose`] says nothing
/// then.
pub fn ruled_out<'a>(faults: &'a FaultModel, drive: Drive, seen: &Seen) -> Option<Evidence<'a>> {
    let network = Network::of(faults, drive, seen)?;
    let (evidence, observations): (Vec<Evidence>, Vec<Observation>) =
        network.observed(seen).into_iter().unzip();
    let place = stumbling_block(&network.model, &observations, Faults::Three)?;
    evidence.get(place).copied()
}

/// What the numbers of a working rest on.
fn basis(faults: &FaultModel, working: Working) -> Working {
    let working = working.note(
        Message::new("note-fault-basis")
            .with("basis", faults.basis.as_str())
            .number("at_once", faults.at_once, 2),
    );
    let Some(own) = faults.own else {
        return working;
    };
    let learned = Message::new("note-fault-learned")
        .with("jobs", own.jobs)
        .with("pins", own.pins);
    working.note(learned)
}

/// Shares of the causes for a plan that seeks one fault. Where several at once are likelier than one, a
/// reckoning that knows one fault only would be led astray: their marginals serve better.
fn shares(
    network: &Network,
    observations: &[Observation],
    found: &fault_finder::Posterior,
) -> Option<Vec<f64>> {
    let weights = match found.number.first() {
        Some(one) if *one >= 0.5 => {
            posterior(&network.model, observations, Faults::One)
                .ok()?
                .causes
        }
        _ => found.causes.clone(),
    };
    let sum: f64 = weights.iter().sum();
    Some(weights.into_iter().map(|w| w / sum).collect())
}

fn strongest_first<'a>(evidence: &[Evidence<'a>], weights: &[f64]) -> Vec<(Evidence<'a>, f64)> {
    let mut why: Vec<(Evidence, f64)> = evidence
        .iter()
        .copied()
        .zip(weights.iter().copied())
        .collect();
    why.sort_by(|a, b| b.1.abs().total_cmp(&a.1.abs()));
    why
}

/// Whether `check` may be made now and was not made yet.
fn is_open(check: &Check, seen: &Seen, forbidden: Forbidden) -> bool {
    let was_made = seen.checks.contains_key(&check.id);
    // An opened tool runs again at its first power-up, not for a look.
    let no_energy = (forbidden.energy || seen.opened) && check.state.energised();
    let no_load = forbidden.load && check.state == ToolState::EnergisedLoaded;
    !was_made && !no_energy && !no_load
}

/// What may not be done to the tool to find its fault.
#[derive(Clone, Copy)]
struct Forbidden {
    energy: bool,
    load: bool,
}

fn open_checks<'a>(
    network: &Network<'a>,
    shares: &[f64],
    seen: &Seen,
    forbidden: Forbidden,
) -> Vec<OpenCheck<'a>> {
    let checks = network.checks.iter().enumerate();
    let mut open: Vec<OpenCheck> = checks
        .filter(|(_, check)| is_open(check, seen, forbidden))
        .map(|(place, check)| {
            let question = network.question(place);
            let yes: Vec<f64> = (0..shares.len()).map(|i| question.yes_alone(i)).collect();
            OpenCheck {
                check,
                bits: information::expected(shares, &yes).bits,
            }
        })
        .filter(|open| open.bits > LEAST_BITS)
        .collect();
    let per_minute = |open: &OpenCheck| open.bits / open.check.minutes;
    open.sort_by(|a, b| per_minute(b).total_cmp(&per_minute(a)));
    open
}

/// A probability as a whole percentage; below 1 and above 99 no more is said than that.
pub fn percent(p: f64) -> String {
    if p < 0.01 {
        "<1 %".to_owned()
    } else if p > 0.99 {
        ">99 %".to_owned()
    } else {
        format!("{} %", fixed(p * 100.0, 0))
    }
}
