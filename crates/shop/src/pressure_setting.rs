//! From a fastener's force to the pressure that a hydraulic or air-hydraulic tool is set to.
//!
//! Where fastener or stroke ends the pull, the pressure must only be enough: at least so much, never above
//! the rated one. Where the force itself ends it (a rivet nut set by force), it must lie between two. What the
//! gauge may be wrong by counts against both ends.

use calc::Message;
use calc::pull_pressure::{self, Pull, Puller};
use calc::working::{Working, places};

use crate::setting::TINY;
use crate::sheet::{Drive, FastenerFamily, Setting, SettingBasis, Supply, ToolModel};

/// What the pressure has to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Goal {
    /// Reach the fastener's most force; fastener or stroke ends the pull.
    Reach,
    /// Stop within the fastener's force: nothing else ends the pull.
    Stop,
}

/// A pressure to set: the value, its limits, and the pull that it gives.
#[derive(Clone, Debug, PartialEq)]
pub struct PressureAnswer {
    /// What it has to do.
    pub goal: Goal,
    /// Least pressure that is surely enough, bar.
    pub least_bar: f64,
    /// Most pressure: the rated one, or where the force would be too much, bar.
    pub most_bar: f64,
    /// Pressure to set, on a step of the gauge, bar.
    pub set_bar: f64,
    /// That step, bar.
    pub step_bar: f64,
    /// Expanded uncertainty of the gauge, bar.
    pub gauge_bar: f64,
    /// Pull at that pressure, with its interval.
    pub pull: Pull,
    /// How it was reckoned.
    pub working: Working,
}

/// Why there is no pressure to set.
#[derive(Clone, Debug, PartialEq)]
pub enum NoPressure {
    /// The tool has neither air nor oil from outside.
    NoSupply,
    /// Keys of `[supply]` that the model sheet leaves out.
    Missing(Vec<&'static str>),
    /// The fastener needs more than the tool's rated pull.
    AboveRating {
        /// Force that is needed, kN.
        needs_kn: f64,
        /// Rated pull, kN.
        rated_kn: f64,
    },
    /// With friction, the force is not surely reached at the rated pressure.
    NotReached {
        /// Pressure that it would take, bar.
        needs_bar: f64,
        /// Rated pressure, bar.
        rated_bar: f64,
    },
    /// No step of the gauge lies between least and most.
    BetweenSteps {
        /// Least pressure, bar.
        least_bar: f64,
        /// Most pressure, bar.
        most_bar: f64,
    },
}

/// Where the pressure is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum At {
    /// At the bench, on the gauge that the sheet speaks of.
    Bench,
    /// At the work place, on a gauge of which nobody knows the certificate.
    WorkPlace,
}

/// Expanded uncertainty of the gauge, bar. Of one of which nothing is stated it is its step, of one at the
/// work place two steps at least (common practice, no source).
fn doubt_of_gauge(supply: &Supply, step: f64, at: At) -> f64 {
    let stated = supply.puller.gauge_expanded_bar.unwrap_or(step);
    match at {
        At::Bench => stated,
        At::WorkPlace => stated.max(2.0 * step),
    }
}

impl NoPressure {
    /// The reason, as told.
    pub fn message(&self) -> Message {
        match self {
            Self::NoSupply => Message::new("pressure-no-supply"),
            Self::Missing(keys) => Message::new("pressure-missing").with("keys", keys.join(", ")),
            Self::AboveRating { needs_kn, rated_kn } => Message::new("pressure-above-rating")
                .number("needs", *needs_kn, 1)
                .number("rated", *rated_kn, 1),
            Self::NotReached {
                needs_bar,
                rated_bar,
            } => Message::new("pressure-not-reached")
                .number("needs", *needs_bar, 1)
                .number("rated", *rated_bar, 1),
            Self::BetweenSteps {
                least_bar,
                most_bar,
            } => Message::new("pressure-between-steps")
                .number("least", *least_bar, 2)
                .number("most", *most_bar, 2),
        }
    }
}

/// What the pressure has to do under the rule of the model sheet.
pub fn goal(rule: Option<&Setting>) -> Goal {
    match rule.map(|rule| rule.basis) {
        Some(SettingBasis::Force) => Goal::Stop,
        _ => Goal::Reach,
    }
}

/// What turns pressure into pull, and the gauge's step.
fn puller(supply: &Supply, drive: Drive) -> Result<(Puller, f64), NoPressure> {
    let facts = &supply.puller;
    let ratio = match drive {
        Drive::AirHydraulic => facts.ratio,
        Drive::Battery | Drive::Hydraulic => Some(1.0),
    };
    let (area, step) = (facts.area_mm2, facts.gauge_step_bar);
    let (friction, doubt) = (facts.friction, facts.friction_expanded);
    match (area, ratio, friction, doubt, step) {
        (Some(area_mm2), Some(ratio), Some(friction), Some(friction_expanded), Some(step)) => {
            let puller = Puller {
                area_mm2,
                ratio,
                friction,
                friction_expanded,
            };
            Ok((puller, step))
        }
        _ => {
            let keys = [
                ("area_mm2", area),
                ("ratio", ratio),
                ("friction", friction),
                ("friction_expanded", doubt),
                ("gauge_step_bar", step),
            ];
            let missing = keys.iter().filter(|(_, value)| value.is_none());
            Err(NoPressure::Missing(missing.map(|(key, _)| *key).collect()))
        }
    }
}

