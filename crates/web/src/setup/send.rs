//! "Set, so many good joints": the crew's form behind the link on its card.

use calc::Message;
use calc::units::Unit;
use maud::{Markup, html};
use shop::crew::{CrewSetting, HAND_CALIPER, InboxCommand, JointsIn, LinkFor, MOST_JOINTS};
use shop::job::{SetUpSheets, TypedValue};
use shop::sheet::FastenerFamily;

use super::link::{FIELDS, Link};
use super::page::View;
use super::{PATH, serial};
use crate::forms::errors::reading_key;
use crate::forms::{FieldErrors, Typed, parse_number, too_long};
use crate::shell::{Choice, Field, Form, Page};
use crate::show;

/// The form.
pub const JOINTS: &str = "joints";
/// Joints that are asked for.
const ASKED: usize = 3;

/// The form behind a good link; otherwise how to come by one.
pub fn section(v: &View, s: &SetUpSheets, setting: &CrewSetting) -> Markup {
    html! {
        h2 { (v.t("crew-send-heading")) }
        @match v.link {
            Link::Holds(_) => { (form(v, s, setting)) }
            Link::None => { p.hint { (v.t("crew-send-scan")) } }
            Link::Void => { p.note { (v.t("crew-link-void")) } }
            Link::Wrong => { p.note { (v.t("crew-link-wrong")) } }
        }
    }
}

fn form(v: &View, s: &SetUpSheets, setting: &CrewSetting) -> Markup {
    let none = FieldErrors::new();
    let form = Form::new(v.p, JOINTS, v.typed, v.sending.unwrap_or(&none));
    let hand = Message::new("crew-hand-caliper").number("doubt", HAND_CALIPER.expanded, 2);
    form.wrap(PATH, None, html! {
        @for (name, value) in v.choice.fields() { input type="hidden" name=(name) value=(value); }
        @if let Some(serial) = serial(v.typed) { input type="hidden" name="tool" value=(serial); }
        @for name in FIELDS { input type="hidden" name=(name) value=(v.typed.get(name)); }
        @for name in ["reading", "gauge", "stroke"] {
            @for value in v.typed.all(name) { input type="hidden" name=(name) value=(value); }
        }
        p { (v.t("crew-send-waits")) }
        @if let CrewSetting::Turns(answer) = setting {
            (form.number(&Field::new("turns", v.t("crew-turns")).unit("turns").short()
                .value(paper::fraction(answer.set_turns))))
        }
        @for c in &s.fastener.criteria {
            @let name = value_name(&c.id);
            (form.readings(&Field::new(&name, &c.name).unit(c.unit.symbol()).signed()
                .hint(show::limits(v.p, &c.limits, c.unit.symbol())), ASKED))
        }
        p.hint { (v.say(&hand)) }
        (form.text(&Field::new("name", v.t("crew-name")).hint(v.t("crew-name-hint"))))
        (form.text(&Field::new("note", v.t("field-note"))))
        (form.ticks(&Field::new("good", v.t("crew-good")), &[Choice::new("yes", v.t("crew-good-tick"))]))
        div.buttons { button { (v.t("crew-send")) } }
    })
}

fn value_name(criterion: &str) -> String {
    format!("value-{criterion}")
}

/// What the form asks for, with the name that it gives.
///
/// # Errors
/// Every field that cannot be read.
pub fn command(
    p: &Page,
    typed: &Typed,
    link: &LinkFor,
    fastener: &FastenerFamily,
    measured_mm: Option<f64>,
) -> Result<InboxCommand, FieldErrors> {
    let mut errors = too_long(typed);
    let turns = typed.filled("turns").and_then(|_| {
        let raw = typed.raw("turns");
        let value = errors.keep("turns", p.t("crew-turns"), parse_number(raw, Unit::Turn))?;
        Some(TypedValue {
            field: "turns".to_owned(),
            raw: raw.to_owned(),
            value,
        })
    });
    let joints = joints(typed, fastener, &mut errors);
    if !errors.is_empty() {
        return Err(errors);
    }
    let joints = JointsIn {
        good: typed.has("good"),
        turns,
        measured_mm,
        joints,
        named: typed.filled("name").is_some(),
        note: typed.get("note").to_owned(),
    };
    Ok(InboxCommand::Send(link.clone(), Box::new(joints)))
}

/// The boxes of a criterion belong to the joints in their order.
fn joints(
    typed: &Typed,
    fastener: &FastenerFamily,
    errors: &mut FieldErrors,
) -> Vec<Vec<(String, TypedValue)>> {
    let mut joints: Vec<Vec<(String, TypedValue)>> = Vec::new();
    for criterion in &fastener.criteria {
        let name = value_name(&criterion.id);
        for (i, raw) in typed.all(&name).enumerate() {
            if raw.trim().is_empty() {
                continue;
            }
            let field = reading_key(&name, i);
            if i >= MOST_JOINTS {
                let message = Message::new("crew-joints-count").with("most", MOST_JOINTS);
                errors.add(name.as_str(), message);
                break;
            }
            let read = parse_number(raw, criterion.unit);
            if let Some(value) = errors.keep(&field, criterion.name.as_str(), read) {
                joints.resize_with(joints.len().max(i + 1), Vec::new);
                let raw = raw.to_owned();
                joints[i].push((criterion.id.clone(), TypedValue { field, raw, value }));
            }
        }
    }
    joints
}
