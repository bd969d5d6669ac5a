//! What a plan is made for: causes of which one is there, repairs, looks, the tool on the bench.
//!
//! All costs are in one currency, the caller's: money or minutes.
//!
//! # Validity
//! Exactly one cause is there. A repair is followed by a proof test that shows without error whether it
//! helped; one that did not help costs a come-back beside its price and rules its cause out. A look is
//! made once at most. A repair leaves the tool in the state it had. Where several faults at once are likely,
//! the probabilities of the causes with up to three at once serve better as weights than those of one fault
//! alone (common practice, no source).
//!
//! # Errors
//! Lists that do not fit each other, places that are not there, costs not from 0 to 10¹²,
//! chances outside 0 to 1,
//! a value that is not finite.

use super::inspection::{MOST_COST, fits, shares};
use super::model::{Question, in_doubt};
use crate::error::{CalcError, within};

/// What repairs cost.
#[derive(Clone, Debug, PartialEq)]
pub struct Repairs {
    /// Repair of each cause; for "something not in the list" what finding and mending that would cost.
    pub costs: Vec<f64>,
    /// Proof test after each repair.
    pub proof: f64,
    /// What a repair that did not help costs beside its price.
    pub come_back: f64,
}

/// Chance that a look says yes where one cause alone is there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Says {
    /// The cause's place.
    pub cause: usize,
    /// Chance of a yes; 0 to 1.
    pub yes: f64,
}

/// A look that can be made.
#[derive(Clone, Debug, PartialEq)]
pub struct Look {
    /// What it costs, without bringing the tool into its state.
    pub cost: f64,
    /// The state of the tool that it needs, by its place in [`Bench::change`].
    pub state: usize,
    /// Chance of a yes for every cause that is not in `says`.
    pub otherwise: f64,
    /// The causes that it tells apart from the others.
    pub says: Vec<Says>,
}

impl Look {
    /// A question as a look.
    pub fn of(question: &Question, cost: f64, state: usize) -> Self {
        let says = question.links.iter().map(|link| Says {
            cause: link.cause,
            yes: question.yes_alone(link.cause),
        });
        Self {
            cost,
            state,
            otherwise: in_doubt(question.leak),
            says: says.collect(),
        }
    }
}

/// The tool on the bench.
#[derive(Clone, Debug, PartialEq)]
pub struct Bench {
    /// The state it is in.
    pub state: usize,
    /// What it costs to go from one state (row) to another (column).
    pub change: Vec<Vec<f64>>,
    /// For each state, whether the tool must not be brought into it.
    pub forbidden: Vec<bool>,
}

impl Bench {
    /// A bench where the tool's state plays no part: one state, 0.
    pub fn one_state() -> Self {
        Self {
            state: 0,
            change: vec![vec![0.0]],
            forbidden: vec![false],
        }
    }
}

/// A task to plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Task {
    p: Vec<f64>,
    repairs: Repairs,
    looks: Vec<Look>,
    bench: Bench,
}

impl Task {
    /// A task from the weights of the causes (any scale; a posterior of one fault), what repairs cost,
    /// the looks not yet made, and the bench.
    ///
    /// # Errors
    /// See the head of this file.
    pub fn new(
        weights: &[f64],
        repairs: Repairs,
        mut looks: Vec<Look>,
        bench: Bench,
    ) -> Result<Self, CalcError> {
        let p = shares(weights)?;
        fits("repairs", &repairs.costs, p.len())?;
        within("proof", repairs.proof, 0.0, MOST_COST)?;
        within("come_back", repairs.come_back, 0.0, MOST_COST)?;
        let states = bench.change.len();
        place("state", bench.state, states)?;
        for row in &bench.change {
            fits("change", row, states)?;
        }
        if bench.forbidden.len() != states {
            return Err(CalcError::Uneven {
                input: "forbidden",
                have: bench.forbidden.len(),
                need: states,
            });
        }
        for look in &mut looks {
            within("cost", look.cost, 0.0, MOST_COST)?;
            place("state", look.state, states)?;
            look.otherwise = in_doubt(within("otherwise", look.otherwise, 0.0, 1.0)?);
            let mut named = vec![false; p.len()];
            for says in &mut look.says {
                place("cause", says.cause, p.len())?;
                says.yes = in_doubt(within("yes", says.yes, 0.0, 1.0)?);
                if std::mem::replace(&mut named[says.cause], true) {
                    return Err(CalcError::Uneven {
                        input: "says",
                        have: 2,
                        need: 1,
                    });
                }
            }
        }
        Ok(Self {
            p,
            repairs,
            looks,
            bench,
        })
    }

    /// Probability of each cause.
    pub fn probabilities(&self) -> &[f64] {
        &self.p
    }

    /// What repairs cost.
    pub fn repairs(&self) -> &Repairs {
        &self.repairs
    }

    /// The looks.
    pub fn looks(&self) -> &[Look] {
        &self.looks
    }

    /// The bench.
    pub fn bench(&self) -> &Bench {
        &self.bench
    }

    /// Repair of a cause with its proof test.
    pub(super) fn repair(&self, cause: usize) -> f64 {
        self.repairs.costs[cause] + self.repairs.proof
    }

    /// Cost of a look with the tool in `state`; `None` where it is forbidden.
    pub(super) fn cost(&self, look: usize, state: usize) -> Option<f64> {
        let look = &self.looks[look];
        let bench = &self.bench;
        (!bench.forbidden[look.state]).then(|| look.cost + bench.change[state][look.state])
    }
}

pub(super) fn place(input: &'static str, at: usize, count: usize) -> Result<(), CalcError> {
    within(input, at as f64, 0.0, count as f64 - 1.0).map(|_| ())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn task(change: impl FnOnce(&mut Vec<f64>, &mut Repairs, &mut Look, &mut Bench)) -> bool {
        let mut weights = vec![0.7, 0.3];
        let mut repairs = Repairs {
            costs: vec![10.0, 20.0],
            proof: 1.0,
            come_back: 5.0,
        };
        let mut look = Look {
            cost: 2.0,
            state: 0,
            otherwise: 0.1,
            says: vec![Says { cause: 1, yes: 0.9 }],
        };
        let mut bench = Bench::one_state();
        change(&mut weights, &mut repairs, &mut look, &mut bench);
        Task::new(&weights, repairs, vec![look], bench).is_ok()
    }

    #[test]
    fn refusals() {
        assert!(task(|_, _, _, _| {}));
        assert!(!task(|w, _, _, _| w[0] = f64::NAN));
        assert!(!task(|w, _, _, _| w.clear()));
        assert!(!task(|_, r, _, _| r.costs[1] = -1.0));
        assert!(!task(|_, r, _, _| r.costs.clear()));
        assert!(!task(|_, r, _, _| r.proof = f64::INFINITY));
        assert!(!task(|_, r, _, _| r.come_back = -0.1));
        assert!(!task(|_, _, l, _| l.cost = -1.0));
        assert!(!task(|_, _, l, _| l.state = 1));
        assert!(!task(|_, _, l, _| l.otherwise = 1.1));
        assert!(!task(|_, _, l, _| l.says[0].cause = 2));
        assert!(!task(|_, _, l, _| l.says[0].yes = f64::NAN));
        assert!(!task(|_, _, l, _| l.says.push(l.says[0])));
        assert!(!task(|_, _, _, b| b.state = 1));
        assert!(!task(|_, _, _, b| b.forbidden.clear()));
        assert!(!task(|_, _, _, b| b.change[0].clear()));
        assert!(!task(|_, _, _, b| b.change[0][0] = f64::NAN));
    }
}
