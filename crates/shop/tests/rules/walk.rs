//! A job led through its stages with good readings, as a test needs it.

use calc::decision::Limits;
use calc::screw_stop::Hand;
use calc::units::Unit;
use rust_decimal::Decimal;
use shop::entry::{Cover, Phase, PriceLine, Seen};
use shop::job::{
    AnswerIn, BenchTestIn, Command, EndIn, JointIn, JudgeIn, Measured, QuoteIn, ReturnIn, Stage,
    StepIn, TrialJointIn, TypedValue, to_set,
};
use shop::route::{Act, Hold, Step};
use shop::sheet::{BenchTestKind, Direction, Gauge, GaugeKind};
use shop::trial::own::Past;

use crate::bench::{Bench, TODAY, measured, person, shelf};

/// A step with its look or tick.
pub fn look(step: &str, passed: bool) -> Command {
    Command::DoStep(StepIn {
        step: step.to_owned(),
        passed: Some(passed),
        ..StepIn::default()
    })
}

/// A plain step.
pub fn tick(step: &str) -> Command {
    with_reason(step, "")
}

/// A step without a reading, with a reason.
pub fn with_reason(step: &str, reason: &str) -> Command {
    Command::DoStep(StepIn {
        step: step.to_owned(),
        reason: reason.to_owned(),
        ..StepIn::default()
    })
}

/// A step with its reading.
pub fn reading(step: &str, gauge: &str, value: f64) -> Command {
    Command::DoStep(read(step, gauge, &[value]))
}

/// What is typed at a step with readings.
pub fn read(step: &str, gauge: &str, values: &[f64]) -> StepIn {
    StepIn {
        step: step.to_owned(),
        measured: Some(measured(gauge, values)),
        ..StepIn::default()
    }
}

pub fn plan(part: &str) -> Command {
    plan_all(&[part])
}

/// A route to several parts.
pub fn plan_all(parts: &[&str]) -> Command {
    Command::PlanRoute {
        parts: parts.iter().map(|part| (*part).to_owned()).collect(),
        note: String::new(),
    }
}

pub fn renew(part: &str) -> Command {
    Command::ReplacePart {
        part: part.to_owned(),
        number: String::new(),
        reason: "worn".to_owned(),
        counter: None,
        unagreed: "the customer, by telephone".to_owned(),
    }
}

pub fn not_safe() -> Command {
    Command::NotSafe {
        reason: "the case is open".to_owned(),
    }
}

pub fn cause(id: &str) -> Command {
    Command::ConfirmCause {
        causes: vec![id.to_owned()],
        note: String::new(),
    }
}

pub fn warranty() -> Command {
    Command::JudgeWarranty(JudgeIn {
        cover: Some(Cover::NotCovered),
        term: "wear".to_owned(),
        evidence: "the collet".to_owned(),
        ..JudgeIn::default()
    })
}

pub fn estimate(each: i64) -> Command {
    Command::Estimate(QuoteIn {
        lines: vec![PriceLine {
            what: "Collet".to_owned(),
            number: "CR8".to_owned(),
            count: Decimal::ONE,
            each: Decimal::from(each),
            ..PriceLine::default()
        }],
        ..QuoteIn::default()
    })
}

pub fn answer(yes: bool) -> Command {
    Command::Answer(AnswerIn {
        yes: Some(yes),
        name: Some(person("customer")),
        on: Some(TODAY),
        received: TODAY,
        ..AnswerIn::default()
    })
}

pub fn hand_back() -> Command {
    Command::Return(ReturnIn {
        to: Some(person("driver")),
        authorised: Some(person("bench")),
        with: Vec::new(),
        checked: true,
        note: "The case stays here.".to_owned(),
        doubted: shop::job::Doubted::default(),
        end: EndIn::Back,
    })
}

pub fn sign_off() -> Command {
    Command::SignOffSetUp {
        locked: true,
        made_safe: safe(),
        reason: String::new(),
    }
}

pub fn prove() -> Command {
    Command::SignOffProof {
        adjuster_stands: true,
        reason: String::new(),
    }
}

