//! `troubleshooting-policy`, `next-check`

use std::collections::BTreeMap;

use calc::fault_finder::{
    Bench, Effort, First, Look, Repairs, Says, Task, advice_working, advise, best_plan, exact,
    look_ahead,
};
use calc::working::{Method, Working};

use super::fault_posterior::no_strangers;
use crate::card::Contract;
use crate::shape::{NotNegative, Share, contract};
use crate::{MethodError, Why};

contract! {
    /// A repair.
    struct RepairIn {
        /// What it costs.
        cost: NotNegative,
        /// Place of the fault that it mends, from 0.
        fixes: u64,
    }
}

contract! {
    /// A test that can err. It is made once at most.
    struct TestIn {
        /// What it costs.
        cost: NotNegative,
        /// Chance that it is positive, for each fault.
        p_positive_given_fault: Vec<Share>,
    }
}

contract! {
    /// Faults of which exactly one is there, their repairs, and tests. Costs in any currency.
    struct PolicyInput {
        /// Weight of each fault, on any scale; eight at most.
        probabilities: Vec<NotNegative>,
        /// Repairs by name, one for each fault. One that does not help costs its price.
        repairs: BTreeMap<String, RepairIn>,
        /// Tests by name; eight at most.
        tests: BTreeMap<String, TestIn>,
    }
}

contract! {
    /// The best plan.
    struct PolicyOutput {
        /// Its expected cost.
        expected_cost: f64,
        /// The test or repair to begin with.
        first_step: String,
        /// Expected cost of the best plan without a test.
        cost_without_tests: f64,
    }
}

/// The contract.
pub(crate) struct TroubleshootingPolicy;

impl Contract for TroubleshootingPolicy {
    const METHOD: Method = exact::METHOD;
    const SUMMARY: &'static str = "method-troubleshooting-policy";
    const FORMULA: &'static str =
        "V = min(r + (1 − p) · V(not helped), c + P(yes) · V(yes) + P(no) · V(no))";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("p", "probabilities"),
        ("cost", "tests"),
        ("looks", "tests"),
    ];
    type In = PolicyInput;
    type Out = PolicyOutput;

    fn compute(input: &PolicyInput) -> Result<(PolicyOutput, Option<Working>), MethodError> {
        let count = input.probabilities.len();
        let mut named: Vec<Option<(&String, f64)>> = vec![None; count];
        for (name, repair) in &input.repairs {
            let place = usize::try_from(repair.fixes).ok();
            let free = place.and_then(|i| named.get_mut(i)).filter(|n| n.is_none());
            let Some(free) = free else {
                let field = format!("repairs.{name}.fixes");
                let allowed = "one repair for each fault".to_owned();
                let why = Why::NotAllowed { allowed };
                return Err(MethodError::at(field, repair.fixes, why));
            };
            *free = Some((name, repair.cost.0));
        }
        let named: Vec<(&String, f64)> = named.into_iter().flatten().collect();
        if named.len() != count {
            let (have, need) = (named.len(), count);
            return Err(MethodError::at("repairs", "", Why::Count { have, need }));
        }
        let mut looks = Vec::with_capacity(input.tests.len());
        for (name, test) in &input.tests {
            let (have, need) = (test.p_positive_given_fault.len(), count);
            if have != need {
                let field = format!("tests.{name}.p_positive_given_fault");
                return Err(MethodError::at(field, "", Why::Count { have, need }));
            }
            let chances = test.p_positive_given_fault.iter().enumerate();
            looks.push(Look {
                cost: test.cost.0,
                state: 0,
                otherwise: 0.0,
                says: chances
                    .map(|(cause, yes)| Says { cause, yes: yes.0 })
                    .collect(),
            });
        }
        let repairs = Repairs {
            costs: named.iter().map(|(_, cost)| *cost).collect(),
            proof: 0.0,
            come_back: 0.0,
        };
        let weights: Vec<f64> = input.probabilities.iter().map(|p| p.0).collect();
        let task = Task::new(&weights, repairs, looks, Bench::one_state())?;
        let best = best_plan(&task)?;
        let first = match best.first {
            First::Look(look) => input.tests.keys().nth(look),
            First::Repair(cause) => named.get(cause).map(|(name, _)| *name),
        };
        let out = PolicyOutput {
            expected_cost: best.expected,
            first_step: first.cloned().unwrap_or_default(),
            cost_without_tests: best.repair_now,
        };
        Ok((out, None))
    }
}

