//! `operating-characteristic`, `two-point-sampling-plan`, `sampling-code-letter`, `single-sampling-plan`

use calc::operating_characteristic::{self as curve, Model, Plan};
use calc::sampling_tables::{self as tables, Level};
use calc::two_point_plan::{self, Points};
use calc::working::{Method, Working};

use crate::card::Contract;
use crate::shape::{Positive, Share, choices, contract};
use crate::{MethodError, Why};

/// Most points of a curve.
const MOST_POINTS: usize = 1000;

/// How bad ones come into the sample.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Drawn {
    /// From a counted lot.
    Counted,
    /// From a share.
    Share(Model),
}

choices! {
    /// How bad ones come into the sample.
    enum DrawnIn of Drawn {
        "hypergeometric" => Drawn::Counted,
        "binomial" => Drawn::Share(Model::Binomial),
        "poisson" => Drawn::Share(Model::Poisson),
    }
}

contract! {
    /// A sampling plan, and lots that it may meet: `defectives` in a lot of `lot_size`, `shares`, or one `share`.
    struct CurveInput {
        /// Pieces in the sample.
        sample_size: u64,
        /// Bad ones with which the lot is still accepted.
        accept: u64,
        /// Pieces in the lot.
        lot_size: Option<u64>,
        /// Bad ones in the lot, one number for each point of the curve.
        defectives: Option<Vec<u64>>,
        /// Shares of bad ones, one for each point of the curve.
        shares: Option<Vec<Share>>,
        /// Share of bad ones, for one point alone.
        share: Option<Share>,
        /// Model. By default hypergeometric for bad ones in a lot, binomial for shares.
        model: Option<DrawnIn>,
    }
}

contract! {
    /// The curve.
    struct CurveOutput {
        /// Share of bad ones at each point.
        shares: Vec<f64>,
        /// Probability of accepting there.
        accept_probability: Vec<f64>,
        /// Share of bad ones that goes out on average if rejected lots are sorted.
        outgoing_share: Vec<f64>,
    }
}

/// The contract.
pub(crate) struct OperatingCharacteristic;

impl Contract for OperatingCharacteristic {
    const METHOD: Method = curve::METHOD;
    const SUMMARY: &'static str = "method-operating-characteristic";
    const FORMULA: &'static str = "P_a = P(X ≤ c), X hypergeometric(N, D, n), binomial(n, p) or Poisson(n · p); p_out = P_a · p · (N − n) / N";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("n", "sample_size"),
        ("c", "accept"),
        ("N", "lot_size"),
        ("D", "defectives"),
        ("p", "shares"),
    ];
    const ANSWERS: &'static [&'static str] = &["accept_probability", "outgoing_share"];
    type In = CurveInput;
    type Out = CurveOutput;

    fn compute(input: &CurveInput) -> Result<(CurveOutput, Option<Working>), MethodError> {
        let plan = Plan {
            sample: input.sample_size,
            accept: input.accept,
        };
        let lot = input.lot_size;
        let missing = |field| MethodError::at(field, "", Why::Missing);
        let wrong_count = |field, have: usize| {
            let need = have.clamp(1, MOST_POINTS);
            MethodError::at(field, "", Why::Count { have, need })
        };
        if let Some(lot) = lot.filter(|lot| *lot < plan.sample) {
            let allowed = format!("≥ {}", plan.sample);
            return Err(MethodError::at(
                "lot_size",
                lot,
                Why::NotAllowed { allowed },
            ));
        }
        let mut out = CurveOutput {
            shares: Vec::new(),
            accept_probability: Vec::new(),
            outgoing_share: Vec::new(),
        };
        let shares = match (&input.shares, input.share) {
            (Some(_), Some(share)) => {
                let allowed = "share | shares".to_owned();
                return Err(MethodError::at(
                    "share",
                    share.0,
                    Why::NotAllowed { allowed },
                ));
            }
            (None, Some(share)) => Some(vec![share]),
            (shares, None) => shares.clone(),
        };
        match (&input.defectives, &shares) {
            (Some(defectives), None) => {
                let size = lot.ok_or_else(|| missing("lot_size"))?;
                if !(1..=MOST_POINTS).contains(&defectives.len()) {
                    return Err(wrong_count("defectives", defectives.len()));
                }
                let drawn = input.model.map_or(Drawn::Counted, |m| m.0);
                for bad in defectives {
                    // Checks lot and bad ones for every model.
                    let counted = curve::accepts_lot(plan, size, *bad)?;
                    let share = *bad as f64 / size as f64;
                    out.shares.push(share);
                    out.accept_probability.push(match drawn {
                        Drawn::Counted => counted,
                        Drawn::Share(model) => curve::accepts(plan, share, model)?,
                    });
                }
            }
            (None, Some(shares)) => {
                if !(1..=MOST_POINTS).contains(&shares.len()) {
                    return Err(wrong_count("shares", shares.len()));
                }
                let model = match input.model.map(|m| m.0) {
                    None => Model::Binomial,
                    Some(Drawn::Share(model)) => model,
                    Some(Drawn::Counted) => return Err(missing("defectives")),
                };
                for share in shares {
                    out.shares.push(share.0);
                    let accepted = curve::accepts(plan, share.0, model)?;
                    out.accept_probability.push(accepted);
                }
            }
            (None, None) => return Err(missing("shares")),
            (Some(_), Some(_)) => {
                let allowed = "defectives | shares".to_owned();
                return Err(MethodError::at("shares", "", Why::NotAllowed { allowed }));
            }
        }
        let left = lot.map_or(1.0, |lot| (lot - plan.sample) as f64 / lot as f64);
        let points = out.accept_probability.iter().zip(&out.shares);
        out.outgoing_share = points
            .map(|(accepted, share)| accepted * share * left)
            .collect();
        let first = out.accept_probability.first().zip(out.shares.first());
        let working = first.map(|(accepted, share)| curve::working(plan, *share, lot, *accepted));
        Ok((out, working))
    }
}

