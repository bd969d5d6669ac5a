//! How the probability of a cause, and the cost of what is advised, were reckoned.

use super::look_ahead::{Advice, First, METHOD as NEXT};
use super::model::Model;
use super::posterior::{METHOD, Posterior};
use super::survey::Worth;
use super::task::Task;
use crate::Message;
use crate::working::{Working, figures, places};

/// The working of one cause's probability: its sets among all sets. Empty for a cause that is not there.
pub fn posterior_working(model: &Model, posterior: &Posterior, cause: usize) -> Working {
    let working = Working::new(METHOD);
    let (Some(prior), Some(p)) = (model.priors().get(cause), posterior.causes.get(cause)) else {
        return working;
    };
    let likeliest = posterior.sets.first().map_or(1.0, |set| set.probability);
    let (with, all) = (p / likeliest, 1.0 / likeliest);
    let pieces = posterior.conflict.surprise.len() as f64;
    let per_1000 = prior * 1000.0;
    let most = posterior.number.len() as f64;
    let working = working
        .given(
            "r",
            Message::new("given-cause-rate"),
            per_1000,
            places(per_1000, 0),
            "/1000",
        )
        .given("n", Message::new("given-observations"), pieces, 0, "")
        .given("k", Message::new("given-faults-most"), most, 0, "")
        .given(
            "W",
            Message::new("given-sets-with-cause"),
            with,
            figures(with, 5).max(4),
            "",
        )
        .given("S", Message::new("given-sets-all"), all, 4, "")
        .step("P", "W / S", *p, 3, "")
        .note(Message::new("note-no-look-beyond-doubt"));
    if most > 1.0 {
        working
    } else {
        working.note(Message::new("note-one-fault"))
    }
}

/// Decimals of costs.
const COST_DECIMALS: usize = 2;

/// The working of a look that is proposed: its expected cost, and what it saves against repairing the first
/// cause at once. `unit` is the currency of the task.
pub fn look_working(advice: &Advice, worth: &Worth, unit: &'static str) -> Working {
    let cost = |working: Working, symbol, what, value| {
        working.given(symbol, what, value, COST_DECIMALS, unit)
    };
    let working = Working::new(NEXT);
    let working = cost(working, "c", Message::new("given-look-cost"), worth.cost);
    let working = working.given("P", Message::new("given-chance-of-yes"), worth.yes, 4, "");
    let after = Message::new("given-cost-after-yes");
    let working = cost(working, "C_y", after, worth.after_yes);
    let after = Message::new("given-cost-after-no");
    let working = cost(working, "C_n", after, worth.after_no);
    let first = Message::new("given-repair-first");
    let saves = advice.repair_first - worth.expected;
    cost(working, "C_r", first, advice.repair_first)
        .step(
            "C",
            "c + P · C_y + (1 − P) · C_n",
            worth.expected,
            COST_DECIMALS,
            unit,
        )
        .step("S", "C_r − C", saves, COST_DECIMALS, unit)
        .note(Message::new("note-one-fault"))
        .note(Message::new("note-steps-ahead").with("steps", advice.depth))
}

/// The working of the advice: of the look that is proposed, or of the repair.
pub fn advice_working(task: &Task, advice: &Advice, unit: &'static str) -> Working {
    let cause = match (advice.first, advice.looks.first()) {
        (First::Look(_), Some(worth)) => return look_working(advice, worth, unit),
        (First::Repair(cause), _) => cause,
        (First::Look(_), None) => return Working::new(NEXT),
    };
    let (Some(p), Some(r)) = (
        task.probabilities().get(cause),
        task.repairs().costs.get(cause),
    ) else {
        return Working::new(NEXT);
    };
    let (t, b) = (task.repairs().proof, task.repairs().come_back);
    // What follows a repair that did not help, so that the line gives the expected cost.
    let after = if 1.0 - p > 1e-9 {
        (advice.repair_first - r - t) / (1.0 - p) - b
    } else {
        0.0
    };
    let cost = |working: Working, symbol, what, value| {
        working.given(symbol, what, value, COST_DECIMALS, unit)
    };
    let working = Working::new(NEXT);
    let working = cost(working, "r", Message::new("given-repair-cost"), *r);
    let working = cost(working, "t", Message::new("given-proof-cost"), t);
    let working = cost(working, "b", Message::new("given-come-back"), b);
    let working = working.given("P", Message::new("given-chance-of-cause"), *p, 4, "");
    let after = after.max(0.0);
    cost(
        working,
        "C_n",
        Message::new("given-cost-after-repair"),
        after,
    )
    .step(
        "C",
        "r + t + (1 − P) · (b + C_n)",
        advice.repair_first,
        COST_DECIMALS,
        unit,
    )
    .note(Message::new("note-one-fault"))
    .note(Message::new("note-steps-ahead").with("steps", advice.depth))
}

#[cfg(test)]
mod tests {
    use crate::fault_finder::{
        Bench, Effort, Faults, Look, Model, Repairs, Says, Task, advise, posterior,
    };

    #[test]
    fn the_line_gives_the_probability_and_names_the_rate() {
        let model = Model::new(vec![0.12, 0.03], vec![]).expect("fine");
        for (faults, p) in [(Faults::One, 0.815), (Faults::Two, 0.820)] {
            // By hand: 0.136364 / (0.136364 + 0.030928), and 0.12 / (1 − 0.88 · 0.97).
            let found = posterior(&model, &[], faults).expect("possible");
            let working = super::posterior_working(&model, &found, 0);
            assert_eq!(working.given[0].value, "120");
            assert_eq!(working.steps[0].value, crate::working::fixed(p, 3));
        }
        let found = posterior(&model, &[], Faults::One).expect("possible");
        assert!(super::posterior_working(&model, &found, 2).steps.is_empty());
    }

    #[test]
    fn costs_of_a_look_and_of_a_repair_can_be_followed_by_hand() {
        // 0.6 · 0.95 + 0.4 · 0.05 says yes; then A costs 10 and B, behind a come-back of 20, 12 more.
        let task = |cost: f64| {
            let says = vec![Says {
                cause: 0,
                yes: 0.95,
            }];
            let (state, otherwise) = (0, 0.05);
            let look = Look {
                cost,
                state,
                otherwise,
                says,
            };
            let repairs = Repairs {
                costs: vec![10.0, 12.0],
                proof: 0.0,
                come_back: 20.0,
            };
            Task::new(&[0.6, 0.4], repairs, vec![look], Bench::one_state()).expect("fine")
        };
        let cheap = task(1.0);
        let advice = advise(&cheap, Effort::default());
        let working = super::advice_working(&cheap, &advice, "min");
        let (yes, no) = (0.57 + 0.02, 0.03 + 0.38);
        let after_yes = 10.0 + 0.02 / yes * 32.0;
        let after_no = 12.0 + 0.03 / no * 30.0;
        let known = 1.0 + yes * after_yes + no * after_no;
        assert_eq!(working.steps[0].value, crate::working::fixed(known, 2));
        let saves = 10.0 + 0.4 * 32.0 - known;
        assert_eq!(working.steps[1].value, crate::working::fixed(saves, 2));
        let dear = task(50.0);
        let advice = advise(&dear, Effort::default());
        let working = super::advice_working(&dear, &advice, "min");
        assert_eq!(
            working.steps[0].filled,
            "10.00 + 0.00 + (1 − 0.6000) · (20.00 + 12.00)"
        );
        assert_eq!(working.steps[0].value, "22.80");
    }
}
