//! Sets against counting all of them, and what must hold for any model.

use proptest::prelude::*;

use super::*;
use crate::bayes;
use crate::fault_finder::conflict::{CONTRADICT, SURPRISES, UNFIT};
use crate::fault_finder::measure::full;
use crate::fault_finder::model::{Handed, Link, Question, in_doubt, link_of};

fn question(leak: f64, links: &[(usize, f64)]) -> Question {
    let links = links.iter().map(|(cause, chance)| Link {
        cause: *cause,
        chance: *chance,
    });
    Question {
        leak,
        links: links.collect(),
    }
}

fn answer(question: usize, yes: bool) -> Observation {
    Observation::Answer { question, yes }
}

/// A random model of `n` causes and `m` questions, all answered, and numbers handed over.
fn any_case(n: usize, m: usize) -> impl Strategy<Value = (Model, Vec<Observation>)> {
    let priors = prop::collection::vec(0.001..0.3f64, n);
    let leaks = prop::collection::vec((0.0..0.2f64, any::<bool>()), m);
    let links = prop::collection::vec(prop::option::of(0.0..1.0f64), n * m);
    let handed = prop::collection::vec(0.01..1.0f64, n + 1);
    (priors, leaks, links, handed).prop_map(move |(priors, leaks, links, handed)| {
        let questions = leaks.iter().enumerate().map(|(j, (leak, _))| {
            let linked = (0..n).filter_map(|i| Some((i, links[j * n + i]?)));
            question(*leak, &linked.collect::<Vec<_>>())
        });
        let model = Model::new(priors, questions.collect()).expect("in range");
        let seen = leaks
            .iter()
            .enumerate()
            .map(|(j, (_, yes))| answer(j, *yes));
        let handed = Observation::Handed(Handed {
            alone: handed[..n].to_vec(),
            otherwise: handed[n],
        });
        let seen = seen.chain(std::iter::once(handed)).collect();
        (model, seen)
    })
}

#[test]
fn sets_of_three_are_named_when_three_signs_need_three_causes() {
    let questions = (0..3).map(|i| question(1e-6, &[(i, 0.9)])).collect();
    let model = Model::new(vec![0.01; 3], questions).expect("fine");
    let seen: Vec<_> = (0..3).map(|j| answer(j, true)).collect();
    let found = posterior(&model, &seen, Faults::Three).expect("possible");
    assert_eq!(found.sets[0].causes, [0, 1, 2]);
    assert!(found.number[2] > 0.99, "{found:?}");
    // One fault alone leaves two signs to the leaks: a contradiction then, and none with three.
    let one = posterior(&model, &seen, Faults::One).expect("possible");
    assert!(one.conflict.odd().is_some(), "{one:?}");
}

#[test]
fn the_odd_answer_is_named() {
    // Five signs point to cause 0; the sixth answer says that what it always shows is not there.
    let mut questions: Vec<Question> = (0..5).map(|_| question(0.01, &[(0, 0.7)])).collect();
    questions.push(question(0.01, &[(0, 0.999), (1, 0.5), (2, 0.5)]));
    let model = Model::new(vec![0.1, 0.1, 0.1], questions).expect("fine");
    let mut seen: Vec<_> = (0..6).map(|j| answer(j, true)).collect();
    let found = posterior(&model, &seen, Faults::Three).expect("possible");
    assert_eq!(found.conflict.odd(), None, "{:?}", found.conflict);
    seen[5] = answer(5, false);
    let found = posterior(&model, &seen, Faults::Three).expect("possible");
    assert_eq!(found.conflict.odd(), Some(5), "{:?}", found.conflict);
}

/// Causes as rare as a shop's, each with one check of its own and one in twenty false alarms.
fn rare(causes: usize) -> Model {
    let questions = (0..causes).map(|i| question(0.05, &[(i, 0.9)]));
    let unlisted = 0.02;
    let priors = std::iter::repeat_n(0.002, causes).chain([unlisted]);
    Model::new(priors.collect(), questions.collect()).expect("fine")
}