contract! {
    /// Two points that a plan must go through.
    struct PointsInput {
        /// Share of bad ones that is still good.
        good_share: Share,
        /// Risk of rejecting at the good share.
        producer_risk: Share = Share(0.05),
        /// Share of bad ones that is not good enough.
        bad_share: Share,
        /// Risk of accepting at the bad share.
        consumer_risk: Share = Share(0.1),
    }
}

contract! {
    /// The smallest plan through them.
    struct PointsOutput {
        /// Pieces in the sample.
        sample_size: u64,
        /// Bad ones with which the lot is still accepted.
        accept: u64,
        /// Probability of accepting at the good share.
        accept_probability_good: f64,
        /// Probability of accepting at the bad share.
        accept_probability_bad: f64,
    }
}

/// The contract.
pub(crate) struct TwoPointPlan;

impl Contract for TwoPointPlan {
    const METHOD: Method = two_point_plan::METHOD;
    const SUMMARY: &'static str = "method-two-point-sampling-plan";
    const FORMULA: &'static str =
        "smallest c, then smallest n: P(X ≤ c | n, p₁) ≥ 1 − α, P(X ≤ c | n, p₂) ≤ β";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("p₁", "good_share"),
        ("α", "producer_risk"),
        ("p₂", "bad_share"),
        ("β", "consumer_risk"),
        ("c", "bad_share"),
    ];
    type In = PointsInput;
    type Out = PointsOutput;

    fn compute(input: &PointsInput) -> Result<(PointsOutput, Option<Working>), MethodError> {
        let points = Points {
            good: input.good_share.0,
            producer_risk: input.producer_risk.0,
            bad: input.bad_share.0,
            consumer_risk: input.consumer_risk.0,
        };
        let found = two_point_plan::smallest(&points)?;
        let out = PointsOutput {
            sample_size: found.plan.sample,
            accept: found.plan.accept,
            accept_probability_good: found.at_good,
            accept_probability_bad: found.at_bad,
        };
        Ok((out, Some(two_point_plan::working(&points, &found))))
    }
}

