//! The criteria, one function each.
//!
//! A criterion that known sizes already break is not met, whatever is missing. One that rests on a
//! missing size is never met.

use calc::Message;
use calc::working::places;

use super::{Fit, Match, Reason};
use crate::setting;
use crate::sheet::{FastenerFamily, FastenerKind, GrooveForm, NoseSet, Thread, ToolModel};

/// Pitches that lie no further apart mesh, mm (common practice, no source).
const PITCH_MM: f64 = 0.01;

/// What is measured on parts of the nose; the rest is measured on the fastener or looked up.
pub(super) const ON_THE_NOSE: &[&str] = &[
    "measure-teeth-pitch",
    "measure-teeth",
    "measure-grip",
    "measure-length",
    "measure-throat",
    "measure-housing",
    "measure-collet-outside",
];

/// Compares `nose` with `fastener` and `model`.
pub fn compare(model: &ToolModel, fastener: &FastenerFamily, nose: &NoseSet) -> Match {
    Match {
        reasons: vec![
            front_thread(model, nose),
            groove(fastener, nose),
            pitch(fastener, nose),
            teeth(fastener, nose),
            grip_length(fastener, nose),
            size(fastener, nose),
            throat(fastener, nose),
            housing(fastener, nose),
            force(model, fastener, nose),
            stroke(model, fastener, nose),
            set_by(model, fastener, nose),
        ],
    }
}

/// Pull that tool and nose set bear together, kN.
pub(super) fn bears_kn(model: &ToolModel, nose: &NoseSet) -> Option<f64> {
    nose.max_pull_kn.map(|most| most.min(model.rated_pull_kn))
}

fn decided(name: &'static str, met: bool, detail: Message) -> Reason {
    Reason {
        name: Message::new(name),
        fit: if met { Fit::Yes } else { Fit::No },
        detail,
        missing: Vec::new(),
    }
}

/// Undecided: `sizes` with the texts of what to measure, of which those that are not there count.
fn open<const N: usize>(name: &'static str, sizes: [(Option<f64>, &'static str); N]) -> Reason {
    let missing = sizes.into_iter().filter(|(size, _)| size.is_none());
    Reason {
        name: Message::new(name),
        fit: Fit::Unknown,
        detail: Message::new("match-missing"),
        missing: missing.map(|(_, what)| Message::new(what)).collect(),
    }
}

fn front_thread(model: &ToolModel, nose: &NoseSet) -> Reason {
    let text = |t: &Thread| -> String {
        let hand = match t.hand {
            calc::screw_stop::Hand::Right => "RH",
            calc::screw_stop::Hand::Left => "LH",
        };
        format!("{} {hand}", t.size)
    };
    let detail = Message::new("match-two")
        .with("nose", text(&nose.thread))
        .with("other", text(&model.front_end));
    decided("match-thread", nose.thread == model.front_end, detail)
}

/// The name of a groove form.
fn form_name(form: GrooveForm) -> Message {
    Message::new(match form {
        GrooveForm::Round => "groove-round",
        GrooveForm::Vee60 => "groove-vee60",
        GrooveForm::Buttress => "groove-buttress",
        GrooveForm::Plain => "groove-plain",
        GrooveForm::Thread => "groove-thread",
    })
}

fn groove(fastener: &FastenerFamily, nose: &NoseSet) -> Reason {
    let detail = Message::new("match-two")
        .with("nose", form_name(nose.collet.form))
        .with("other", form_name(fastener.groove.form));
    let same = nose.collet.form == fastener.groove.form;
    decided("match-groove", same, detail)
}

/// Smooth jaws on a smooth shank: no pitch to match and no grooves to count.
fn both_plain(fastener: &FastenerFamily, nose: &NoseSet) -> bool {
    let plain = |form| matches!(form, GrooveForm::Plain);
    plain(nose.collet.form) && plain(fastener.groove.form)
}

fn pitch(fastener: &FastenerFamily, nose: &NoseSet) -> Reason {
    let name = "match-pitch";
    if both_plain(fastener, nose) {
        return decided(name, true, Message::new("match-plain"));
    }
    let (teeth, grooves) = (nose.collet.pitch_mm, fastener.groove.pitch_mm);
    match (teeth, grooves) {
        (Some(a), Some(b)) => {
            let detail = Message::new("match-two-mm")
                .number("nose", a, places(a, 2))
                .number("other", b, places(b, 2));
            decided(name, (a - b).abs() <= PITCH_MM + setting::TINY, detail)
        }
        _ => open(
            name,
            [
                (teeth, "measure-teeth-pitch"),
                (grooves, "measure-groove-pitch"),
            ],
        ),
    }
}

/// Pull grooves of the tail: as stated, else those that the tail has room for.
fn grooves(fastener: &FastenerFamily) -> Option<u32> {
    fastener.pull_grooves.or_else(|| {
        let pitch = fastener.groove.pitch_mm.filter(|p| *p > 0.0)?;
        // A hair more, so that ten pitches of 1.6 mm in 16 mm are ten.
        Some((fastener.tail_mm? / pitch + 1e-6).floor() as u32)
    })
}

