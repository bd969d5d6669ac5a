//! What may be written into the inbox of a tool.

use calc::Message;
use calc::decision::{self, Verdict};
use calc::units::Unit;

use super::at_work::HAND_CALIPER;
use super::inbox::{Inbox, Sent};
use crate::entry::{
    Body, CrewJoint, CrewJointsAccepted, CrewJointsDeclined, CrewJointsSent, CrewLinksRenewed,
    CrewReading, GivenTurns, Outcome, PinRecord, Seen,
};
use crate::job::{Refusal, Refusals, TypedValue, in_inches};
use crate::sheet::{Criterion, FastenerFamily, Kind, Shelf, ToolModel};

/// Sendings that may wait in one inbox: whoever holds a card could send without end.
pub const MOST_WAITING: usize = 20;
/// Joints in one sending.
pub const MOST_JOINTS: usize = 5;
/// Slack for turns that are exact on paper and not in a double.
const TINY: f64 = 1e-9;

/// What a link was made for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LinkFor {
    /// Model id.
    pub model: String,
    /// Fastener id.
    pub fastener: String,
    /// Grip code; empty where the family has none.
    pub code: String,
    /// Nose set id.
    pub nose: String,
    /// How often the tool's links had been renewed when it was made.
    pub renewed: u32,
}

/// Joints as a crew typed them.
#[derive(Clone, Debug, PartialEq)]
pub struct JointsIn {
    /// "Set, and good", or "set, and not good"; `None` where neither was picked.
    pub good: Option<bool>,
    /// What the eye says; asked for where a joint is not good.
    pub seen: Option<Seen>,
    /// Turns that the adjuster stands at; `None` where nothing was typed.
    pub turns: Option<TypedValue>,
    /// What the page gives for the stick-out; `None` where it gives nothing.
    pub given: Option<GivenTurns>,
    /// Mean stick-out of the pins, or the wanted stroke, mm.
    pub measured_mm: Option<f64>,
    /// For each joint, criterion id with its value.
    pub joints: Vec<Vec<(String, TypedValue)>>,
    /// Whether a name or number was given.
    pub named: bool,
    /// Remark.
    pub note: String,
}

/// What is done to an inbox.
#[derive(Clone, Debug, PartialEq)]
pub enum InboxCommand {
    /// A crew sends joints over a link.
    Send(LinkFor, Box<JointsIn>),
    /// The bench accepts the sending of this version.
    Accept(u32, String),
    /// The bench declines it, also after it was accepted, and why.
    Decline(u32, String),
    /// Links printed so far shall open nothing, and why.
    RenewLinks(String),
}

/// The entries that follow.
///
/// # Errors
/// Every field that is wrong, and what to do.
pub fn decide(inbox: &Inbox, command: &InboxCommand, shelf: &Shelf) -> Result<Vec<Body>, Refusals> {
    match command {
        InboxCommand::Send(link, joints) => send(inbox, link, joints, shelf),
        InboxCommand::Accept(version, note) => {
            may_settle(inbox, *version, Sent::is_waiting)?;
            let note = note.trim().to_owned();
            let version = *version;
            Ok(vec![CrewJointsAccepted { version, note }.into()])
        }
        InboxCommand::Decline(version, reason) => {
            may_settle(inbox, *version, |sent| {
                sent.is_waiting() || sent.is_accepted()
            })?;
            let reason = filled(reason)?;
            let version = *version;
            Ok(vec![CrewJointsDeclined { version, reason }.into()])
        }
        InboxCommand::RenewLinks(reason) => {
            let (tool, reason) = (inbox.tool, filled(reason)?);
            Ok(vec![CrewLinksRenewed { tool, reason }.into()])
        }
    }
}

fn at(field: &str, message: Message) -> Refusal {
    Refusal {
        field: field.to_owned(),
        message,
    }
}

fn whole(message: Message) -> Refusals {
    vec![at("", message)]
}

fn filled(reason: &str) -> Result<String, Refusals> {
    let reason = reason.trim();
    if reason.is_empty() {
        return Err(vec![at("reason", Message::new("crew-reason"))]);
    }
    Ok(reason.to_owned())
}

fn may_settle(inbox: &Inbox, version: u32, may: fn(&Sent) -> bool) -> Result<(), Refusals> {
    let mut sent = inbox.sent.iter();
    if sent.any(|sent| sent.version == version && may(sent)) {
        return Ok(());
    }
    Err(whole(Message::new("crew-not-waiting")))
}

