//! How the probability of a cause was reckoned.

use super::model::Model;
use super::posterior::{METHOD, Posterior};
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

#[cfg(test)]
mod tests {
    use crate::fault_finder::{Faults, Model, posterior};

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
}