#[test]
fn yeses_of_many_causes_contradict_each_other_and_no_pair_of_them_alone() {
    let model = rare(6);
    let said = |yes: &[usize]| {
        let seen: Vec<_> = yes.iter().map(|i| answer(*i, true)).collect();
        posterior(&model, &seen, Faults::Three)
            .expect("possible")
            .conflict
    };
    let all = said(&(0..6).collect::<Vec<_>>());
    // What a false alarm hides from the conflict measure, the fit sees.
    assert!(all.conf < CONTRADICT, "{all:?}");
    assert!(all.surprise.iter().all(|s| *s < SURPRISES), "{all:?}");
    assert!(all.odd().is_some(), "{all:?}");
    assert_eq!(said(&[0, 1]).odd(), None);
    assert_eq!(said(&[0]).odd(), None);
}

#[test]
fn the_one_whose_removal_raises_the_likelihood_most_is_named() {
    // The last yes is a false alarm of one in a hundred, the others of one in twenty.
    let mut questions: Vec<Question> = (0..5).map(|i| question(0.05, &[(i, 0.9)])).collect();
    questions.push(question(0.01, &[]));
    let model = Model::new(vec![0.002; 6], questions).expect("fine");
    let seen: Vec<_> = (0..6).map(|j| answer(j, true)).collect();
    let found = posterior(&model, &seen, Faults::Three).expect("possible");
    assert!(found.conflict.fit <= UNFIT.ln(), "{found:?}");
    assert_eq!(found.conflict.odd(), Some(5), "{:?}", found.conflict);
    for out in 0..6 {
        let mut rest = seen.clone();
        rest.remove(out);
        let rest = posterior(&model, &rest, Faults::Three).expect("possible");
        let raised = rest.ln_evidence - found.ln_evidence;
        assert!((found.conflict.raises[out] - raised).abs() < 1e-9);
    }
}

#[test]
fn where_nothing_is_left_what_stands_against_it_is_named() {
    let handed = |alone: f64, otherwise: f64| {
        let alone = vec![alone; 2];
        Observation::Handed(Handed { alone, otherwise })
    };
    let model = Model::new(vec![0.1, 0.1], vec![question(0.1, &[(0, 0.8)])]).expect("fine");
    let block = |seen: &[Observation]| stumbling_block(&model, seen, Faults::Three);
    // So far apart that no number holds it.
    let odd = || handed(1e-300, 1e300);
    assert_eq!(block(&[answer(0, true)]), None);
    assert!(posterior(&model, &[answer(0, true), odd()], Faults::Three).is_err());
    assert_eq!(block(&[answer(0, true), odd()]), Some(1));
    assert_eq!(block(&[odd(), answer(0, true), handed(0.5, 0.5)]), Some(0));
    assert_eq!(block(&[answer(0, true), odd(), odd()]), Some(1));
}

#[test]
fn a_thousand_answers_do_not_underflow() {
    let model = Model::new(vec![0.2, 0.3], vec![question(1e-6, &[])]).expect("fine");
    let found = posterior(&model, &vec![answer(0, true); 1000], Faults::Three).expect("possible");
    let before = posterior(&model, &[], Faults::Three).expect("possible");
    for (a, b) in found.causes.iter().zip(&before.causes) {
        assert!((a - b).abs() < 1e-12);
    }
    assert!((found.ln_evidence - 1000.0 * 1e-6_f64.ln()).abs() < 1e-6);
}

#[test]
fn strangers_are_refused_by_name() {
    let model = Model::new(vec![0.2], vec![]).expect("fine");
    let refused = posterior(&model, &[answer(0, true)], Faults::One).expect_err("no question");
    assert!(matches!(
        refused,
        CalcError::OutOfRange {
            input: "question",
            ..
        }
    ));
}

