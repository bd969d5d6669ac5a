//! What advice must hold: nothing useless, nothing forbidden, near the best plan, and by ratio where that
//! is provably best.

use proptest::prelude::*;

use super::*;
use crate::fault_finder::task::{Bench, Look, Repairs, Says};
use crate::fault_finder::{best_plan, inspect_or_repair};

fn look(cost: f64, otherwise: f64, says: &[(usize, f64)]) -> Look {
    let says = says.iter().map(|(cause, yes)| Says {
        cause: *cause,
        yes: *yes,
    });
    Look {
        cost,
        state: 0,
        otherwise,
        says: says.collect(),
    }
}

fn repairs(costs: &[f64], come_back: f64) -> Repairs {
    Repairs {
        costs: costs.to_vec(),
        proof: 0.0,
        come_back,
    }
}

fn task(weights: &[f64], repairs: Repairs, looks: Vec<Look>) -> Task {
    Task::new(weights, repairs, looks, Bench::one_state()).expect("fine")
}

#[test]
fn three_faults_and_two_tests() {
    // Exact dynamic programming in numpy 2.4.6, recorded in checks/troubleshooting-policy.toml.
    let pressure = look(5.0, 0.95, &[(1, 0.1), (2, 0.05)]);
    let leak = look(4.0, 0.05, &[(1, 0.9), (2, 0.2)]);
    let task = task(
        &[0.4, 0.35, 0.25],
        repairs(&[30.0, 50.0, 80.0], 0.0),
        vec![pressure, leak],
    );
    let advice = advise(&task, Effort::default());
    assert_eq!(advice.first, First::Look(1));
    assert!((advice.expected - 66.25).abs() < 1e-9, "{advice:?}");
    assert!((advice.repair_now - 80.0).abs() < 1e-9);
    let best = best_plan(&task).expect("small");
    assert!((best.expected - 66.25).abs() < 1e-9, "{best:?}");
}

#[test]
fn looks_that_help_only_together_are_found_by_looking_ahead() {
    // One yes makes the second cause 1.4 times as likely, which leaves the first in front (0.6 to 0.4); two
    // make it 1.96 times as likely, which does not.
    let looks = vec![look(0.2, 0.4, &[(1, 0.56)]); 2];
    let task = task(&[0.6, 0.4], repairs(&[20.0; 2], 100.0), looks);
    assert!(matches!(
        advise(&task, Effort::ONE_STEP).first,
        First::Repair(0)
    ));
    let ahead = advise(&task, Effort::default());
    assert!(matches!(ahead.first, First::Look(_)), "{ahead:?}");
    let best = best_plan(&task).expect("small");
    assert!(
        (ahead.expected - best.expected).abs() < 1e-9,
        "{ahead:?} {best:?}"
    );
}

#[test]
fn what_a_forbidden_state_needs_is_not_proposed() {
    let mut dry = look(0.1, 0.02, &[(0, 0.98)]);
    dry.state = 1;
    let mut bench = Bench {
        state: 0,
        change: vec![vec![0.0, 1.0], vec![1.0, 0.0]],
        forbidden: vec![false, false],
    };
    let made = |bench: Bench| {
        let repairs = repairs(&[50.0, 50.0], 50.0);
        let task = Task::new(&[0.5, 0.5], repairs, vec![dry.clone()], bench).expect("fine");
        advise(&task, Effort::default())
    };
    let allowed = made(bench.clone());
    assert_eq!(allowed.first, First::Look(0));
    // Bringing the tool into the other state is paid once.
    assert!((allowed.looks[0].cost - 1.1).abs() < 1e-12);
    bench.forbidden[1] = true;
    let advice = made(bench);
    assert!(matches!(advice.first, First::Repair(_)));
    assert_eq!(advice.looks, []);
}

#[test]
fn looks_in_one_state_are_made_together() {
    // Three looks of the same worth; the one in the present state comes first.
    let mut looks = vec![look(2.0, 0.05, &[(0, 0.9)]); 2];
    looks[0].state = 1;
    let bench = Bench {
        state: 0,
        change: vec![vec![0.0, 5.0], vec![5.0, 0.0]],
        forbidden: vec![false, false],
    };
    let task = Task::new(&[0.5, 0.5], repairs(&[50.0, 60.0], 80.0), looks, bench).expect("fine");
    assert_eq!(advise(&task, Effort::default()).first, First::Look(1));
}

#[test]
fn a_certain_cause_is_repaired() {
    let task = task(
        &[1.0, 0.0],
        repairs(&[10.0, 1.0], 5.0),
        vec![look(0.0, 0.1, &[(0, 0.9)])],
    );
    let advice = advise(&task, Effort::default());
    assert_eq!(advice.first, First::Repair(0));
    assert!((advice.expected - 10.0).abs() < 1e-9);
}

