//! A tool model: what one make of setting tool is, from its nose to its tail.

use calc::decision::{Limits, Rule};
use calc::screw_stop::{Effect, Hand, ScrewStop};
use calc::stroke_relation::Relation;
use calc::units::Unit;
use rust_decimal::Decimal;

use super::{AfterOpening, FitCheck, Side};

/// What drives the pull.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Drive {
    /// Battery, ball screw.
    Battery,
    /// Compressed air through an intensifier.
    AirHydraulic,
    /// A pump beside the tool.
    Hydraulic,
}

impl Drive {
    /// Every drive.
    pub const ALL: [Self; 3] = [Self::Battery, Self::AirHydraulic, Self::Hydraulic];

    /// As written in sheets.
    pub fn key(self) -> &'static str {
        match self {
            Self::Battery => "battery",
            Self::AirHydraulic => "air-hydraulic",
            Self::Hydraulic => "hydraulic",
        }
    }
}

/// A tool model sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct ToolModel {
    /// Id, unique among models.
    pub id: String,
    /// Name as the trade calls it.
    pub name: String,
    /// Drive.
    pub drive: Drive,
    /// Rated pull, kN.
    pub rated_pull_kn: f64,
    /// Full stroke, mm.
    pub stroke_mm: f64,
    /// Cycle time, s.
    pub cycle_s: f64,
    /// Mass without pack or hose, kg.
    pub mass_kg: f64,
    /// Vibration total value as declared, m/s².
    pub vibration_m_per_s2: Option<f64>,
    /// Its uncertainty K as declared, m/s².
    pub vibration_uncertainty: Option<f64>,
    /// A-weighted sound pressure level as declared, dB.
    pub noise_db: Option<f64>,
    /// Price of a new one, without tax, where the sheet knows it.
    pub price_new: Option<Decimal>,
    /// Years that a new one lasts, where the sheet knows it.
    pub life_years: Option<f64>,
    /// Thread of the front end that takes the nose housing.
    pub front_end: Thread,
    /// Battery pack, for battery tools.
    pub pack: Option<Pack>,
    /// Air or hydraulic supply, for the others.
    pub supply: Option<Supply>,
    /// The stroke adjuster.
    pub adjuster: Adjuster,
    /// How to set the stroke, per nose set and fastener family.
    pub settings: Vec<Setting>,
    /// What comes with a complete tool.
    pub kit: Vec<KitItem>,
    /// Parts in order along the axis, nose first.
    pub parts: Vec<Part>,
    /// Threaded and locked joints.
    pub joints: Vec<Joint>,
    /// Steps before the first power-up, by what was off.
    pub after_opening: Vec<AfterOpening>,
    /// Lubricants.
    pub lubricants: Vec<Lubricant>,
    /// Service tasks.
    pub tasks: Vec<Task>,
    /// Bench tests.
    pub bench_tests: Vec<BenchTest>,
    /// Limits of what a recorded pull of a fastener measures.
    pub pull_limits: Vec<super::PullLimit>,
    /// Warranty terms.
    pub warranty: Warranty,
    /// Cautions that hold for the whole tool.
    pub cautions: Vec<Caution>,
}

/// A thread: size as written and hand.
#[derive(Clone, Debug, PartialEq)]
pub struct Thread {
    /// Size, such as `M30x1.5`.
    pub size: String,
    /// Hand.
    pub hand: Hand,
}

impl ToolModel {
    /// Turns that the adjuster has: its whole travel is the stroke.
    pub fn most_turns(&self) -> f64 {
        self.stroke_mm / self.adjuster.stop.pitch_mm
    }

    /// The part with this id.
    pub fn part(&self, id: &str) -> Option<&Part> {
        self.parts.iter().find(|part| part.id == id)
    }

    /// The first part that is the fault model's `id`.
    pub fn part_called(&self, id: &str) -> Option<&Part> {
        self.parts.iter().find(|part| part.is(id))
    }
}

/// A battery pack.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pack {
    /// Nominal voltage, V.
    pub voltage_v: f64,
    /// Capacity, Ah.
    pub capacity_ah: f64,
}

impl Pack {
    /// Nominal energy, Wh.
    pub fn energy_wh(&self) -> f64 {
        self.voltage_v * self.capacity_ah
    }
}

/// What an air or hydraulic tool is fed with.
#[derive(Clone, Debug, PartialEq)]
pub struct Supply {
    /// Pressure at which the pull is rated, bar; for air, held at stall.
    pub pressure_bar: f64,
    /// Return pressure, bar, hydraulic only.
    pub return_bar: Option<f64>,
    /// Fluid inside, as the maker words it.
    pub fluid: String,
    /// What turns its pressure into pull.
    pub puller: super::PullerFacts,
}