fn send(
    inbox: &Inbox,
    link: &LinkFor,
    input: &JointsIn,
    shelf: &Shelf,
) -> Result<Vec<Body>, Refusals> {
    if link.renewed != inbox.renewed {
        return Err(whole(Message::new("crew-link-void")));
    }
    if inbox.waiting().count() >= MOST_WAITING {
        let message = Message::new("crew-inbox-full").with("count", MOST_WAITING);
        return Err(whole(message));
    }
    let pins = (
        shelf.newest(Kind::ToolModel, &link.model),
        shelf.newest(Kind::Fastener, &link.fastener),
        shelf.newest(Kind::NoseSet, &link.nose),
    );
    let (Some(model_pin), Some(fastener_pin), Some(nose_pin)) = pins else {
        return Err(whole(Message::new("crew-sheet-gone")));
    };
    let sheets = (
        shelf.model(&model_pin),
        shelf.fastener(&fastener_pin),
        shelf.nose_set(&nose_pin),
    );
    let (Some(model), Some(fastener), Some(nose)) = sheets else {
        return Err(whole(Message::new("crew-sheet-gone")));
    };
    let Some(rule) = crate::setting::rule(model, nose, fastener) else {
        return Err(whole(Message::new("crew-sheet-gone")));
    };
    let mut refusals = Refusals::new();
    let bad = match input.good {
        Some(good) => !good,
        None => {
            refusals.push(at("good", Message::new("crew-pick-good")));
            false
        }
    };
    if !input.named {
        refusals.push(at("name", Message::new("crew-who")));
    }
    let by_turns = rule.basis.is_by_turns();
    let turns = by_turns
        .then(|| turns(model, input, bad).map_err(|r| refusals.push(r)).ok())
        .flatten()
        .flatten();
    let joints = joints(fastener, &input.joints, bad, &mut refusals);
    refusals.extend(eye(input, bad, &joints));
    if !refusals.is_empty() {
        return Err(refusals);
    }
    let sent = CrewJointsSent {
        tool: inbox.tool,
        model: PinRecord::from(&model_pin),
        fastener: PinRecord::from(&fastener_pin),
        code: link.code.clone(),
        nose_set: PinRecord::from(&nose_pin),
        turns,
        given: input.given.filter(|_| by_turns),
        measured_mm: input.measured_mm,
        joints,
        bad,
        seen: input.seen.filter(|_| bad),
        method: format!("{} {}", decision::METHOD.name, decision::METHOD.version),
        note: input.note.trim().to_owned(),
    };
    Ok(vec![sent.into()])
}

/// Turns that the adjuster stands at. Of a bad joint nobody may have read them, and they may be what is
/// bad; of good ones they belong to what the page gives.
fn turns(model: &ToolModel, input: &JointsIn, bad: bool) -> Result<Option<f64>, Refusal> {
    let Some(typed) = &input.turns else {
        let missing = at("turns", Message::new("refuse-turns"));
        return if bad { Ok(None) } else { Err(missing) };
    };
    let most = model.most_turns();
    if !(0.0..=most + TINY).contains(&typed.value) {
        let message = Message::new("refuse-turns-range")
            .number("value", typed.value, 2)
            .number("max", most, 1);
        return Err(at(&typed.field, message));
    }
    match input.given {
        Some(given) if !bad && given.is_far(typed.value) => {
            let message = Message::new("crew-turns-far")
                .number("value", typed.value, 2)
                .number("given", given.turns, 2);
            Err(at(&typed.field, message))
        }
        _ => Ok(Some(typed.value)),
    }
}

fn joints(
    fastener: &FastenerFamily,
    typed: &[Vec<(String, TypedValue)>],
    bad: bool,
    refusals: &mut Refusals,
) -> Vec<CrewJoint> {
    // A bad joint may leave nothing to measure.
    if (typed.is_empty() && !bad) || typed.len() > MOST_JOINTS {
        let message = Message::new("crew-joints-count").with("most", MOST_JOINTS);
        refusals.push(at("", message));
        return Vec::new();
    }
    let read = typed.iter().enumerate().map(|(i, values)| {
        if values.is_empty() {
            refusals.push(at("", Message::new("crew-joint-unread").with("n", i + 1)));
        }
        let readings = values.iter().filter_map(|(id, value)| {
            let Some(criterion) = fastener.criterion(id) else {
                let message = Message::new("joint-no-criterion").with("criterion", id.as_str());
                refusals.push(at(&value.field, message));
                return None;
            };
            if let Some(refusal) = in_inches(criterion, value) {
                refusals.push(refusal);
                return None;
            }
            let reading = reading(criterion, value);
            if !bad && reading.outcome == Outcome::Reject {
                let message = Message::new("crew-joint-bad")
                    .with("n", i + 1)
                    .with("what", criterion.name.as_str())
                    .number("value", value.value, 2);
                refusals.push(at(&value.field, message));
            }
            Some(reading)
        });
        CrewJoint {
            readings: readings.collect(),
        }
    });
    read.collect()
}

/// What the eye must say, and must not: a bad joint is bad by something, and a good one by nothing.
fn eye(input: &JointsIn, bad: bool, joints: &[CrewJoint]) -> Option<Refusal> {
    let rejects = |joint: &CrewJoint| joint.readings.iter().any(|r| r.outcome == Outcome::Reject);
    let id = match input.seen {
        None if bad => "refuse-seen",
        Some(Seen::Good) if bad && input.note.trim().is_empty() && !joints.iter().any(rejects) => {
            "crew-bad-by-what"
        }
        Some(seen) if !bad && input.good.is_some() && seen != Seen::Good => "crew-good-by-eye",
        _ => return None,
    };
    Some(at("seen", Message::new(id)))
}

/// A reading with its verdict. Of another unit than a length nobody knows how well it was read.
fn reading(criterion: &Criterion, typed: &TypedValue) -> CrewReading {
    let expanded = (criterion.unit == Unit::Millimetre).then_some(HAND_CALIPER.expanded);
    let judged =
        expanded.map(|w| decision::judge(typed.value, w, criterion.limits, criterion.rule));
    let verdict = judged.and_then(Result::ok).unwrap_or(Verdict::Undecided);
    CrewReading {
        criterion: criterion.id.clone(),
        value: typed.value,
        unit: criterion.unit.symbol().to_owned(),
        raw: typed.raw.clone(),
        expanded,
        outcome: verdict.into(),
    }
}