/// Every tooth finds a groove; a draw mandrel goes through every turn of the nut's thread instead.
/// Where the fastener's sheet says how many teeth must hold, so many do.
fn teeth(fastener: &FastenerFamily, nose: &NoseSet) -> Reason {
    let name = "match-teeth";
    if both_plain(fastener, nose) {
        return decided(name, true, Message::new("match-plain"));
    }
    let needed = fastener.grip_teeth.unwrap_or(1).max(1);
    match (nose.collet.teeth, grooves(fastener)) {
        (Some(teeth), Some(grooves)) => {
            let engaged = teeth.min(grooves);
            let whole = match nose.collet.form {
                GrooveForm::Thread => engaged == grooves,
                _ => engaged == teeth,
            };
            let detail = Message::new(match fastener.grip_teeth {
                Some(_) => "match-teeth-needed",
                None => "match-teeth-engaged",
            })
            .with("engaged", engaged)
            .with("teeth", teeth)
            .with("grooves", grooves)
            .with("needed", needed);
            decided(name, whole && engaged >= needed, detail)
        }
        // Too few, however many grooves there are.
        (Some(teeth), None) if teeth < needed => {
            let detail = Message::new("match-teeth-few")
                .with("teeth", teeth)
                .with("needed", needed);
            decided(name, false, detail)
        }
        (teeth, grooves) => open(
            name,
            [
                (teeth.map(f64::from), "measure-teeth"),
                (grooves.map(f64::from), "measure-grooves"),
            ],
        ),
    }
}

/// The gripping section finds its whole length on the pull section; a draw mandrel reaches through
/// the nut's thread instead.
fn grip_length(fastener: &FastenerFamily, nose: &NoseSet) -> Reason {
    let name = "match-grip";
    let (grip, length, tail) = (nose.collet.grip_mm, nose.collet.length_mm, fastener.tail_mm);
    let covers = |grip: f64, tail: f64| match nose.collet.form {
        GrooveForm::Thread => grip >= tail,
        _ => grip <= tail,
    };
    if let (Some(grip), Some(tail)) = (grip, tail)
        && (length.is_some() || !covers(grip, tail))
    {
        let detail = Message::new("match-two-mm")
            .number("nose", grip, places(grip, 1))
            .number("other", tail, places(tail, 1));
        return decided(name, covers(grip, tail), detail);
    }
    open(
        name,
        [
            (grip, "measure-grip"),
            (length, "measure-length"),
            (tail, "measure-tail"),
        ],
    )
}

fn size(fastener: &FastenerFamily, nose: &NoseSet) -> Reason {
    let d = fastener.diameter_mm;
    let (collet, anvil) = (nose.collet.takes_mm, nose.anvil.takes_mm);
    let takes = |range: (f64, f64)| (range.0..=range.1).contains(&d);
    let detail = Message::new("match-range")
        .number("min", collet.0.max(anvil.0), 1)
        .number("max", collet.1.min(anvil.1), 1)
        .number("other", d, 1);
    decided("match-size", takes(collet) && takes(anvil), detail)
}

fn throat(fastener: &FastenerFamily, nose: &NoseSet) -> Reason {
    let swaged = fastener.criterion("collar-diameter").map(|c| c.limits);
    if fastener.kind == FastenerKind::Lockbolt || swaged.is_some() {
        swaging_throat(fastener, nose)
    } else {
        nosepiece_bore(fastener, nose)
    }
}

/// The anvil's throat makes the swaged diameter, so it lies inside that criterion's limits, and it is
/// smaller than the collar before setting.
fn swaging_throat(fastener: &FastenerFamily, nose: &NoseSet) -> Reason {
    let name = "match-throat";
    let limits = fastener.criterion("collar-diameter").map(|c| c.limits);
    let lower = limits.and_then(|l| l.lower());
    let upper = limits.and_then(|l| l.upper());
    let throat = nose.anvil.throat_mm;
    if let Some(throat) = throat {
        let wide = fastener.collar_mm.filter(|collar| throat >= *collar);
        if let Some(collar) = wide {
            let detail = Message::new("match-throat-wide")
                .number("nose", throat, places(throat, 2))
                .number("other", collar, places(collar, 2));
            return decided(name, false, detail);
        }
        let out = lower.is_some_and(|l| throat < l) || upper.is_some_and(|u| throat > u);
        if let (Some(lower), Some(upper)) = (lower, upper) {
            let detail = Message::new("match-within")
                .number("nose", throat, places(throat, 2))
                .number("min", lower, places(lower, 2))
                .number("max", upper, places(upper, 2));
            return decided(name, !out, detail);
        }
        if let (true, Some(limit)) = (out, lower.or(upper)) {
            let detail = Message::new("match-two-mm")
                .number("nose", throat, places(throat, 2))
                .number("other", limit, places(limit, 2));
            return decided(name, false, detail);
        }
    }
    open(
        name,
        [
            (throat, "measure-throat"),
            (lower.and(upper), "measure-swaged"),
        ],
    )
}