pub fn skip(stage: Stage) -> Command {
    Command::Skip {
        stage,
        reason: "not needed".to_owned(),
    }
}

/// A bench test with these readings.
pub fn test(phase: Phase, id: &str, gauge: &str, values: &[f64]) -> Command {
    Command::ReadBenchTest(BenchTestIn {
        phase,
        test: id.to_owned(),
        measured: Some(measured(gauge, values)),
        passed: None,
        note: String::new(),
    })
}

/// A bench test by eye.
pub fn looked(id: &str, passed: bool) -> Command {
    Command::ReadBenchTest(BenchTestIn {
        phase: Phase::AsLeft,
        test: id.to_owned(),
        measured: None,
        passed: Some(passed),
        note: String::new(),
    })
}

/// Every make-safe tick of every drive.
pub fn safe() -> Vec<String> {
    use shop::sheet::Drive;
    let drives = [Drive::Battery, Drive::AirHydraulic, Drive::Hydraulic];
    let ticks = drives.into_iter().flat_map(shop::job::make_safe_ticks);
    ticks.map(|&tick| tick.to_owned()).collect()
}

pub fn fit(fastener: &str, code: &str, nose_set: &str) -> Command {
    Command::Fit {
        fastener: fastener.to_owned(),
        code: code.to_owned(),
        nose_set: nose_set.to_owned(),
        collet: None,
        made_safe: safe(),
        stack: shop::grip::StackIn::default(),
    }
}

pub fn stick_out(mm: f64) -> Command {
    Command::ReadStickOut {
        clamped: true,
        measured: measured("c-3", &[mm, mm + 0.02, mm - 0.02]),
        past: Past::default(),
        stack: shop::grip::StackIn::default(),
    }
}

/// A trial joint at `turns`.
pub fn joint(turns: Option<f64>, seen: Seen, readings: &[(&str, &str, f64)]) -> Command {
    Command::ReadJoint(TrialJointIn {
        turns: turns.map(|value| TypedValue {
            field: "turns".to_owned(),
            raw: value.to_string(),
            value,
        }),
        pressure: measured("", &[]),
        made_safe: safe(),
        joint: joint_in(Some(seen), readings),
    })
}

/// A joint of a Marlstead M8 with the tool as it came.
pub fn found_joint(seen: Seen, readings: &[(&str, &str, f64)]) -> Command {
    Command::ReadFoundJoint {
        fastener: "marlstead-m8".to_owned(),
        joint: joint_in(Some(seen), readings),
    }
}

/// What is typed of a joint.
pub fn joint_in(seen: Option<Seen>, readings: &[(&str, &str, f64)]) -> JointIn {
    JointIn {
        seen,
        readings: readings
            .iter()
            .map(|(id, gauge, value)| ((*id).to_owned(), measured(gauge, &[*value])))
            .collect(),
        note: String::new(),
    }
}

/// Readings of a Marlstead M8 well inside every limit.
pub const GOOD_M8: [(&str, &str, f64); 3] = [
    ("collar-diameter", "m-1", 13.0),
    ("reach", "d-1", 1.1),
    ("gap", "f-1", 0.03),
];

/// A good joint of a Marlstead M8 with the adjuster at `turns`.
pub fn good_m8(turns: f64) -> Command {
    joint(Some(turns), Seen::Good, &GOOD_M8)
}

fn middle(limits: Limits) -> f64 {
    match (limits.lower(), limits.upper()) {
        (Some(l), Some(u)) => f64::midpoint(l, u),
        (Some(l), None) => l * 1.1,
        (_, u) => u.unwrap_or(1.0) * 0.6,
    }
}

