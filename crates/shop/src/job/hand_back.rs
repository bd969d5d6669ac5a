//! Pauses, stages that are not needed, and the end of a job.

use calc::Message;

use super::other_end::EndIn;
use super::refusal::{Refusals, needed, refuse, refuse_all};
use super::{Desk, Doubted, Job, Stage};
use crate::entry::{Body, PersonKey, Resumed, Returned, StageSkipped, WaitFor, Waiting};
use crate::estimate::parts_agreed;
use crate::sheet::Part;

/// What is written down when a tool goes back, as typed.
#[derive(Clone, Debug, PartialEq)]
pub struct ReturnIn {
    /// Who took it; `None` if not typed.
    pub to: Option<PersonKey>,
    /// Who authorised it; `None` if nobody was picked at the bench.
    pub authorised: Option<PersonKey>,
    /// What went with it.
    pub with: Vec<String>,
    /// The answers on the page were checked.
    pub checked: bool,
    /// Remark.
    pub note: String,
    /// Why it goes back although readings are in doubt.
    pub doubted: Doubted,
    /// How it ends.
    pub end: EndIn,
}

impl Job {
    pub(super) fn hand_back(&self, back: ReturnIn, desk: &Desk) -> Result<Vec<Body>, Refusals> {
        let mut refusals = Refusals::new();
        let end = match &back.end {
            EndIn::Back => {
                self.open_or_refuse(Stage::Returned)?;
                if self.energy_forbidden(desk) && !self.declined() {
                    return refuse_all(Message::new("refuse-return-not-safe"));
                }
                self.plain_end()
            }
            EndIn::Scrapped(scrap) => self.scrapped(scrap, &back, &mut refusals)?,
            EndIn::ToMaker(sent) => self.sent_to_maker(sent, desk, &mut refusals)?,
        };
        let in_doubt = match &back.end {
            EndIn::Back => self.all_in_doubt(desk),
            EndIn::Scrapped(_) | EndIn::ToMaker(_) => Vec::new(),
        };
        let ask = "refuse-return-doubt";
        let doubt_reason = self.doubt_reason(&back.doubted, &in_doubt, ask, desk);
        let doubt_reason = doubt_reason.unwrap_or_else(|refusal| {
            refusals.push(refusal);
            String::new()
        });
        if back.to.is_none() {
            let ask = match &back.end {
                EndIn::Scrapped(_) => "refuse-scrap-agreed",
                EndIn::Back | EndIn::ToMaker(_) => "refuse-to-whom",
            };
            refusals.push(refuse("to", Message::new(ask)));
        }
        if back.end == EndIn::Back && back.note.trim().is_empty() {
            let came = self.received.body.came.iter().filter(|came| came.count > 0);
            let stays = came.filter(|came| !back.with.contains(&came.item));
            let stays: Vec<&str> = stays.map(|came| came.item.as_str()).collect();
            if !stays.is_empty() {
                let message = Message::new("refuse-return-stays").with("items", stays.join(", "));
                refusals.push(refuse("note", message));
            }
        }
        if !back.checked {
            refusals.push(refuse("checked", Message::new("refuse-not-checked")));
        }
        if back.authorised.is_none() {
            refusals.push(refuse("", Message::new("refuse-who")));
        }
        let (Some(to), Some(authorised), true) = (back.to, back.authorised, refusals.is_empty())
        else {
            return Err(refusals);
        };
        let returned = Returned {
            end,
            to,
            with: back.with,
            report: self.next_report(),
            authorised,
            note: back.note.trim().to_owned(),
            in_doubt,
            doubt_reason,
        };
        Ok(vec![returned.into()])
    }

    /// Number of the next report: a report that was issued keeps its number, struck or not.
    fn next_report(&self) -> String {
        let issued = self.struck.iter();
        let issued = issued.filter(|(entry, _)| matches!(entry.body, Body::Returned(_)));
        format!("{}-R{}", self.received.body.number, issued.count() + 1)
    }

    /// Parts of the accepted options that were not renewed: they are paid all the same.
    pub fn paid_and_not_renewed<'a>(&self, desk: &Desk<'a>) -> Vec<&'a Part> {
        let Some(model) = self.model(desk).filter(|_| !self.declined()) else {
            return Vec::new();
        };
        let renewed = |part: &&Part| self.replaced.iter().any(|r| r.body.part == part.id);
        let mut left = parts_agreed(self, model);
        left.retain(|part| !renewed(part));
        left
    }

    pub(super) fn skip(
        &self,
        stage: Stage,
        reason: &str,
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        self.open_or_refuse(stage)?;
        if !matches!(stage, Stage::Rebuilt | Stage::SetUp) || self.is_done(stage) {
            return refuse_all(Message::new("refuse-cannot-skip"));
        }
        if self.energy_forbidden(desk) {
            return refuse_all(Message::new("refuse-no-energy"));
        }
        // A tool that was opened is rebuilt to its end: half a rebuild is not "no strip needed".
        if stage == Stage::Rebuilt && self.opened() {
            return refuse_all(Message::new("refuse-skip-opened"));
        }
        if stage == Stage::SetUp && self.set_up().is_some() {
            return refuse_all(Message::new("refuse-skip-fitted"));
        }
        let reason = needed("reason", reason, "refuse-reason").map_err(|r| vec![r])?;
        let skipped = StageSkipped {
            stage: stage.key().to_owned(),
            reason,
        };
        Ok(vec![skipped.into()])
    }

    pub(super) fn wait(&self, wait_for: WaitFor, note: String) -> Result<Vec<Body>, Refusals> {
        Ok(vec![Waiting { wait_for, note }.into()])
    }

    pub(super) fn resume(&self) -> Result<Vec<Body>, Refusals> {
        if self.waiting.is_none() {
            return refuse_all(Message::new("refuse-not-waiting"));
        }
        Ok(vec![Resumed {}.into()])
    }
}
