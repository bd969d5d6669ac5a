//! A step in a line. Where a thread is turned the line says its hand.

use calc::Message;
use calc::screw_stop::Hand;

use super::{Act, PowerUp, Step};
use crate::sheet::{Drive, Joint, Part};

impl Step<'_> {
    /// What is done.
    pub fn title(&self) -> Message {
        match &self.act {
            Act::MakeSafe(_) => Message::new("step-make-safe"),
            Act::Undo(it, _) => joint("step-undo", it),
            Act::Tighten(it, _) => joint("step-tighten", it),
            Act::TakeOff(it) => part("step-off", it),
            Act::Gauge(it, wear) => part("step-gauge", it).with("what", wear.what.as_str()),
            Act::Clean => Message::new("step-clean"),
            Act::Fit(it) => part("step-fit", it),
            Act::Check(it, check) => part("step-check", it).with("what", check.what.as_str()),
            Act::Close(closing) => Message::new("step-close").with("what", closing.what.as_str()),
            Act::PowerUp(it, drive) => Message::new(power(*it, *drive)),
        }
    }
}

fn joint(id: &'static str, joint: &Joint) -> Message {
    let hand = Message::new(match joint.thread.hand {
        Hand::Right => "hand-right",
        Hand::Left => "hand-left",
    });
    Message::new(id)
        .with("joint", joint.name.as_str())
        .with("hand", hand)
}

fn part(id: &'static str, part: &Part) -> Message {
    Message::new(id).with("part", part.name.as_str())
}

fn power(part: PowerUp, drive: Drive) -> &'static str {
    match (part, drive) {
        (PowerUp::Shield, _) => "power-shield",
        (PowerUp::DryCycles, _) => "power-dry-cycles",
        (PowerUp::Release, _) => "power-release",
        (PowerUp::Look, Drive::Battery) => "power-look-battery",
        (PowerUp::Look, _) => "power-look-oil",
    }
}