/// The finest gauge in date that reads `value`.
fn gauge_for(unit: Unit, kinds: &[GaugeKind], hand: Option<Hand>, value: f64) -> String {
    let way = hand.map(|hand| match hand {
        Hand::Right => Direction::Clockwise,
        Hand::Left => Direction::CounterClockwise,
    });
    let gauges = shelf().gauges().map(|(_, gauge)| gauge);
    let fits = gauges
        .filter(|g| g.unit == unit && shelf().is_in_date(g, TODAY))
        .filter(|g| kinds.is_empty() || kinds.contains(&g.kind))
        .filter(|g| (g.range.0..=g.range.1).contains(&value))
        .filter(|g| way.is_none_or(|way| g.directions.contains(&way)));
    let finest = fits.min_by(|a, b| a.expanded.total_cmp(&b.expanded));
    finest.expect("a gauge").id.clone()
}

/// A good reading for a hold step.
pub fn good_reading(step: &Step) -> Measured {
    let Some(Hold::Reading {
        unit,
        limits,
        gauges,
    }) = step.hold()
    else {
        panic!("{} asks for no reading", step.id);
    };
    let value = match &step.act {
        Act::Gauge(_, wear) => wear.new,
        // Behind an adapter the wrench shows less than the joint gets: its own length is on its sheet.
        Act::Tighten(joint, _) if joint.adapter.is_some() => {
            let fits = |g: &&Gauge| g.length_mm.is_some() && shelf().is_in_date(g, TODAY);
            let gauge = shelf().gauges().map(|(_, g)| g).find(fits);
            let gauge = gauge.expect("a wrench with its length");
            let used = joint.adapter.zip(gauge.length_mm).map(|(a, arm)| a.on(arm));
            let set = used.and_then(|used| to_set(joint, &used)).expect("a lever");
            return measured(&gauge.id, &[(set * 10.0).round() / 10.0]);
        }
        _ => middle(limits),
    };
    measured(&gauge_for(unit, &gauges, step.hand(), value), &[value])
}

impl Bench {
    /// The cause is confirmed after one test as found.
    pub fn found(mut self, id: &str) -> Self {
        let tests = &self.model().bench_tests;
        let test = tests.iter().find(|t| t.as_found).expect("as found");
        self.does(as_it_should(test, Phase::AsFound));
        self.does(cause(id));
        self
    }

    /// Price and yes.
    pub fn agreed(mut self) -> Self {
        self.does(warranty());
        self.does(estimate(100));
        self.does(answer(true));
        self
    }

    /// A tool with worn teeth, agreed.
    pub fn ready(model: &str) -> Self {
        Self::received(model, &["jaws-slip"])
            .found("collet-teeth-worn")
            .agreed()
    }

    /// Does every step up to `until`, without it, with good readings and passed looks.
    pub fn work_until(&mut self, until: &str) {
        loop {
            let steps = self.job().route_steps(self.model()).expect("a route");
            let next = self.job().next_step(&steps).expect("a step is open");
            let step = &steps[next];
            if step.id == until {
                return;
            }
            self.does(self.good(step));
            assert!(self.job().passed(step), "{} is as it should be", step.id);
        }
    }

    /// The step done well.
    fn good(&self, step: &Step) -> Command {
        let wants = step.hold();
        Command::DoStep(StepIn {
            step: step.id.clone(),
            measured: matches!(wants, Some(Hold::Reading { .. })).then(|| good_reading(step)),
            passed: (wants == Some(Hold::Look)).then_some(true),
            reason: match &step.act {
                Act::Fit(part) if part.renew => "renewed last week".to_owned(),
                _ => String::new(),
            },
            mended: match &step.act {
                Act::PowerUp(..) => {
                    let job = self.job();
                    job.signs_open(&self.desk).map(|s| s.id.clone()).collect()
                }
                _ => Vec::new(),
            },
            ..StepIn::default()
        })
    }

    /// Strip and rebuild down to `part`, first power-up passed.
    pub fn rebuilt(mut self, part: &str) -> Self {
        self.does(plan(part));
        self.work_until("power-look");
        self.does(look("power-look", true));
        self
    }

    /// A TB-32 set up for a Marlstead M8, signed off.
    pub fn set_up_m8(mut self) -> Self {
        for test in self.model().bench_tests.iter().filter(|t| t.opens_adjuster) {
            self.does(as_it_should(test, Phase::AsLeft));
        }
        self.does(fit("marlstead-m8", "06", "n8"));
        self.does(stick_out(26.2));
        for _ in 0..3 {
            self.does(good_m8(6.5));
        }
        self.does(sign_off());
        self
    }

