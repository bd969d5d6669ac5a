//! What to do next: the check, or the mending, that costs least until the tool works.
//!
//! A check costs its minutes of labour and what it takes to bring the tool into its state; mending costs
//! parts and labour; mending what was not the fault costs a come-back. Plans some steps ahead.

use calc::fault_finder::{
    Advice, Bench, Effort, First, Look, Repairs, Task, Worth, advice_working, advise_in_time,
    look_working,
};
use calc::working::Working;
use rust_decimal::prelude::ToPrimitive;

use super::network::Network;
use super::{Diagnosis, Forbidden, Seen, is_open};
use crate::route;
use crate::sheet::{Cause, Check, Drive, FaultModel, ShopCard, ToolModel, ToolState};

/// Minutes of mending where neither sheet says more. Common practice, no source.
const MENDING_MINUTES: f64 = 15.0;
/// Minutes of finding and mending something that is not in the list. Common practice, no source.
const UNLISTED_MINUTES: f64 = 120.0;
/// Minutes of the proof after a mending. Common practice, no source.
const PROOF_MINUTES: f64 = 20.0;
/// A job that comes back costs so many minutes of labour beside its price. Common practice, no source.
const COME_BACK_MINUTES: f64 = 180.0;
/// Minutes to take energy off a tool, or to put it on. Common practice, no source.
const SAFE_MINUTES: f64 = 1.0;
/// Minutes to put a tool under load: rig, plates. Common practice, no source.
const RIG_MINUTES: f64 = 4.0;
/// Minutes to open a tool, or to close it again. Common practice, no source.
const STRIP_MINUTES: f64 = 15.0;

/// What a page reckons with: the plan is then a few per cent dearer than with all effort, and there at once.
pub const EFFORT: Effort = Effort {
    evaluations: 300,
    breadth: 4,
    depth: 12,
};

/// What work costs, in the shop's currency.
#[derive(Clone, Debug, PartialEq)]
pub struct Costs<'a> {
    /// Currency, ISO 4217.
    pub currency: &'a str,
    /// A minute of labour.
    pub minute: f64,
    model: &'a ToolModel,
}

impl<'a> Costs<'a> {
    /// As `shop` prices its labour and `model` its parts.
    pub fn of(shop: &'a ShopCard, model: &'a ToolModel) -> Self {
        Self {
            currency: &shop.currency,
            minute: shop.labour_per_hour.to_f64().unwrap_or(0.0) / 60.0,
            model,
        }
    }

    /// Mending `cause`: its parts, and the labour to reach and change them.
    fn mending(&self, cause: &Cause) -> f64 {
        let parts = self.model.parts.iter();
        let parts = parts.filter(|part| cause.parts.iter().any(|id| part.is(id)));
        let prices = parts.clone().map(|part| part.price.to_f64().unwrap_or(0.0));
        let ids: Vec<&str> = parts.map(|part| part.id.as_str()).collect();
        let route = route::to(self.model, &ids).map_or(0.0, |route| route.minutes());
        let minutes = cause.minutes.unwrap_or(route.max(MENDING_MINUTES));
        prices.sum::<f64>() + minutes * self.minute
    }

    /// Minutes to strip the tool as far as `check` asks for.
    fn depth(&self, check: &Check) -> f64 {
        let wanted = check.stripped_to.as_ref();
        let part = wanted.and_then(|id| self.model.part_called(id));
        let there_and_back = part.and_then(|part| route::minutes(self.model, &part.id));
        there_and_back.map_or(STRIP_MINUTES, |minutes| minutes / 2.0)
    }
}

/// What to do first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Step<'a> {
    /// Make this check.
    Look(&'a Check),
    /// Mend this cause; `None` for something not in the list.
    Mend(Option<&'a Cause>),
}

/// A check that saves more than it costs.
#[derive(Clone, Debug, PartialEq)]
pub struct Paying<'a> {
    /// The check.
    pub check: &'a Check,
    /// What it saves on the mean against mending the first cause at once.
    pub saves: f64,
    /// How that was reckoned.
    pub working: Working,
}

/// What to do next, and why.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan<'a> {
    /// What to do first.
    pub step: Step<'a>,
    /// The cause that would be mended first without another check; `None` for something not in the list.
    pub mend_first: Option<&'a Cause>,
    /// Expected cost until the tool works.
    pub expected: f64,
    /// Checks that pay, the best first.
    pub paying: Vec<Paying<'a>>,
    /// The time was up before all was reckoned that the effort allows.
    pub out_of_time: bool,
    /// How the first step was reckoned.
    pub working: Working,
}

/// The plan after `found`, reckoned with `effort`; `None` where the numbers do not make one.
pub fn plan<'a>(
    faults: &'a FaultModel,
    drive: Drive,
    seen: &Seen,
    found: &Diagnosis<'a>,
    costs: &Costs,
    effort: Effort,
) -> Option<Plan<'a>> {
    plan_in_time(faults, drive, seen, found, costs, (effort, &|| true))
}

