//! "Set, and good", "set, and not good": the crew's form behind the link on its card.

use calc::Message;
use calc::units::Unit;
use maud::{Markup, html};
use serde::Deserialize;
use serde::de::value::{Error, StrDeserializer};
use shop::crew::{
    CrewSetting, HAND_CALIPER, InboxCommand, JointsIn, LinkFor, MOST_JOINTS, setting,
};
use shop::entry::{GivenTurns, Seen};
use shop::job::{SetUpSheets, TypedValue};
use shop::sheet::FastenerFamily;
use shop::trial::own::Past;

use super::link::{FIELDS, Link};
use super::measure::Asked;
use super::page::View;
use super::{PATH, measure, serial};
use crate::forms::errors::reading_key;
use crate::forms::{FieldErrors, Typed, parse_number, too_long};
use crate::job::names;
use crate::shell::{Choice, Field, Form, Page};
use crate::show;

/// The form.
pub const JOINTS: &str = "joints";
/// Joints that are asked for.
const ASKED: usize = 3;

/// How the page is told that bad joints were sent.
pub const BAD: &str = "bad";
/// How it is told that a stick-out was not sent with them.
pub const LEFT_OUT: &str = "left-out";

/// The form behind a good link, folded: most come for the turns, and a bad joint can be reported at any
/// time. Otherwise how to come by one.
pub fn section(v: &View, s: &SetUpSheets, setting: Option<&CrewSetting>) -> Markup {
    match v.link {
        Link::Holds(_) => html! {
            details open[v.sending.is_some()] {
                summary { (v.t("crew-send-heading")) }
                (form(v, s, setting))
            }
        },
        Link::None if setting.is_some() => html! { p.hint { (v.t("crew-send-scan")) } },
        Link::Void(_) | Link::Wrong if setting.is_some() => {
            html! { p.note { (v.t("crew-send-no-link")) } }
        }
        _ => html! {},
    }
}

fn form(v: &View, s: &SetUpSheets, setting: Option<&CrewSetting>) -> Markup {
    let none = FieldErrors::new();
    let form = Form::new(v.p, JOINTS, v.typed, v.sending.unwrap_or(&none));
    let hand = Message::new("crew-hand-caliper").number("doubt", HAND_CALIPER.expanded, 2);
    let measured = v.asked.measured.is_some();
    let is_refused = !v.asked.errors.is_empty();
    form.wrap(PATH, None, html! {
        @for (name, value) in v.choice.fields() { input type="hidden" name=(name) value=(value); }
        @if let Some(serial) = serial(v.typed) { input type="hidden" name="tool" value=(serial); }
        @for name in FIELDS { input type="hidden" name=(name) value=(v.typed.get(name)); }
        @for name in measure::FIELDS.iter().filter(|_| measured) {
            @for value in v.typed.all(name) { input type="hidden" name=(name) value=(value); }
        }
        p { (v.t("crew-send-waits")) }
        @if is_refused { p.note { (v.t("crew-stick-out-not-sent")) } }
        (form.radios(&Field::new("good", v.t("crew-good")), &[
            Choice::new("yes", v.t("crew-good-yes")),
            Choice::new("no", v.t("crew-good-no")).hint(v.t("crew-good-no-hint")),
        ]))
        (eye(v, s, &form))
        @if by_turns(s) {
            @let turns = setting.and_then(CrewSetting::set_turns);
            (form.number(&Field::new("turns", v.t("crew-turns")).unit("turns").short()
                .value(turns.map(paper::fraction).unwrap_or_default())))
        }
        @for c in &s.fastener.criteria {
            @let name = value_name(&c.id);
            (form.readings(&Field::new(&name, &c.name).unit(c.unit.symbol()).signed()
                .hint(show::limits(v.p, &c.limits, c.unit.symbol())), ASKED))
        }
        p.hint { (v.say(&hand)) }
        (form.text(&Field::new("name", v.t("crew-name")).hint(v.t("crew-name-hint"))))
        (form.text(&Field::new("note", v.t("field-note"))))
        div.buttons { button { (v.t("crew-send")) } }
    })
}

/// What the eye says of a joint that is not good, in the bench's words.
fn eye(v: &View, s: &SetUpSheets, form: &Form) -> Markup {
    let looks = names::looks(s.fastener.kind);
    let choices: Vec<Choice> = looks
        .map(|(key, _, text)| Choice::new(key, v.t(text)))
        .collect();
    let is_asked = v.sending.is_some_and(|errors| errors.get("seen").is_some());
    html! {
        details open[is_asked || v.typed.filled("seen").is_some()] {
            summary { (v.t("crew-seen")) }
            (form.radios(&Field::new("seen", v.t("field-seen")).hint(v.t("hint-seen")), &choices))
        }
    }
}

fn by_turns(s: &SetUpSheets) -> bool {
    s.rule.is_some_and(|rule| rule.basis.is_by_turns())
}

/// What the page is told after the sending `typed`.
pub fn said(typed: &Typed) -> &'static str {
    if is_good(typed) == Some(false) {
        BAD
    } else {
        "1"
    }
}

fn is_good(typed: &Typed) -> Option<bool> {
    match typed.get("good") {
        "yes" => Some(true),
        "no" => Some(false),
        _ => None,
    }
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
    taken: &Taken,
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
    let seen = seen(typed).unwrap_or_else(|refusal| {
        errors.add("seen", refusal);
        None
    });
    if !errors.is_empty() {
        return Err(errors);
    }
    let joints = JointsIn {
        good: is_good(typed),
        seen,
        turns,
        given: taken.given,
        measured_mm: taken.measured_mm,
        joints,
        named: typed.filled("name").is_some(),
        note: typed.get("note").to_owned(),
    };
    Ok(InboxCommand::Send(link.clone(), Box::new(joints)))
}

/// What the eye says, by the form's word or by the one that is stored and listed.
fn seen(typed: &Typed) -> Result<Option<Seen>, Message> {
    let Some(word) = typed.filled("seen") else {
        return Ok(None);
    };
    let mut of_form = names::SEEN.into_iter();
    if let Some((_, seen)) = of_form.find(|(key, _)| *key == word) {
        return Ok(Some(seen));
    }
    Seen::deserialize(StrDeserializer::<Error>::new(word))
        .map(Some)
        .map_err(|_| {
            let named: String = word.chars().take(40).collect();
            let known: Vec<&str> = names::SEEN.iter().map(|(key, _)| *key).collect();
            Message::new("crew-no-such")
                .with("named", named)
                .with("known", known.join(", "))
        })
}

/// What was measured before the joints, as it goes into a report.
pub struct Taken {
    /// What the setting was read from, mm.
    pub measured_mm: Option<f64>,
    /// What the page gives for it.
    pub given: Option<GivenTurns>,
    /// There was a stick-out, and it is refused: a bad joint is reported without it.
    pub left_out: bool,
}

impl Taken {
    /// As `asked`, for a tool with this `past`.
    ///
    /// # Errors
    /// Every field of the measurement that is refused, where the joints are not bad.
    pub fn of(
        typed: &Typed,
        asked: &Asked,
        sheets: &SetUpSheets,
        past: &Past,
    ) -> Result<Self, FieldErrors> {
        let left_out = !asked.errors.is_empty();
        if left_out && is_good(typed) != Some(false) {
            return Err(asked.errors.clone());
        }
        let measured = asked.measured.as_ref().filter(|_| !left_out);
        let setting = setting(sheets, measured, &past.points);
        Ok(Self {
            measured_mm: measured.map(|mean| mean.value),
            given: setting.and_then(|setting| setting.ok()?.given()),
            left_out,
        })
    }
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