    /// Every bench test as left, well inside its limits.
    pub fn tested(mut self) -> Self {
        let stands = self.job().adjuster_stands_at().is_some();
        let tests = self.model().bench_tests.iter();
        for test in tests.filter(|t| !(stands && t.opens_adjuster)) {
            self.does(as_it_should(test, Phase::AsLeft));
        }
        self
    }

    /// What a technician with a TB-32 would do next; `pick` where there is a choice.
    pub fn sensible(&self, pick: usize) -> Command {
        let job = self.job();
        let tests = &self.model().bench_tests;
        let of = |choices: &[Command]| choices[pick % choices.len()].clone();
        match job.stage() {
            None => crate::bench::strike(job.version),
            Some(Stage::Received | Stage::Fault) => of(&[
                as_it_should(&tests[0], Phase::AsFound),
                cause("collet-teeth-worn"),
                not_safe(),
            ]),
            Some(Stage::Agreed) => match (&job.warranty, &job.estimate) {
                (None, _) => warranty(),
                (_, None) => estimate(100),
                _ => of(&[answer(true), answer(true), answer(false), estimate(90)]),
            },
            Some(Stage::Rebuilt) => {
                let steps = job.route_steps(self.model()).unwrap_or_default();
                match job.next_step(&steps) {
                    Some(next) if !pick.is_multiple_of(9) => self.good(&steps[next]),
                    _ => of(&[plan("collet"), skip(Stage::Rebuilt), plan("anvil")]),
                }
            }
            Some(Stage::SetUp) => {
                let set_up = job.set_up();
                let free = job.adjuster_stands_at().is_none();
                let mut open = tests.iter().filter(|t| t.opens_adjuster && free);
                if let Some(test) = open.find(|t| job.test(Phase::AsLeft, &t.id).is_none()) {
                    return as_it_should(test, Phase::AsLeft);
                }
                match set_up.map(|s| (s.stick_out().is_some(), s.good_in_a_row())) {
                    None => of(&[fit("marlstead-m8", "06", "n8"), skip(Stage::SetUp)]),
                    Some((false, _)) => stick_out(26.2),
                    Some((true, good)) if good < 3 => good_m8(6.5),
                    Some(_) => sign_off(),
                }
            }
            Some(Stage::Proved) => {
                let open = tests
                    .iter()
                    .find(|t| job.test(Phase::AsLeft, &t.id).is_none());
                let stands = job.adjuster_stands_at().is_some();
                if open.is_some_and(|test| test.opens_adjuster && stands) {
                    return of(&[plan("collet"), fit("marlstead-m8", "06", "n8")]);
                }
                let open = open.map(|test| as_it_should(test, Phase::AsLeft));
                open.unwrap_or_else(|| of(&[prove(), prove(), plan("collet")]))
            }
            Some(Stage::Returned) => hand_back(),
        }
    }

    /// A TB-32 proved and ready to go back.
    pub fn proved() -> Self {
        let mut bench = Self::ready("tulvane-tb-32").rebuilt("collet").set_up_m8();
        bench = bench.tested();
        bench.does(prove());
        bench
    }
}

pub fn as_it_should(test: &shop::sheet::BenchTest, phase: Phase) -> Command {
    let measured = match &test.kind {
        BenchTestKind::Measured {
            unit,
            limits,
            count,
            gauges,
            ..
        } => {
            let value = middle(*limits);
            let gauge = gauge_for(*unit, gauges, None, value);
            Some(measured(&gauge, &vec![value; *count]))
        }
        BenchTestKind::Looked { .. } => None,
    };
    Command::ReadBenchTest(BenchTestIn {
        phase,
        test: test.id.clone(),
        passed: measured.is_none().then_some(true),
        measured,
        note: match test.opens_adjuster {
            true => "Stood at 6½ turns; set back there and locked".to_owned(),
            false => String::new(),
        },
    })
}
