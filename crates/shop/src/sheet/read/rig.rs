//! Reads a rig sheet, and limits of pulls.

use calc::Message;
use calc::pull::reading::Filter;
use calc::pull::recording::{self, Column, LoggedUnit, Place, Role};
use calc::units::Dimension;

use super::shared;
use super::table::Table;
use super::value::{self, Span, Word};
use crate::sheet::{Feature, PullLimit, Rig};

const FORCE: Span = Span(-5000.0, 5000.0);

impl Word for Feature {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("peak", Feature::Peak),
        ("break", Feature::Break),
        ("take-up", Feature::TakeUp),
        ("plateau", Feature::Plateau),
        ("stiffness", Feature::Stiffness),
        ("stroke", Feature::Stroke),
        ("energy", Feature::Energy),
        ("release", Feature::Release),
        ("cycle", Feature::Cycle),
        ("return", Feature::Return),
        ("hold-loss", Feature::HoldLoss),
        ("slips", Feature::Slips),
        ("slip-size", Feature::SlipSize),
        ("stick-slip", Feature::StickSlip),
        ("stick-slip-size", Feature::StickSlipSize),
        ("hysteresis", Feature::Hysteresis),
    ];
}

/// Words of the key `filter`.
#[derive(Clone, Copy, PartialEq, Eq)]
enum FilterWord {
    Usual,
    None,
    Butterworth,
    SavitzkyGolay,
}

impl Word for FilterWord {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("usual", FilterWord::Usual),
        ("none", FilterWord::None),
        ("butterworth", FilterWord::Butterworth),
        ("savitzky-golay", FilterWord::SavitzkyGolay),
    ];
}

pub(super) fn read(t: &Table) -> Option<Rig> {
    let column = |key, role| {
        let read = t.table_given(key, |c| column(c, role));
        read.unwrap_or_default()
    };
    let recording = recording::Rig {
        force: column("force", Role::Force),
        stroke: column("stroke", Role::Stroke),
        time: column("time", Role::Time),
        rate_hz: t.given("rate_Hz", |v| value::number(v, Span(1.0, 1e6))),
        zero_kn: t.given("zero_kN", |v| value::number(v, FORCE)),
        cell_bears_kn: None,
        cell_end_kn: t.given("cell_end_kN", |v| value::number(v, Span(0.01, 5000.0))),
        start_kn: t.given("start_kN", |v| value::number(v, Span(0.001, 500.0))),
    };
    Some(Rig {
        id: t.id("id"),
        name: t.string("name"),
        load_cell: t.id("load_cell"),
        stroke_sensor: t.id("stroke_sensor"),
        recording,
        filter: filter(t),
    })
}

/// One column. What it leaves open the file's heading says.
fn column(t: &Table, role: Role) -> Column {
    let number = t.given("column", |v| value::whole(v, 1, 1000));
    let heading = t.given("heading", value::string);
    if number.is_some() && heading.is_some() {
        t.mistake("heading", Message::new("sheet-rig-place"));
    }
    let number = number.map(|n| Place::Number(n as usize));
    let unit = t.given("unit", |v| logged_unit(v, role));
    let scale = t.given("scale", |v| value::number(v, Span(-1e9, 1e9)));
    if t.good(&["scale"]) && scale == Some(0.0) {
        t.mistake("scale", Message::new("sheet-rig-scale-zero"));
    }
    if unit == Some(LoggedUnit::Volt) && !t.has("scale") {
        t.mistake("scale", Message::new("sheet-rig-volts"));
    }
    Column {
        place: number.or(heading.map(Place::Heading)),
        unit,
        scale,
        offset: t
            .given("offset", |v| value::number(v, Span(-1e9, 1e9)))
            .unwrap_or(0.0),
    }
}

/// A unit that a column of `role` can be in.
fn logged_unit(value: &toml::de::DeValue, role: Role) -> Result<LoggedUnit, Message> {
    let written = value::string(value)?;
    let (wanted, allowed) = match role {
        Role::Force => (Dimension::Force, "N, kN, lbf, V"),
        Role::Stroke => (Dimension::Length, "mm, in, V"),
        Role::Time => (Dimension::Time, "s, ms, µs"),
    };
    let fits = |unit: &LoggedUnit| match unit {
        LoggedUnit::Of(unit) => unit.dimension() == wanted,
        LoggedUnit::Millisecond | LoggedUnit::Microsecond => role == Role::Time,
        LoggedUnit::Volt => role != Role::Time,
    };
    LoggedUnit::parse(&written)
        .filter(fits)
        .ok_or_else(|| Message::new("sheet-rig-unit").with("allowed", allowed))
}

/// The filter; left out, the usual one.
fn filter(t: &Table) -> Filter {
    let word = t.given("filter", value::word::<FilterWord>);
    let order = t.given("filter_order", |v| value::whole(v, 1, 8));
    let cutoff = t.given("filter_cutoff_Hz", |v| value::number(v, Span(0.1, 1e6)));
    let window = t.given("filter_window", |v| value::whole(v, 3, 10_001));
    let degree = t.given("filter_degree", |v| value::whole(v, 0, 9));
    let refuse = |keys: [&'static str; 2]| {
        for key in keys.into_iter().filter(|key| t.has(key)) {
            t.mistake(key, Message::new("sheet-rig-filter-key"));
        }
    };
    let need = |key: &'static str| {
        if !t.has(key) {
            t.mistake(key, Message::new("sheet-key-missing").with("key", key));
        }
    };
    let (of_butterworth, of_savitzky) = (
        ["filter_order", "filter_cutoff_Hz"],
        ["filter_window", "filter_degree"],
    );
    match word {
        Some(FilterWord::Butterworth) => {
            refuse(of_savitzky);
            need("filter_cutoff_Hz");
            Filter::Butterworth {
                order: order.unwrap_or(2) as usize,
                cutoff_hz: cutoff.unwrap_or(1.0),
            }
        }
        Some(FilterWord::SavitzkyGolay) => {
            refuse(of_butterworth);
            need("filter_window");
            if window.is_some_and(|w| w % 2 == 0) {
                t.mistake("filter_window", Message::new("sheet-rig-window"));
            }
            Filter::SavitzkyGolay {
                window: window.unwrap_or(3) as usize,
                degree: degree.unwrap_or(2) as usize,
            }
        }
        word => {
            refuse(of_butterworth);
            refuse(of_savitzky);
            match word {
                Some(FilterWord::None) => Filter::None,
                _ => Filter::Usual,
            }
        }
    }
}

/// Limits of what a pull measures.
pub(super) fn pull_limit(t: &Table) -> Option<PullLimit> {
    let limits = shared::limits(t);
    Some(PullLimit {
        fastener: t.id("fastener"),
        feature: t.word("feature"),
        rule: shared::rule(t),
        limits: limits?,
    })
}