choices! {
    /// Inspection level.
    enum LevelIn of Level {
        "S-1" => Level::S1,
        "S-2" => Level::S2,
        "S-3" => Level::S3,
        "S-4" => Level::S4,
        "I" => Level::I,
        "II" => Level::II,
        "III" => Level::III,
    }
}

choices! {
    /// A code letter.
    enum LetterIn of char {
        "A" => 'A', "B" => 'B', "C" => 'C', "D" => 'D', "E" => 'E', "F" => 'F', "G" => 'G', "H" => 'H',
        "J" => 'J', "K" => 'K', "L" => 'L', "M" => 'M', "N" => 'N', "P" => 'P', "Q" => 'Q', "R" => 'R',
    }
}

choices! {
    /// Inspection in use.
    enum InspectionIn of () { "normal" => (), }
}

contract! {
    /// A lot.
    struct LetterInput {
        /// Pieces in the lot.
        lot_size: u64,
        /// Inspection level. II is the usual one.
        inspection_level: LevelIn = LevelIn(Level::II),
    }
}

contract! {
    /// Its code letter.
    struct LetterOutput {
        /// Code letter.
        letter: LetterIn,
        /// Pieces in the sample.
        sample_size: u64,
    }
}

/// The contract.
pub(crate) struct CodeLetter;

impl Contract for CodeLetter {
    const METHOD: Method = tables::LETTER;
    const SUMMARY: &'static str = "method-sampling-code-letter";
    const FORMULA: &'static str = "a table, read by lot size and inspection level";
    const NAMES: &'static [(&'static str, &'static str)] = &[("N", "lot_size")];
    type In = LetterInput;
    type Out = LetterOutput;

    fn compute(input: &LetterInput) -> Result<(LetterOutput, Option<Working>), MethodError> {
        let (letter, sample_size) = tables::letter(input.lot_size, input.inspection_level.0)?;
        let out = LetterOutput {
            letter: LetterIn(letter),
            sample_size,
        };
        Ok((
            out,
            Some(tables::letter_working(input.lot_size, sample_size)),
        ))
    }
}

contract! {
    /// What a single sampling plan is looked up by.
    struct PlanInput {
        /// Code letter, as sampling-code-letter finds it.
        letter: LetterIn,
        /// Acceptance quality limit, one of the table's: 0.01 to 10.
        aql_pct: Positive,
        /// Inspection.
        inspection: InspectionIn = InspectionIn(()),
    }
}

contract! {
    /// The plan.
    struct PlanOutput {
        /// Pieces in the sample. All of a lot that is not larger.
        sample_size: u64,
        /// Bad ones with which the lot is still accepted.
        accept: u64,
        /// Bad ones from which it is rejected.
        reject: u64,
        /// Code letter at which the plan stands, where an arrow leads to another.
        plan_letter: LetterIn,
    }
}

/// The contract.
pub(crate) struct SinglePlan;

impl Contract for SinglePlan {
    const METHOD: Method = tables::PLAN;
    const SUMMARY: &'static str = "method-single-sampling-plan";
    const FORMULA: &'static str = "a table, read by code letter and AQL; Re = Ac + 1";
    const NAMES: &'static [(&'static str, &'static str)] = &[("AQL", "aql_pct")];
    type In = PlanInput;
    type Out = PlanOutput;

    fn compute(input: &PlanInput) -> Result<(PlanOutput, Option<Working>), MethodError> {
        let aql = input.aql_pct.0;
        let none_such = |_| {
            let limits: Vec<String> = tables::LIMITS_PCT.iter().map(f64::to_string).collect();
            let allowed = limits.join(" | ");
            MethodError::at("aql_pct", aql, Why::NotAllowed { allowed })
        };
        let (plan, at) = tables::plan(input.letter.0, aql).map_err(none_such)?;
        let out = PlanOutput {
            sample_size: plan.sample,
            accept: plan.accept,
            reject: plan.accept + 1,
            plan_letter: LetterIn(at),
        };
        let working = tables::plan_working(aql, plan, at != input.letter.0);
        Ok((out, Some(working)))
    }
}
