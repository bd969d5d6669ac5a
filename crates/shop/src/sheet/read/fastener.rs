//! Reads a fastener family sheet.

use std::cell::Cell;

use calc::Message;
use calc::screw_stop::Effect;

use super::mistake::plain;
use super::shared;
use super::table::Table;
use super::value::{self, Span, Word};
use crate::entry::Seen;
use crate::sheet::{Criterion, Ending, FastenerFamily, FastenerKind, GripCode, Groove};

impl Word for FastenerKind {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("lockbolt", FastenerKind::Lockbolt),
        ("blind-rivet", FastenerKind::BlindRivet),
        ("blind-bolt", FastenerKind::BlindBolt),
        ("rivet-nut", FastenerKind::RivetNut),
    ];
}

impl Word for Seen {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("under", Seen::Under),
        ("cut", Seen::Cut),
        ("lock-grooves-torn", Seen::LockGroovesTorn),
        ("pull-grooves-torn", Seen::PullGroovesTorn),
        ("off-axis", Seen::OffAxis),
        ("gap", Seen::Gap),
        ("marked", Seen::Marked),
        ("broke-low", Seen::BrokeLow),
        ("stub-proud", Seen::StubProud),
    ];
}

impl Word for Ending {
    const WORDS: &'static [(&'static str, Self)] =
        &[("break", Ending::Break), ("non-break", Ending::NonBreak)];
}

/// A change of the stroke that is asked for, where [`Effect`] is one that happens.
#[derive(Clone, Copy)]
struct Change(Effect);

impl Word for Change {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("shorten", Change(Effect::Shortens)),
        ("lengthen", Change(Effect::Lengthens)),
    ];
}

pub(super) fn read(t: &Table) -> Option<FastenerFamily> {
    let kind = t.word("kind");
    let stick_out_mm = t.table_given("stick_out_mm", shared::band).flatten();
    if t.good(&["kind"]) && kind == FastenerKind::Lockbolt && !t.has("stick_out_mm") {
        t.mistake("stick_out_mm", Message::new("sheet-stick-out-missing"));
    }
    let stroke_mm = t.table_given("stroke_mm", shared::band).flatten();
    let groove = t.table("groove", |g| {
        let (form, pitch_mm) = shared::groove(g);
        Groove { form, pitch_mm }
    });
    let length = |key| t.given(key, |v| value::number(v, Span::LENGTH));
    let count = |key| t.given(key, |v| value::whole(v, 1, 200));
    let (tail_mm, pull_grooves) = (length("tail_mm"), count("pull_grooves"));
    let pitch_mm = groove.and_then(|g| g.pitch_mm);
    if let (Some(tail), Some(grooves), Some(pitch)) = (tail_mm, pull_grooves, pitch_mm)
        && f64::from(grooves - 1) * pitch > tail
    {
        let problem = Message::new("sheet-grooves-longer");
        t.mistake("pull_grooves", problem.with("tail", plain(tail)));
    }
    let grip_teeth = count("grip_teeth");
    if let (Some(teeth), Some(grooves)) = (grip_teeth, pull_grooves)
        && teeth > grooves
    {
        t.mistake("grip_teeth", Message::new("sheet-grip-teeth-more"));
    }
    // Below every thickness, so that the first code always rises.
    let thickest = Cell::new((-1.0, -1.0));
    Some(FastenerFamily {
        id: t.id("id"),
        name: t.string("name"),
        kind,
        ending: t.word("ending"),
        diameter_mm: t.number("diameter_mm", Span(0.5, 100.0)),
        material: t.string("material"),
        stick_out_mm,
        stroke_mm,
        tail_mm,
        pull_grooves,
        grip_teeth,
        tail_outside_mm: length("tail_outside_mm"),
        collar_mm: length("collar_mm"),
        needs_stroke_mm: length("needs_stroke_mm"),
        force_kn: t.interval("force_kN", Span(0.01, 2000.0)),
        codes: t.tables("codes", "code", 1, |c| Some(code(c, &thickest))),
        criteria: t.tables("criterion", "id", 1, criterion),
        groove: groove?,
    })
}

/// A grip code; both of its limits lie above those of the code before it. Ranges may meet or
/// overlap, as makers allow.
fn code(t: &Table, before: &Cell<(f64, f64)>) -> GripCode {
    let grip = GripCode {
        code: t.string("code"),
        min_mm: t.number("min_mm", Span(0.0, 500.0)),
        max_mm: t.number("max_mm", Span(0.0, 500.0)),
    };
    if t.good(&["min_mm", "max_mm"]) {
        let (min, max) = before.get();
        if grip.min_mm >= grip.max_mm {
            t.mistake("min_mm", Message::new("sheet-grip-reversed"));
        } else if grip.min_mm <= min || grip.max_mm <= max {
            let not_rising = Message::new("sheet-codes-rise")
                .with("min", plain(min))
                .with("max", plain(max));
            t.mistake("code", not_rising);
        } else {
            before.set((grip.min_mm, grip.max_mm));
        }
    }
    grip
}

fn criterion(t: &Table) -> Option<Criterion> {
    let limits = shared::limits(t);
    let unit = shared::unit_of(t);
    let change = |key| t.given(key, value::word).map(|Change(effect)| effect);
    Some(Criterion {
        id: t.id("id"),
        name: t.string("name"),
        unit,
        rule: shared::rule(t),
        gauges: shared::gauges(t, unit),
        spread_mm: t.given("spread_mm", |v| value::number(v, Span(0.001, 10.0))),
        if_low: change("if_low"),
        if_high: change("if_high"),
        shows_low: t.given("shows_low", value::word),
        shows_high: t.given("shows_high", value::word),
        limits: limits?,
    })
}
