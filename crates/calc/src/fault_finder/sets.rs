//! Likelihoods of sets of causes, grown one cause at a time.
//!
//! Products are kept instead of logarithms where they cannot underflow: no answer has less than
//! 10⁻⁶, so that forty of them stay far above the least number.

use super::model::{Handed, Model, Observation, in_doubt};

/// Answers that are multiplied before a logarithm is taken.
const RUN: usize = 40;

/// What was seen, in the form that growing sets need.
pub(super) struct Table {
    /// For each question answered, 1 − leak, and 1 for a yes or −1 for a no.
    answers: Vec<(f64, f64)>,
    /// For each cause and answer, 1 − q.
    stays_no: Vec<f64>,
    /// For each number handed over: what it is for a cause that has nothing to do with it.
    otherwise: Vec<f64>,
    /// For each cause and number handed over, the ratio to that.
    ratio: Vec<f64>,
    /// Where each observation stands: among the answers or behind them.
    places: Vec<usize>,
}

/// What a set of causes says of each observation so far.
#[derive(Clone)]
pub(super) struct Grown {
    /// Chance of a no, for each answer.
    no: Vec<f64>,
    /// Strongest ratio above 1 and product of those below, for each number handed over.
    handed: Vec<(f64, f64)>,
}

impl Table {
    /// Observations must have been checked against the model.
    pub(super) fn new(model: &Model, observations: &[Observation]) -> Self {
        let causes = model.priors().len();
        let mut answers = Vec::new();
        let mut columns: Vec<Vec<f64>> = Vec::new();
        let mut handed: Vec<&Handed> = Vec::new();
        let mut places = Vec::with_capacity(observations.len());
        for observation in observations {
            match observation {
                Observation::Answer { question, yes } => {
                    let question = &model.questions()[*question];
                    let mut column = vec![1.0; causes];
                    for link in &question.links {
                        column[link.cause] = 1.0 - link.chance;
                    }
                    places.push(answers.len());
                    answers.push((1.0 - question.leak, if *yes { 1.0 } else { -1.0 }));
                    columns.push(column);
                }
                Observation::Handed(given) => {
                    places.push(handed.len());
                    handed.push(given);
                }
            }
        }
        for (place, observation) in places.iter_mut().zip(observations) {
            if matches!(observation, Observation::Handed(_)) {
                *place += answers.len();
            }
        }
        let by_cause = |i: usize| columns.iter().map(move |column| column[i]);
        let ratios = |i: usize| handed.iter().map(move |h| h.alone[i] / h.otherwise);
        Self {
            answers,
            stays_no: (0..causes).flat_map(by_cause).collect(),
            otherwise: handed.iter().map(|h| h.otherwise).collect(),
            ratio: (0..causes).flat_map(ratios).collect(),
            places,
        }
    }

    /// Number of observations.
    pub(super) fn len(&self) -> usize {
        self.places.len()
    }

    /// Number of those that are answers: they stand first.
    pub(super) fn answers(&self) -> usize {
        self.answers.len()
    }

    /// Where observation `i` stands in a row of likelihoods.
    pub(super) fn place(&self, i: usize) -> usize {
        self.places[i]
    }

    /// No cause yet.
    pub(super) fn none(&self) -> Grown {
        Grown {
            no: self.answers.iter().map(|(no, _)| *no).collect(),
            handed: vec![(1.0, 1.0); self.otherwise.len()],
        }
    }

    /// `from` with `cause` added, written to `to`.
    pub(super) fn grow(&self, from: &Grown, cause: usize, to: &mut Grown) {
        let count = self.answers.len();
        let factors = &self.stays_no[cause * count..][..count];
        for ((to, no), factor) in to.no.iter_mut().zip(&from.no).zip(factors) {
            *to = no * factor;
        }
        let count = self.otherwise.len();
        let ratios = &self.ratio[cause * count..][..count];
        for ((to, from), ratio) in to.handed.iter_mut().zip(&from.handed).zip(ratios) {
            *to = (from.0.max(*ratio), from.1 * ratio.min(1.0));
        }
    }

    /// The likelihood of each observation, in the order of [`Table::place`], and their product: what of
    /// it is a plain number, and the logarithm of the rest.
    pub(super) fn likelihoods(&self, of: &Grown, each: &mut [f64]) -> (f64, f64) {
        let (answers, handed) = each.split_at_mut(self.answers.len());
        for ((to, no), (_, sign)) in answers.iter_mut().zip(&of.no).zip(&self.answers) {
            // A yes: 1 − no; a no: 0 + no.
            *to = in_doubt(sign.max(0.0) - sign * no);
        }
        let mut log = 0.0;
        let mut runs = answers.chunks(RUN);
        let first: f64 = runs.next().map_or(1.0, |run| run.iter().product());
        for run in runs {
            log += run.iter().product::<f64>().ln();
        }
        let all = of.handed.iter().zip(&self.otherwise);
        for (to, ((up, down), otherwise)) in handed.iter_mut().zip(all) {
            *to = otherwise * up * down;
            log += to.ln();
        }
        (first, log)
    }
}