/// The stroke adjuster.
#[derive(Clone, Debug, PartialEq)]
pub struct Adjuster {
    /// The stop and its four facts, checked against the effect stated in the sheet.
    pub stop: ScrewStop,
    /// Steps that hands can set, turns.
    pub step_turns: f64,
    /// Standard deviation between tools of this model at the same turns, mm, where the sheet knows it.
    pub tools_differ_mm: Option<f64>,
    /// The side from which a setting is approached, against backlash: the last move has this effect.
    pub approach: Effect,
    /// The key or tool that turns it.
    pub key: String,
}

/// How the stroke is set for one nose set and one fastener family.
#[derive(Clone, Debug, PartialEq)]
pub struct Setting {
    /// Nose set id.
    pub nose_set: String,
    /// Fastener family id.
    pub fastener: String,
    /// What it is read from.
    pub basis: SettingBasis,
    /// Table rows: measured millimetres, turns from zero. Empty for full stroke and force; of a relation
    /// alone, the two ends of the travel.
    pub rows: Vec<(f64, f64)>,
    /// Expanded uncertainty of the table, or of the relation alone, turns (k = 2).
    pub expanded_turns: f64,
    /// The relation between stick-out and stroke, where the sheet states it.
    pub relation: Option<Relation>,
    /// Whether the relation stands alone, without a table beside it.
    pub by_relation: bool,
}

/// What a setting is read from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SettingBasis {
    /// The measured stick-out of the pin.
    StickOut,
    /// The wanted stroke (rivet nuts).
    Stroke,
    /// None: the fastener breaks its own tail at full stroke.
    FullStroke,
    /// The pull, by the pressure that is held: nothing else ends it (rivet nuts).
    Force,
}

impl SettingBasis {
    /// Whether the adjuster is turned for it.
    pub fn is_by_turns(self) -> bool {
        matches!(self, Self::StickOut | Self::Stroke)
    }
}

/// Something that belongs to a complete tool.
#[derive(Clone, Debug, PartialEq)]
pub struct KitItem {
    /// What it is.
    pub item: String,
    /// How many.
    pub count: u32,
    /// Whether the warranty asks for it (an internal part).
    pub internal: bool,
    /// Whether it is the battery pack.
    pub pack: bool,
    /// What it guards against before the tool runs; `None` if it is no guard.
    pub guards: Option<Guard>,
}

/// What a part of the kit guards against.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Guard {
    /// Tails and mandrels that fly.
    Tails,
    /// Hands that come near what moves.
    Hands,
}

/// How a part is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// A tube or housing.
    Sleeve,
    /// A solid rod or piston.
    Rod,
    /// A fingered collet or a set of jaws.
    Collet,
    /// A coil spring.
    Spring,
    /// A flat ring: washer, spacer, lock ring, bearing.
    Ring,
    /// A nut.
    Nut,
    /// A block: motor, gears, valve, sensor.
    Block,
    /// A key or pin across the axis.
    Key,
}

/// A part on the axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Id, unique in the sheet.
    pub id: String,
    /// Name.
    pub name: String,
    /// Part number.
    pub number: String,
    /// Price.
    pub price: Decimal,
    /// How it is drawn.
    pub shape: Shape,
    /// Length along the axis, mm.
    pub length_mm: f64,
    /// Outside diameter, mm.
    pub outside_mm: f64,
    /// Bore, mm.
    pub bore_mm: Option<f64>,
    /// Sits beside the axis (switch, pack, hose): not drawn on it, not part of its order.
    pub off_axis: bool,
    /// Ids of the parts that must be off before it can come off; `None` where the sheet leaves it to
    /// the order on the axis.
    pub after: Option<Vec<String>>,
    /// The side from which it comes off.
    pub from: Side,
    /// Lubricant id that it gets when fitted, with the amount.
    pub lubricant: Option<(String, String)>,
    /// Renewed whenever it was disturbed.
    pub renew: bool,
    /// A new one moves the setting: what the tool's earlier joints say of its adjuster holds no more.
    pub moves_setting: bool,
    /// Which way round it goes, if it matters.
    pub orientation: Option<String>,
    /// Wear to measure.
    pub wear: Vec<Wear>,
    /// What is measured once it is fitted.
    pub fitted: Vec<FitCheck>,
    /// Danger when it comes off or goes on.
    pub caution: Option<Caution>,
    /// Minutes to take off and fit again.
    pub minutes: f64,
    /// Part ids of the fault model that this part is.
    pub also_called: Vec<String>,
}

impl Part {
    /// Whether it is the fault model's part `id`, by its own id or another name of it.
    pub fn is(&self, id: &str) -> bool {
        self.id == id || self.also_called.iter().any(|also| also == id)
    }
}

/// A wear dimension of a part.
#[derive(Clone, Debug, PartialEq)]
pub struct Wear {
    /// Id, unique in the part.
    pub id: String,
    /// What is measured.
    pub what: String,
    /// Unit.
    pub unit: Unit,
    /// Size when new.
    pub new: f64,
    /// Limits in service.
    pub limits: Limits,
    /// Life, pulls.
    pub life_pulls: Option<u64>,
}