/// A nosepiece lets the mandrel through and carries the head or flange.
fn nosepiece_bore(fastener: &FastenerFamily, nose: &NoseSet) -> Reason {
    let name = "match-throat";
    let through = goes_through_mm(fastener);
    let (throat, face) = (nose.anvil.throat_mm, fastener.collar_mm);
    let jams = throat.zip(through).is_some_and(|(t, m)| t <= m);
    let swallows = throat.zip(face).is_some_and(|(t, f)| t >= f);
    match (throat, through, face) {
        (Some(throat), Some(through), Some(face)) => {
            let detail = Message::new("match-between")
                .number("nose", throat, places(throat, 2))
                .number("min", through, places(through, 2))
                .number("max", face, places(face, 2));
            decided(name, !jams && !swallows, detail)
        }
        (Some(throat), through, face) if jams || swallows => {
            let other = if jams { through } else { face };
            let other = other.unwrap_or_default();
            let detail = Message::new("match-two-mm")
                .number("nose", throat, places(throat, 2))
                .number("other", other, places(other, 2));
            decided(name, false, detail)
        }
        _ => open(
            name,
            [
                (throat, "measure-throat"),
                (through, "measure-tail-outside"),
                (face, "measure-collar"),
            ],
        ),
    }
}

/// What goes through the nose, mm: the tail, or the draw mandrel, which has the size of the nut.
fn goes_through_mm(fastener: &FastenerFamily) -> Option<f64> {
    match fastener.groove.form {
        GrooveForm::Thread => Some(fastener.diameter_mm),
        _ => fastener.tail_outside_mm,
    }
}

/// The collet runs in the housing, and the tail passes it.
fn housing(fastener: &FastenerFamily, nose: &NoseSet) -> Reason {
    let name = "match-housing";
    let bore = nose.housing.bore_mm;
    let (collet, tail) = (nose.collet.outside_mm, goes_through_mm(fastener));
    // Fewer than two may be known: the widest known one already jams, or it decides nothing.
    let widest = [collet, tail].into_iter().flatten().reduce(f64::max);
    if let (Some(bore), Some(widest)) = (bore, widest)
        && (bore <= widest || (collet.is_some() && tail.is_some()))
    {
        let detail = Message::new("match-housing-detail")
            .number("bore", bore, places(bore, 1))
            .number("widest", widest, places(widest, 1));
        return decided(name, bore > widest, detail);
    }
    open(
        name,
        [
            (bore, "measure-housing"),
            (collet, "measure-collet-outside"),
            (tail, "measure-tail-outside"),
        ],
    )
}

fn force(model: &ToolModel, fastener: &FastenerFamily, nose: &NoseSet) -> Reason {
    let name = "match-force";
    let needs = fastener.force_kn.1;
    let known = bears_kn(model, nose);
    // The tool alone may already be too weak.
    let bears = known.unwrap_or(model.rated_pull_kn);
    if known.is_none() && needs <= bears {
        return open(name, [(nose.max_pull_kn, "measure-max-pull")]);
    }
    let detail = Message::new("match-force-detail")
        .number("needs", needs, 1)
        .number("bears", bears, 1);
    decided(name, needs <= bears, detail)
}

/// Most stroke that the fastener's own sheet asks for, mm.
fn needs_stroke_mm(fastener: &FastenerFamily) -> Option<f64> {
    let wanted = fastener.stroke_mm.and_then(|limits| limits.upper());
    let sides = [fastener.needs_stroke_mm, wanted];
    sides.into_iter().flatten().reduce(f64::max)
}

/// The tool has the stroke that setting takes. Where the fastener's sheet does not say how much, a
/// setting in the model sheet speaks for it: its table lies inside the tool's stroke.
fn stroke(model: &ToolModel, fastener: &FastenerFamily, nose: &NoseSet) -> Reason {
    let name = "match-stroke";
    match needs_stroke_mm(fastener) {
        Some(needs) => {
            let detail = Message::new("match-stroke-detail")
                .number("needs", needs, places(needs, 1))
                .number("has", model.stroke_mm, places(model.stroke_mm, 1));
            decided(name, needs <= model.stroke_mm, detail)
        }
        None if setting::rule(model, nose, fastener).is_some() => {
            decided(name, true, Message::new("match-stroke-table"))
        }
        None => open(name, [(None, "measure-stroke")]),
    }
}

/// Without a setting in the model sheet the set may fit, but nobody has said how to set it.
fn set_by(model: &ToolModel, fastener: &FastenerFamily, nose: &NoseSet) -> Reason {
    let name = "match-setting";
    if setting::rule(model, nose, fastener).is_some() {
        return decided(name, true, Message::new("match-setting-known"));
    }
    Reason {
        detail: Message::new("match-setting-none"),
        ..open(name, [(None, "measure-setting")])
    }
}
