//! The customer's answer.

use calc::Message;
use jiff::civil::{Date, Time};

use super::refusal::{Refusals, nth, refuse, refuse_all};
use super::{Desk, Job, Stage};
use crate::entry::{AnswerWay, Body, CustomerAnswered, EstimateMade, OptionKind, PersonKey};

/// The customer's answer, as typed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct AnswerIn {
    /// Yes or no to the repair; `None` if neither was picked.
    pub yes: Option<bool>,
    /// The same for each further option of the quote, in order.
    pub others: Vec<Option<bool>>,
    /// The revision that was answered; `None` for the one in force.
    pub revision: Option<u32>,
    /// How it came.
    pub way: Option<AnswerWay>,
    /// To whom it was said.
    pub to: Option<PersonKey>,
    /// Time of day.
    pub at: Option<Time>,
    /// Who said it; `None` if not typed.
    pub name: Option<PersonKey>,
    /// When.
    pub on: Option<Date>,
    /// Day on which the tool was taken in, where the shop is.
    pub received: Date,
    /// Remark.
    pub note: String,
}

impl Job {
    pub(super) fn write_answer(
        &self,
        answer: AnswerIn,
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        self.open_or_refuse(Stage::Agreed)?;
        let mut refusals = Refusals::new();
        if self.warranty.is_none() {
            refusals.push(refuse("", Message::new("refuse-warranty-first")));
        }
        match &self.estimate {
            None => refusals.push(refuse("", Message::new("refuse-estimate-first"))),
            Some(quote) => refusals.extend(holds_for(&answer, &quote.body)),
        }
        if answer.yes == Some(false) && self.opened() && !self.powered_up() {
            refusals.push(refuse("yes", Message::new("refuse-no-while-open")));
        }
        if answer.name.is_none() {
            refusals.push(refuse("name", Message::new("refuse-answer-name")));
        }
        match answer.on {
            None => refusals.push(refuse("on", Message::new("refuse-answer-date"))),
            Some(on) if on > desk.today || on < answer.received => {
                let outside = Message::new("refuse-answer-day")
                    .with("from", answer.received.to_string())
                    .with("until", desk.today.to_string());
                refusals.push(refuse("on", outside));
            }
            Some(_) => {}
        }
        let now = clock(desk);
        if answer.on == Some(desk.today) && answer.at.is_some_and(|at| at > now) {
            let until = format!("{:02}:{:02}", now.hour(), now.minute());
            let later = Message::new("refuse-answer-later").with("until", until);
            refusals.push(refuse("at", later));
        }
        if answer.way == Some(AnswerWay::Telephone) {
            // What was only said is worth as much as who heard it, and when.
            if answer.to.is_none() {
                refusals.push(refuse("heard", Message::new("refuse-answer-heard")));
            }
            if answer.at.is_none() {
                refusals.push(refuse("at", Message::new("refuse-answer-time")));
            }
        }
        let (Some(yes), Some(name), Some(on), Some(quote), true) = (
            answer.yes,
            answer.name,
            answer.on,
            &self.estimate,
            refusals.is_empty(),
        ) else {
            return Err(refusals);
        };
        let others = answer.others.into_iter().map(|other| other == Some(true));
        let answered = CustomerAnswered {
            yes,
            name,
            on,
            note: answer.note,
            revision: quote.body.revision,
            // Where the repair is all there is, the yes says it.
            options: if quote.body.options.is_empty() {
                Vec::new()
            } else {
                std::iter::once(yes).chain(others).collect()
            },
            way: answer.way,
            to: answer.to,
            at: answer.at,
        };
        Ok(vec![answered.into()])
    }

    /// Refuses work on a stage whose turn has not come.
    pub(super) fn open_or_refuse(&self, stage: Stage) -> Result<(), Refusals> {
        if self.is_open(stage) {
            Ok(())
        } else if self.declined() {
            refuse_all(Message::new("refuse-declined"))
        } else {
            refuse_all(Message::new("refuse-not-yet"))
        }
    }
}

/// The time of day where the shop is.
fn clock(desk: &Desk) -> Time {
    desk.now.to_zoned_datetime(desk.zone.clone()).time()
}

/// What stands against this answer to this quote.
fn holds_for(answer: &AnswerIn, quote: &EstimateMade) -> Refusals {
    let mut refusals = Refusals::new();
    if let Some(revision) = answer.revision.filter(|r| *r != quote.revision) {
        let other = Message::new("refuse-answer-revision")
            .with("answered", revision)
            .with("now", quote.revision);
        refusals.push(refuse("", other));
    }
    if answer.yes.is_none() {
        refusals.push(refuse("yes", Message::new("refuse-yes-or-no")));
    }
    let mut any = answer.yes == Some(true);
    for (i, option) in quote.options.iter().enumerate().skip(1) {
        let field = || nth("yes", i);
        let said = answer.others.get(i - 1).copied().flatten();
        any |= said == Some(true);
        let wrong = match (said, option.kind, answer.yes) {
            (None, ..) => "refuse-yes-or-no",
            (Some(true), OptionKind::AddOn, Some(false)) => "refuse-add-on-alone",
            (Some(true), OptionKind::Instead, Some(true)) => "refuse-both",
            _ => continue,
        };
        refusals.push(refuse(field(), Message::new(wrong)));
    }
    // A no needs no price; a yes is to one that holds.
    if let (true, Some(on), Some(until)) = (any, answer.on, quote.valid_until)
        && on > until
    {
        let late = Message::new("refuse-quote-ran-out").with("until", until.to_string());
        refusals.push(refuse("on", late));
    }
    refusals
}