fn any_task() -> impl Strategy<Value = Task> {
    let weights = prop::collection::vec(0.02..1.0f64, 4);
    let costs = prop::collection::vec(1.0..100.0f64, 4);
    let yes = prop::collection::vec(prop::option::of(0.0..1.0f64), 16);
    let prices = prop::collection::vec((0.0..15.0f64, 0.0..0.3f64), 4);
    (weights, costs, yes, prices, 0.0..100.0f64).prop_map(|(weights, costs, yes, prices, b)| {
        let looks = prices.iter().enumerate().map(|(j, (cost, otherwise))| {
            let says: Vec<_> = (0..4).filter_map(|i| Some((i, yes[j * 4 + i]?))).collect();
            look(*cost, *otherwise, &says)
        });
        task(&weights, repairs(&costs, b), looks.collect())
    })
}

proptest! {
    #[test]
    fn a_plan_is_near_the_best_and_never_below_it(task in any_task()) {
        let best = best_plan(&task).expect("small");
        let small = Effort { evaluations: 200, ..Effort::default() };
        let advice = advise(&task, small);
        prop_assert!(advice.expected >= best.expected * (1.0 - 1e-9), "{advice:?} {best:?}");
        prop_assert!(advice.expected <= best.expected * 1.05, "{advice:?} {best:?}");
        let one = advise(&task, Effort::ONE_STEP);
        prop_assert!(advice.expected <= one.expected + 1e-9);
        prop_assert!(one.expected <= one.repair_now + 1e-9);
    }

    #[test]
    fn when_the_time_is_up_what_was_reckoned_counts(task in any_task(), looks in 0_usize..40) {
        let effort = Effort::default();
        let one = advise(&task, Effort::ONE_STEP);
        let all = advise(&task, effort);
        let left = std::cell::Cell::new(looks);
        let in_time = || left.replace(left.get().saturating_sub(1)) > 0;
        let some = advise_in_time(&task, effort, &in_time);
        prop_assert!(some.expected <= one.expected * (1.0 + 1e-9), "{some:?} {one:?}");
        prop_assert!(all.expected <= some.expected * (1.0 + 1e-9), "{all:?} {some:?}");
        // One node is looked over without asking for the time.
        prop_assert!(some.evaluations <= looks + 1);
        prop_assert_eq!(some.out_of_time, all.evaluations > looks + 1);
        if !some.out_of_time {
            prop_assert_eq!(some, all);
        }
    }

    #[test]
    fn what_cannot_change_anything_is_not_proposed(task in any_task(), chance in 0.0..1.0f64) {
        let mut looks = task.looks().to_vec();
        // All likelihoods equal, at no cost.
        looks[0] = look(0.0, chance, &[(0, chance), (2, chance)]);
        let p = task.probabilities();
        let task = Task::new(p, task.repairs().clone(), looks, Bench::one_state()).expect("fine");
        let advice = advise(&task, Effort { evaluations: 200, ..Effort::default() });
        for worth in &advice.looks {
            prop_assert!(worth.look != 0, "{worth:?}");
            prop_assert!(advice.repair_first - worth.expected > 0.0);
        }
    }

    #[test]
    fn perfect_looks_of_one_price_go_by_probability(
        weights in prop::collection::vec(0.05..1.0f64, 4), price in 0.1..2.0f64,
    ) {
        // With one price the order by p / c is the order by p, and it is best though the last suspect is
        // repaired without a look. A dear come-back keeps repairs behind the looks.
        let looks: Vec<Look> = (0..4).map(|i| look(price, 0.0, &[(i, 1.0)])).collect();
        let task = task(&weights, repairs(&[10.0; 4], 1000.0), looks);
        let advice = advise(&task, Effort::default());
        let known = inspect_or_repair(&weights, &[price; 4], &[10.0; 4]).expect("fine");
        // No look is beyond doubt: one in a million of a come-back of 1000, three times at most.
        prop_assert!((advice.expected - known.expected_cost).abs() < 0.05, "{advice:?} {known:?}");
        let First::Look(first) = advice.first else {
            return Err(TestCaseError::fail("a repair first"));
        };
        prop_assert!((weights[first] - weights[known.order[0]]).abs() < 1e-3, "{advice:?}");
    }

    #[test]
    fn perfect_looks_agree_with_the_sequence_of_looks_and_repairs(
        weights in prop::collection::vec(0.05..1.0f64, 4),
        prices in prop::collection::vec(0.1..5.0f64, 4),
        costs in prop::collection::vec(1.0..50.0f64, 4),
    ) {
        let looks: Vec<Look> = (0..4).map(|i| look(prices[i], 0.0, &[(i, 1.0)])).collect();
        let task = task(&weights, repairs(&costs, 1000.0), looks);
        let known = inspect_or_repair(&weights, &prices, &costs).expect("fine").expected_cost;
        let best = best_plan(&task).expect("small").expected;
        let ahead = advise(&task, Effort::default()).expected;
        prop_assert!((best - known).abs() < 0.05, "{best} {known}");
        prop_assert!((ahead - known).abs() < 0.05 + 0.01 * known, "{ahead} {known}");
    }
}
