//! Merged orders against sorting anew, and what must hold for any task.

use super::*;
use crate::fault_finder::task::{Bench, Look, Repairs, Says};
use crate::information;
use proptest::prelude::*;

fn any_task() -> impl Strategy<Value = Task> {
    let weights = prop::collection::vec(0.01..1.0f64, 6);
    let costs = prop::collection::vec(0.0..50.0f64, 6);
    let yes = prop::collection::vec(prop::option::of(0.0..1.0f64), 18);
    (weights, costs, yes, 0.0..1.0f64, 0.0..30.0f64).prop_map(
        |(weights, costs, yes, otherwise, come_back)| {
            let looks = (0..3).map(|j| Look {
                cost: 1.0,
                state: 0,
                otherwise,
                says: (0..6)
                    .filter_map(|i| {
                        Some(Says {
                            cause: i,
                            yes: yes[j * 6 + i]?,
                        })
                    })
                    .collect(),
            });
            let repairs = Repairs {
                costs,
                proof: 2.0,
                come_back,
            };
            let looks = looks.collect();
            Task::new(&weights, repairs, looks, Bench::one_state()).expect("fine")
        },
    )
}

/// Cost of repairing in an order, step by step as it is paid.
fn paid(p: &[f64], task: &Task, order: &[usize]) -> f64 {
    let mut left = 1.0;
    let mut sum = 0.0;
    for i in order {
        sum += left * task.repair(*i);
        left = f64::max(left - p[*i], 0.0);
        sum += left * task.repairs().come_back;
    }
    sum
}

proptest! {
    #[test]
    fn no_exchange_makes_repairing_cheaper(task in any_task(), a in 0..6usize, b in 0..6usize) {
        let node = Node::first(&task);
        let (mut order, cost) = node.repair_now(&task);
        prop_assert!((cost - paid(&node.p, &task, &order)).abs() < 1e-9);
        order.swap(a, b);
        prop_assert!(cost <= paid(&node.p, &task, &order) + 1e-9);
    }

    #[test]
    fn merged_orders_agree_with_sorting_anew(task in any_task()) {
        let node = Node::first(&task);
        for worth in node.survey(&task).looks {
            for (yes, after) in [(true, worth.after_yes), (false, worth.after_no)] {
                let (_, known) = node.answered(&task, worth.look, yes).repair_now(&task);
                prop_assert!((after - known).abs() < 1e-9, "{worth:?} {known}");
            }
            let look = &task.looks()[worth.look];
            let mut yes = vec![look.otherwise; 6];
            for says in &look.says {
                yes[says.cause] = says.yes;
            }
            let known = information::expected(&node.p, &yes);
            prop_assert!((worth.yes - known.yes).abs() < 1e-9);
            prop_assert!((worth.bits - known.bits).abs() < 1e-9);
        }
    }

    #[test]
    fn a_look_never_makes_repairing_dearer(task in any_task()) {
        let survey = Node::first(&task).survey(&task);
        for worth in &survey.looks {
            prop_assert!(worth.expected - worth.cost <= survey.repair_now + 1e-9);
        }
        prop_assert!(survey.known <= survey.repair_now + 1e-9);
    }

    #[test]
    fn the_order_of_answers_is_forgotten(task in any_task()) {
        let first = Node::first(&task);
        let a = first.answered(&task, 0, true).answered(&task, 2, false);
        let b = first.answered(&task, 2, false).answered(&task, 0, true);
        prop_assert_eq!(a.key(), b.key());
        for (a, b) in a.p.iter().zip(&b.p) {
            prop_assert!((a - b).abs() < 1e-12);
        }
    }
}