/// The pressure to set on `model` for `fastener`, with what it has to do.
///
/// # Errors
/// A battery tool, a key missing in the sheet, a force that the tool does not reach or is not rated for, a
/// window narrower than the gauge's step.
pub fn pressure(
    model: &ToolModel,
    fastener: &FastenerFamily,
    goal: Goal,
    at: At,
) -> Result<PressureAnswer, NoPressure> {
    let supply = model.supply.as_ref().ok_or(NoPressure::NoSupply)?;
    let (puller, step) = puller(supply, model.drive)?;
    // What a sheet may hold is inside the method's own limits.
    let beyond = |_| NoPressure::Missing(vec!["area_mm2"]);
    let gauge_bar = doubt_of_gauge(supply, step, at);
    let (least_kn, most_kn) = fastener.force_kn;
    let needs_kn = match goal {
        Goal::Reach => most_kn,
        Goal::Stop => least_kn,
    };
    if needs_kn > model.rated_pull_kn {
        return Err(NoPressure::AboveRating {
            needs_kn,
            rated_kn: model.rated_pull_kn,
        });
    }
    // Read on a gauge that may show too little, the rated pressure could be exceeded.
    let rated_bar = supply.pressure_bar - gauge_bar;
    let least_bar = puller.pressure_bar(needs_kn).map_err(beyond)?.sure_bar + gauge_bar;
    if least_bar > rated_bar + TINY {
        return Err(NoPressure::NotReached {
            needs_bar: least_bar,
            rated_bar,
        });
    }
    let too_much = puller.pressure_bar(most_kn).map_err(beyond)?.least_bar - gauge_bar;
    let (most_bar, wanted) = match goal {
        Goal::Reach => (rated_bar, (least_bar / step - TINY).ceil() * step),
        Goal::Stop => {
            let most = too_much.min(rated_bar);
            (most, (f64::midpoint(least_bar, most) / step).round() * step)
        }
    };
    let set_bar = match goal {
        // The most that may be read need not be a step of the gauge.
        Goal::Reach => wanted.min(rated_bar),
        Goal::Stop => wanted,
    };
    if set_bar < least_bar - TINY || set_bar > most_bar + TINY {
        return Err(NoPressure::BetweenSteps {
            least_bar,
            most_bar,
        });
    }
    let pull_at = |bar: f64| puller.pull_kn(bar).map_err(beyond);
    let pull = Pull {
        least_kn: pull_at(set_bar - gauge_bar)?.least_kn,
        most_kn: pull_at(set_bar + gauge_bar)?.most_kn,
        ..pull_at(set_bar)?
    };
    let mut answer = PressureAnswer {
        goal,
        least_bar,
        most_bar,
        set_bar,
        step_bar: step,
        gauge_bar,
        pull,
        working: Working::new(pull_pressure::METHOD),
    };
    answer.working = working(&puller, supply, fastener, &answer, too_much);
    Ok(answer)
}

fn working(
    puller: &Puller,
    supply: &Supply,
    fastener: &FastenerFamily,
    answer: &PressureAnswer,
    too_much_bar: f64,
) -> Working {
    let (least_kn, most_kn) = fastener.force_kn;
    let given = |id: &'static str| Message::new(id);
    let fine = places(answer.step_bar, 2) + 1;
    let mut reckoned = pull_pressure::given(puller);
    if let Some(source) = &supply.puller.source {
        let said = given("pressure-source").with("source", source.as_str());
        for value in &mut reckoned.given {
            value.from = Some(said.clone());
        }
    }
    let force = |kn: f64| places(kn, 1);
    let rated = supply.pressure_bar;
    let reckoned = reckoned
        .given(
            "p_r",
            given("given-rated-bar"),
            rated,
            places(rated, 1),
            "bar",
        )
        .given(
            "q",
            given("given-gauge-step"),
            answer.step_bar,
            places(answer.step_bar, 1),
            "bar",
        )
        .given(
            "w_p",
            given(
                if supply.puller.gauge_expanded_bar == Some(answer.gauge_bar) {
                    "given-gauge-doubt"
                } else {
                    "given-gauge-doubt-step"
                },
            ),
            answer.gauge_bar,
            places(answer.gauge_bar, 1),
            "bar",
        );
    let reckoned = match answer.goal {
        Goal::Reach => reckoned,
        Goal::Stop => reckoned.given(
            "F_l",
            given("given-least-force"),
            least_kn,
            force(least_kn),
            "kN",
        ),
    };
    let most = given("given-most-force");
    let reckoned = reckoned.given("F_u", most, most_kn, force(most_kn), "kN");
    let reckoned = match answer.goal {
        Goal::Reach => reckoned
            .step(
                "p₁",
                "F_u · 10000 / (i · A · (1 − f − w_f)) + w_p",
                answer.least_bar,
                fine,
                "bar",
            )
            .step(
                "p",
                "min(q · ⌈p₁ / q⌉, p_r − w_p)",
                answer.set_bar,
                fine,
                "bar",
            ),
        Goal::Stop => reckoned
            .step(
                "p₁",
                "F_l · 10000 / (i · A · (1 − f − w_f)) + w_p",
                answer.least_bar,
                fine,
                "bar",
            )
            .step(
                "p₂",
                "F_u · 10000 / (i · A · (1 − f + w_f)) − w_p",
                too_much_bar,
                fine,
                "bar",
            )
            .step("p_m", "min(p₂, p_r − w_p)", answer.most_bar, fine, "bar")
            .step(
                "p",
                "q · round((p₁ + p_m) / 2 / q)",
                answer.set_bar,
                fine,
                "bar",
            ),
    };
    reckoned
        .step("F", "p · i · A · (1 − f) / 10000", answer.pull.kn, 2, "kN")
        .step(
            "F₁",
            "(p − w_p) · i · A · (1 − f − w_f) / 10000",
            answer.pull.least_kn,
            2,
            "kN",
        )
        .step(
            "F₂",
            "(p + w_p) · i · A · (1 − f + w_f) / 10000",
            answer.pull.most_kn,
            2,
            "kN",
        )
        .note(given("note-stall"))
}