/// The same, looking ahead with `effort` as long as the other says that there is time.
pub fn plan_in_time<'a>(
    faults: &'a FaultModel,
    drive: Drive,
    seen: &Seen,
    found: &Diagnosis<'a>,
    costs: &Costs,
    (effort, in_time): (Effort, &dyn Fn() -> bool),
) -> Option<Plan<'a>> {
    let network = Network::of(faults, drive, seen)?;
    let checks = network.checks.iter().enumerate();
    let forbidden = Forbidden {
        energy: found.no_energy,
        load: found.no_energy || found.no_load,
    };
    let open: Vec<(usize, &Check)> = checks
        .filter(|(_, check)| is_open(check, seen, forbidden))
        .map(|(place, check)| (place, *check))
        .collect();
    let lies_open = seen.lies_open.iter().filter_map(|id| faults.check(id));
    let lies_open: Vec<&Check> = lies_open.collect();
    let depths = open
        .iter()
        .map(|(_, check)| *check)
        .chain(lies_open.clone());
    let states = States::of(depths, costs);
    let now = states.now(seen.opened, &lies_open, costs);
    let looks = open.iter().map(|(place, check)| {
        let state = states.place(check, costs).unwrap_or(now);
        Look::of(
            network.question(*place),
            check.minutes * costs.minute,
            state,
        )
    });
    let repairs = Repairs {
        costs: network
            .causes
            .iter()
            .map(|cause| cause.map_or(UNLISTED_MINUTES * costs.minute, |c| costs.mending(c)))
            .collect(),
        proof: PROOF_MINUTES * costs.minute,
        come_back: COME_BACK_MINUTES * costs.minute,
    };
    let bench = states.bench(now, costs.minute);
    let task = Task::new(&found.shares, repairs, looks.collect(), bench).ok()?;
    let advice = advise_in_time(&task, effort, in_time);
    let paying = |worth: &Worth| Paying {
        check: open[worth.look].1,
        saves: advice.repair_first - worth.expected,
        working: look_working(&advice, worth, ""),
    };
    Some(Plan {
        step: match advice.first {
            First::Look(look) => Step::Look(open[look].1),
            First::Repair(cause) => Step::Mend(network.causes[cause]),
        },
        mend_first: first_of(&advice).and_then(|place| network.causes[place]),
        expected: advice.expected,
        paying: advice.looks.iter().map(paying).collect(),
        out_of_time: advice.out_of_time,
        working: advice_working(&task, &advice, ""),
    })
}

fn first_of(advice: &Advice) -> Option<usize> {
    advice.order.first().copied()
}

/// States of the tool by their place in what it costs to change them; those in which it is stripped follow, the
/// least deep first.
const NO_ENERGY: usize = 0;
const ENERGISED: usize = 1;
const LOADED: usize = 2;
const STRIPPED: usize = 3;

/// The states that checks ask for.
struct States {
    /// Minutes to strip the tool so far, and to close it again.
    depths: Vec<f64>,
}

impl States {
    fn of<'a>(checks: impl Iterator<Item = &'a Check>, costs: &Costs) -> Self {
        let stripped = checks.filter(|check| check.state == ToolState::StrippedNoEnergy);
        let mut depths: Vec<f64> = stripped.map(|check| costs.depth(check)).collect();
        depths.sort_by(f64::total_cmp);
        depths.dedup();
        if depths.is_empty() {
            depths.push(STRIP_MINUTES);
        }
        Self { depths }
    }

    /// The state that the tool is in. One that is opened lies open as far as any check asks for; one that was looked into,
    /// as far as the deepest of those checks asked for.
    fn now(&self, opened: bool, lies_open: &[&Check], costs: &Costs) -> usize {
        if opened {
            return STRIPPED + self.depths.len() - 1;
        }
        let places = lies_open
            .iter()
            .filter_map(|check| self.place(check, costs));
        places.max().unwrap_or(NO_ENERGY)
    }

    /// The state that a check asks for; `None` where it asks for none.
    fn place(&self, check: &Check, costs: &Costs) -> Option<usize> {
        match check.state {
            ToolState::RecordOnly => None,
            ToolState::NoEnergy => Some(NO_ENERGY),
            ToolState::Energised => Some(ENERGISED),
            ToolState::EnergisedLoaded => Some(LOADED),
            ToolState::StrippedNoEnergy => {
                let depth = costs.depth(check);
                let mut depths = self.depths.iter();
                Some(STRIPPED + depths.position(|d| *d == depth)?)
            }
        }
    }

    /// Minutes from one state to another.
    fn minutes(&self, from: usize, to: usize) -> f64 {
        let depth = |state: usize| match state.checked_sub(STRIPPED) {
            Some(place) => self.depths[place],
            None => 0.0,
        };
        let has_energy = |state| state == ENERGISED || state == LOADED;
        let energy = match has_energy(from) == has_energy(to) {
            true => 0.0,
            false => SAFE_MINUTES,
        };
        let rig = match to == LOADED && from != LOADED {
            true => RIG_MINUTES,
            false => 0.0,
        };
        // What is on the way to a deeper part lies open already.
        let strip = match to >= STRIPPED {
            true => (depth(to) - depth(from)).max(0.0),
            false => depth(from),
        };
        strip + energy + rig
    }

    /// The tool on the bench: what it costs to bring it from state to state.
    fn bench(&self, state: usize, minute: f64) -> Bench {
        let all = 0..STRIPPED + self.depths.len();
        let row = |from: usize| {
            let to = all.clone().map(|to| self.minutes(from, to) * minute);
            to.collect()
        };
        Bench {
            state,
            change: all.clone().map(row).collect(),
            // Looks that energy forbids are not among the open ones.
            forbidden: vec![false; all.len()],
        }
    }
}