/// A threaded joint that holds a part.
#[derive(Clone, Debug, PartialEq)]
pub struct Joint {
    /// Id, unique in the sheet.
    pub id: String,
    /// Name.
    pub name: String,
    /// The part that this joint holds.
    pub holds: String,
    /// Thread.
    pub thread: Thread,
    /// How many of them.
    pub count: u32,
    /// Torque, N·m.
    pub torque_nm: f64,
    /// Tolerance either side, N·m.
    pub tolerance_nm: f64,
    /// How it is locked.
    pub locking: String,
    /// Tool that turns it.
    pub tool: String,
    /// Adapter that the wrench needs here.
    pub adapter: Option<JointAdapter>,
    /// Danger when it is undone or tightened.
    pub caution: Option<Caution>,
}

/// An adapter, such as a crow-foot, without which a wrench does not reach a joint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JointAdapter {
    /// Middle of the wrench's drive to middle of the fastener, mm.
    pub offset_mm: f64,
    /// Angle between adapter and wrench, degrees; 0 in line, 90 across.
    pub angle_deg: f64,
}

impl Joint {
    /// Limits of the tightening torque, N·m.
    pub fn limits(&self) -> Option<Limits> {
        Limits::new(
            Some(self.torque_nm - self.tolerance_nm),
            Some(self.torque_nm + self.tolerance_nm),
        )
        .ok()
    }
}

/// A lubricant.
#[derive(Clone, Debug, PartialEq)]
pub struct Lubricant {
    /// Id.
    pub id: String,
    /// What it is.
    pub name: String,
}

/// A service task.
#[derive(Clone, Debug, PartialEq)]
pub struct Task {
    /// Id.
    pub id: String,
    /// What is done.
    pub what: String,
    /// Due after so many pulls.
    pub every_pulls: Option<u64>,
    /// Due after so many days.
    pub every_days: Option<u32>,
    /// Due every shift.
    pub every_shift: bool,
    /// Parts that are looked at in it, by id; a part that it is called after need not be named.
    pub parts: Vec<String>,
    /// Parts that it takes off, washes and fits again, by id: a rebuild that did so did the task.
    pub washes: Vec<String>,
}

impl Task {
    /// Whether part `id` is looked at in it.
    pub fn looks_at(&self, id: &str) -> bool {
        self.id == id || self.parts.iter().any(|part| part == id)
    }
}

/// A bench test that a tool passes before it leaves.
#[derive(Clone, Debug, PartialEq)]
pub struct BenchTest {
    /// Id.
    pub id: String,
    /// What is tested.
    pub name: String,
    /// How.
    pub method: String,
    /// Number against limits, or yes/no.
    pub kind: BenchTestKind,
    /// Taken as found, before anything is cleaned.
    pub as_found: bool,
    /// It opens the adjuster: made before the set-up, so that what is locked stays locked.
    pub opens_adjuster: bool,
    /// What answers it in recorded pulls to stall against a load cell.
    pub feature: Option<super::Feature>,
    /// Danger while testing.
    pub caution: Option<Caution>,
}

/// What a bench test gives.
#[derive(Clone, Debug, PartialEq)]
pub enum BenchTestKind {
    /// A number.
    Measured {
        /// Unit.
        unit: Unit,
        /// Limits.
        limits: Limits,
        /// Decision rule.
        rule: Rule,
        /// Readings asked for.
        count: usize,
        /// How far the readings may lie apart, percent of their mean.
        spread_percent: Option<f64>,
        /// Kinds of gauge that can take it, as in gauge sheets.
        gauges: Vec<super::GaugeKind>,
    },
    /// Passed or not, by looking.
    Looked {
        /// What passing means.
        pass: String,
    },
}

/// From which day the months of a warranty run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TermFrom {
    /// The day of sale.
    Sale,
    /// The day on which the tool was first used.
    FirstUse,
}

/// Warranty terms.
#[derive(Clone, Debug, PartialEq)]
pub struct Warranty {
    /// Months from the day that `from` names.
    pub months: u32,
    /// From which day they run.
    pub from: TermFrom,
    /// Pull limit.
    pub pulls: Option<u64>,
    /// Parts that wear and are not covered, by part id.
    pub excluded_parts: Vec<String>,
    /// What makes it fall away.
    pub voided_by: Vec<String>,
    /// What must be sent along.
    pub evidence: Vec<String>,
    /// Who decides on a claim, where the sheet says so.
    pub decided_by: Option<String>,
    /// Where the terms stand.
    pub source: String,
}

/// A caution at a step.
#[derive(Clone, Debug, PartialEq)]
pub struct Caution {
    /// What to do.
    pub text: String,
    /// Where it comes from.
    pub source: String,
}