proptest! {
    #[test]
    fn sets_agree_with_counting((model, seen) in any_case(6, 4)) {
        for faults in [Faults::One, Faults::Two, Faults::Three] {
            let found = posterior(&model, &seen, faults).expect("possible");
            let (causes, ln_evidence) = full(&model, &seen, faults.most());
            for (got, known) in found.causes.iter().zip(&causes) {
                prop_assert!((got - known).abs() < 1e-9, "{found:?} {causes:?}");
            }
            prop_assert!((found.ln_evidence - ln_evidence).abs() < 1e-9);
            let whole: f64 = found.number.iter().sum();
            prop_assert!((whole - 1.0).abs() < 1e-9);
        }
    }

    #[test]
    fn one_fault_is_bayes_with_odds((model, seen) in any_case(8, 5)) {
        let found = posterior(&model, &seen, Faults::One).expect("possible");
        let odds: Vec<f64> = model.priors().iter().map(|p| p / (1.0 - p)).collect();
        let logs: Vec<f64> = (0..8).map(|i| seen.iter().map(|o| match o {
            Observation::Answer { question, yes } => {
                let chance = model.questions()[*question].yes_alone(i);
                (if *yes { chance } else { 1.0 - chance }).ln()
            }
            Observation::Handed(given) => given.alone[i].ln(),
        }).sum()).collect();
        let known = bayes::posterior(&odds, &logs).expect("possible");
        for (got, known) in found.causes.iter().zip(&known) {
            prop_assert!((got - known).abs() < 1e-9);
        }
    }

    #[test]
    fn the_order_of_what_was_seen_never_matters((model, seen) in any_case(6, 5), turn in 1..5usize) {
        let mut turned = seen.clone();
        turned.rotate_left(turn);
        let (a, b) = (
            posterior(&model, &seen, Faults::Three).expect("possible"),
            posterior(&model, &turned, Faults::Three).expect("possible"),
        );
        prop_assert!((a.ln_evidence - b.ln_evidence).abs() < 1e-9);
        prop_assert!((a.conflict.conf - b.conflict.conf).abs() < 1e-9);
        for i in 0..6 {
            prop_assert!((a.causes[i] - b.causes[i]).abs() < 1e-9);
            for j in 0..seen.len() {
                let moved = (j + seen.len() - turn) % seen.len();
                prop_assert!((a.why[i][j] - b.why[i][moved]).abs() < 1e-6);
            }
        }
    }

    #[test]
    fn why_is_what_leaving_it_out_takes_away((model, seen) in any_case(5, 4), out in 0..5usize) {
        let all = posterior(&model, &seen, Faults::Three).expect("possible");
        let mut rest = seen.clone();
        rest.remove(out);
        let rest = posterior(&model, &rest, Faults::Three).expect("possible");
        for i in 0..5 {
            let odds = |p: f64| (p / (1.0 - p)).ln();
            let known = odds(all.causes[i]) - odds(rest.causes[i]);
            prop_assert!((all.why[i][out] - known).abs() < 1e-6);
        }
        let alone = posterior(&model, &seen[out..=out], Faults::Three).expect("possible");
        let known = alone.ln_evidence - (all.ln_evidence - rest.ln_evidence);
        prop_assert!((all.conflict.surprise[out] - known).abs() < 1e-9);
    }

    #[test]
    fn a_check_read_as_a_link_says_what_its_sheet_says(alarm in 0.0..0.5f64, if_true in 0.5..1.0f64) {
        let check = question(alarm, &[(0, link_of(alarm, if_true))]);
        let model = Model::new(vec![0.1, 0.1], vec![check]).expect("fine");
        let found = posterior(&model, &[answer(0, true)], Faults::One).expect("possible");
        let known = in_doubt(if_true) / (in_doubt(if_true) + in_doubt(alarm));
        prop_assert!((found.causes[0] - known).abs() < 1e-9);
    }
}
