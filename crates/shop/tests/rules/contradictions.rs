//! Evidence that contradicts itself is said to, and what goes together is not.

use shop::diagnosis::plan::EFFORT;
use shop::diagnosis::simulate::{self, Followed, Until, Way, follow};
use shop::diagnosis::{Costs, Evidence, Seen, diagnose, ruled_out};
use shop::entry::Said;
use shop::sheet::{Check, Drive};

use crate::bench::{faults, model, shelf};
use crate::simulation::{DRIVES, card, draws};

/// Yeses to `count` checks in a random order, no two of which have a cause of the drive in common; `None` where they
/// do not come to so many.
fn of_different_causes(
    drive: Drive,
    count: usize,
    uniform: &mut impl FnMut() -> f64,
) -> Option<Seen> {
    let occurs = |cause: &str| {
        faults()
            .cause(cause)
            .is_some_and(|c| c.drives.contains(&drive))
    };
    let mut order: Vec<&Check> = faults().checks.iter().collect();
    for last in (1..order.len()).rev() {
        order.swap(last, (uniform() * (last + 1) as f64) as usize);
    }
    let mut seen = Seen::default();
    let mut used: Vec<&str> = Vec::new();
    for check in order {
        let links = check.links.iter().map(|l| l.cause.as_str());
        let causes: Vec<&str> = links.filter(|cause| occurs(cause)).collect();
        if causes.is_empty() || causes.iter().any(|cause| used.contains(cause)) {
            continue;
        }
        used.extend(causes);
        seen.checks.insert(check.id.clone(), Said::Yes);
        if seen.checks.len() == count {
            return Some(seen);
        }
    }
    None
}

#[test]
fn yeses_that_point_to_different_faults_are_said_to_contradict_each_other() {
    let mut uniform = draws(5);
    for (drive, _) in DRIVES {
        for count in [6, 8] {
            let drawn = (0..200).filter_map(|_| of_different_causes(drive, count, &mut uniform));
            let drawn: Vec<Seen> = drawn.take(30).collect();
            assert_eq!(drawn.len(), 30, "enough checks");
            let said = drawn.iter().filter(|seen| {
                let found = diagnose(faults(), drive, seen).expect("possible");
                match found.odd {
                    Some(Evidence::Check(check, true)) => seen.checks.contains_key(&check.id),
                    Some(other) => panic!("{other:?} was not seen"),
                    None => false,
                }
            });
            let said = said.count();
            assert!(said >= 29, "{}, {count} yeses: {said} of 30", drive.key());
        }
    }
}

#[test]
fn a_job_with_one_cause_is_hardly_ever_said_to_contradict_itself() {
    let mut all = Followed::default();
    for (_, id) in DRIVES {
        let costs = Costs::of(card(), model(id));
        for (asked, as_found) in [(false, false), (true, true)] {
            let way = Way {
                most_checks: 15,
                until: Until::Plan,
                asked,
                as_found,
                recorded: as_found,
                in_one_go: true,
                effort: EFFORT,
            };
            let bench = simulate::Bench {
                truth: faults(),
                tool: model(id),
                shelf: shelf(),
                costs: &costs,
                way,
            };
            all = all.and(follow(&bench, faults(), 50, &mut draws(20_261_201)));
        }
    }
    println!("{all:?}");
    // One in fifty of 300, at any step.
    assert!(all.contradicted <= 6, "{all:?}");
}

#[test]
fn what_rules_everything_out_is_named() {
    let drive = Drive::Battery;
    let cause = faults().causes.iter().find(|c| c.drives.contains(&drive));
    let mut seen = Seen::default();
    let check = faults().checks[0].id.clone();
    seen.checks.insert(check, Said::Yes);
    assert!(ruled_out(faults(), drive, &seen).is_none());
    // A share that is no number: nothing can be weighed with it.
    seen.worn.push((cause.expect("one").id.clone(), f64::NAN));
    assert!(diagnose(faults(), drive, &seen).is_none());
    let named = ruled_out(faults(), drive, &seen);
    assert!(matches!(named, Some(Evidence::Worn(..))), "{named:?}");
}
