//! What several kinds of sheets have in common: limits, threads, cautions, the words of the trade.

use calc::Message;
use calc::decision::{Limits, Rule};
use calc::screw_stop::{Effect, Hand};
use calc::units::{Dimension, Unit};
use toml::de::DeValue;

use super::mistake::plain;
use super::table::Table;
use super::value::{self, Span, Word};
use crate::sheet::{Caution, Drive, GaugeKind, GrooveForm, Thread};

/// Any value that a gauge may show.
pub(super) const READING: Span = Span(-1e6, 1e6);

impl Word for Drive {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("battery", Drive::Battery),
        ("air-hydraulic", Drive::AirHydraulic),
        ("hydraulic", Drive::Hydraulic),
    ];
}

impl Word for Hand {
    const WORDS: &'static [(&'static str, Self)] = &[("right", Hand::Right), ("left", Hand::Left)];
}

impl Word for Effect {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("shortens", Effect::Shortens),
        ("lengthens", Effect::Lengthens),
    ];
}

impl Word for Rule {
    const WORDS: &'static [(&'static str, Self)] =
        &[("guarded", Rule::Guarded), ("simple", Rule::Simple)];
}

impl Word for GrooveForm {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("round", GrooveForm::Round),
        ("vee-60", GrooveForm::Vee60),
        ("buttress", GrooveForm::Buttress),
        ("plain", GrooveForm::Plain),
        ("thread", GrooveForm::Thread),
    ];
}

impl Word for GaugeKind {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("caliper", GaugeKind::Caliper),
        ("micrometer", GaugeKind::Micrometer),
        ("depth-gauge", GaugeKind::DepthGauge),
        ("plug-gauge", GaugeKind::PlugGauge),
        ("feeler", GaugeKind::Feeler),
        ("load-cell", GaugeKind::LoadCell),
        ("pressure-gauge", GaugeKind::PressureGauge),
        ("torque-wrench", GaugeKind::TorqueWrench),
        ("timer", GaugeKind::Timer),
        ("spring-tester", GaugeKind::SpringTester),
        ("ammeter", GaugeKind::Ammeter),
        ("flow-meter", GaugeKind::FlowMeter),
        ("displacement-sensor", GaugeKind::DisplacementSensor),
        ("scale", GaugeKind::Scale),
    ];
}

/// What a kind of gauge measures.
pub(in crate::sheet) fn measures(kind: GaugeKind) -> Dimension {
    match kind {
        GaugeKind::Caliper
        | GaugeKind::Micrometer
        | GaugeKind::DepthGauge
        | GaugeKind::PlugGauge
        | GaugeKind::Feeler
        | GaugeKind::DisplacementSensor => Dimension::Length,
        GaugeKind::LoadCell | GaugeKind::SpringTester => Dimension::Force,
        GaugeKind::PressureGauge => Dimension::Pressure,
        GaugeKind::TorqueWrench => Dimension::Torque,
        GaugeKind::Timer => Dimension::Time,
        GaugeKind::Ammeter => Dimension::Current,
        GaugeKind::FlowMeter => Dimension::Flow,
        GaugeKind::Scale => Dimension::Mass,
    }
}

/// A unit by its symbol.
pub(super) fn unit(value: &DeValue) -> Result<Unit, Message> {
    let written = value::string(value)?;
    Unit::parse(&written).ok_or_else(|| {
        let symbols = Unit::ALL.iter().map(|unit| unit.symbol());
        value::one_of("sheet-word", &written, symbols)
    })
}

/// The key `unit`.
pub(super) fn unit_of(table: &Table) -> Unit {
    table.needed("unit", unit).unwrap_or(Unit::Millimetre)
}

/// The keys `lower` and `upper`, of which one at least must be there.
pub(super) fn limits(table: &Table) -> Option<Limits> {
    let side = |key| table.given(key, |v| value::number(v, READING));
    let (lower, upper) = (side("lower"), side("upper"));
    if !table.has("lower") && !table.has("upper") {
        table.mistake("lower", Message::new("sheet-limits-missing"));
        return None;
    }
    let limits = Limits::new(lower, upper);
    if table.good(&["lower", "upper"]) && limits.is_err() {
        let reversed = Message::new("sheet-limits-reversed");
        table.mistake("lower", reversed.with("upper", plain(upper.unwrap_or(0.0))));
    }
    limits.ok()
}

/// The keys `lower` and `upper`, both of which must be there.
pub(super) fn band(table: &Table) -> Option<Limits> {
    for key in ["lower", "upper"] {
        if !table.has(key) {
            table.mistake(key, Message::new("sheet-key-missing").with("key", key));
        }
    }
    if table.has("lower") || table.has("upper") {
        limits(table)
    } else {
        None
    }
}

/// The key `rule`; left out, the uncertainty is guarded.
pub(super) fn rule(table: &Table) -> Rule {
    table.given("rule", value::word).unwrap_or_default()
}

/// The list `gauges`: kinds that can read `unit`.
pub(super) fn gauges(table: &Table, unit: Unit) -> Vec<GaugeKind> {
    let unit_is_known = table.good(&["unit"]);
    let kinds = table.list("gauges", |v| {
        let kind = value::word(v)?;
        if unit_is_known && measures(kind) != unit.dimension() {
            return Err(Message::new("sheet-gauge-unit").with("unit", unit.symbol()));
        }
        Ok(kind)
    });
    if table.good(&["gauges"]) && kinds.is_empty() {
        table.mistake("gauges", Message::new("sheet-too-few").with("least", 1_u32));
    }
    kinds
}

/// The table `key` as a thread. The hand is never guessed.
pub(super) fn thread(table: &Table, key: &'static str) -> Thread {
    table
        .table(key, |t| Thread {
            size: t.string("size"),
            hand: hand(t),
        })
        .unwrap_or(Thread {
            size: String::new(),
            hand: Hand::Right,
        })
}

/// The key `hand`.
pub(super) fn hand(table: &Table) -> Hand {
    if !table.has("hand") {
        table.mistake("hand", Message::new("sheet-hand-missing"));
    }
    table.given("hand", value::word).unwrap_or(Hand::Right)
}

/// A caution with its source.
pub(super) fn caution(table: &Table) -> Caution {
    Caution {
        text: table.string("text"),
        source: table.string("source"),
    }
}

/// The form and pitch of pull grooves or of the teeth that take them.
pub(super) fn groove(table: &Table) -> (GrooveForm, Option<f64>) {
    let form = table.word("form");
    let pitch = table.given("pitch_mm", |v| value::number(v, Span(0.2, 10.0)));
    if table.good(&["form"]) {
        match (form, table.has("pitch_mm")) {
            (GrooveForm::Plain, true) => {
                table.mistake("pitch_mm", Message::new("sheet-pitch-not-wanted"));
            }
            (GrooveForm::Plain, false) | (_, true) => {}
            (_, false) => table.mistake("pitch_mm", Message::new("sheet-pitch-missing")),
        }
    }
    (form, pitch)
}