contract! {
    /// A check that can be made, once at most.
    struct CheckIn {
        /// What it costs.
        cost: NotNegative,
        /// Chance of a yes for each fault that it is about.
        yes: BTreeMap<String, Share>,
        /// Chance of a yes for any other fault: its false alarm.
        otherwise: Share,
    }
}

contract! {
    /// Faults of which exactly one is there, their repairs, and checks. Costs in any currency.
    struct NextInput {
        /// Weight of each fault now, on any scale.
        weights: BTreeMap<String, NotNegative>,
        /// Cost of the repair of each fault.
        repairs: BTreeMap<String, NotNegative>,
        /// Cost of the proof test after a repair.
        proof: NotNegative = NotNegative(0.0),
        /// What a repair that did not help costs beside its price.
        come_back: NotNegative = NotNegative(0.0),
        /// The checks that can be made.
        checks: BTreeMap<String, CheckIn>,
    }
}

contract! {
    /// What to do next.
    struct NextOutput {
        /// The check to make; left out where repairing costs less.
        check: Option<String>,
        /// Faults in the order in which they would be repaired without another check.
        order: Vec<String>,
        /// Expected cost of the plan that was found.
        expected_cost: f64,
        /// Expected cost of repairing in that order without another check.
        repair_now: f64,
        /// Checks that save more than they cost, with what they save.
        saves: BTreeMap<String, f64>,
    }
}

/// The contract.
pub(crate) struct NextCheck;

impl Contract for NextCheck {
    const METHOD: Method = look_ahead::METHOD;
    const SUMMARY: &'static str = "method-next-check";
    const FORMULA: &'static str = "V = min(Σ p · D − b, r + t + (1 − p) · (b + V(not helped)), c + P(yes) · V(yes) + P(no) · V(no)); D = Σ (r + t + b), causes by falling p / (r + t + b)";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("p", "weights"),
        ("cost", "checks"),
        ("probabilities", "weights"),
    ];
    type In = NextInput;
    type Out = NextOutput;

    fn compute(input: &NextInput) -> Result<(NextOutput, Option<Working>), MethodError> {
        no_strangers("repairs", input.repairs.keys(), &input.weights)?;
        let mut costs = Vec::with_capacity(input.weights.len());
        for fault in input.weights.keys() {
            let Some(cost) = input.repairs.get(fault) else {
                let field = format!("repairs.{fault}");
                return Err(MethodError::at(field, "", Why::Missing));
            };
            costs.push(cost.0);
        }
        let mut looks = Vec::with_capacity(input.checks.len());
        for (name, check) in &input.checks {
            let field = format!("checks.{name}.yes");
            no_strangers(&field, check.yes.keys(), &input.weights)?;
            let says = |(cause, fault): (usize, &String)| {
                let yes = check.yes.get(fault)?.0;
                Some(Says { cause, yes })
            };
            looks.push(Look {
                cost: check.cost.0,
                state: 0,
                otherwise: check.otherwise.0,
                says: input.weights.keys().enumerate().filter_map(says).collect(),
            });
        }
        let repairs = Repairs {
            costs,
            proof: input.proof.0,
            come_back: input.come_back.0,
        };
        let weights: Vec<f64> = input.weights.values().map(|w| w.0).collect();
        let task = Task::new(&weights, repairs, looks, Bench::one_state())?;
        let advice = advise(&task, Effort::default());
        let faults: Vec<&String> = input.weights.keys().collect();
        let checks: Vec<&String> = input.checks.keys().collect();
        let saves = advice.looks.iter().map(|worth| {
            let saved = advice.repair_first - worth.expected;
            (checks[worth.look].clone(), saved)
        });
        let out = NextOutput {
            check: match advice.first {
                First::Look(look) => Some(checks[look].clone()),
                First::Repair(_) => None,
            },
            order: advice.order.iter().map(|i| faults[*i].clone()).collect(),
            expected_cost: advice.expected,
            repair_now: advice.repair_now,
            saves: saves.collect(),
        };
        Ok((out, Some(advice_working(&task, &advice, ""))))
    }
}
