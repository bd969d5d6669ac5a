//! How a job ends other than with a mended tool: each end with what it must say.

use calc::Message;

use super::hand_back::ReturnIn;
use super::refusal::{Refusals, needed, refuse, refuse_all};
use super::{Desk, Job, Stage};
use crate::entry::{End, OptionKind, PackGone, PackState, PersonKey};
use crate::quote::{accepted, options};
use crate::warranty::missing_internal;

/// How a job is to end, as typed.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum EndIn {
    /// The tool goes back, mended or as it came.
    #[default]
    Back,
    /// Scrapped.
    Scrapped(ScrapIn),
    /// Sent to the maker.
    ToMaker(SendIn),
}

/// A scrapped tool, as typed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ScrapIn {
    /// Who saw it; `None` if not typed.
    pub witness: Option<PersonKey>,
    /// What became of the pack; `None` if not picked.
    pub pack: Option<PackGone>,
}

/// A parcel to the maker, as typed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SendIn {
    /// Number of the parcel.
    pub parcel: String,
    /// What lies in it.
    pub sent: Vec<String>,
    /// It was read that internal parts are missing.
    pub missing_seen: bool,
    /// The damaged pack does not lie in it.
    pub pack_kept: bool,
}

impl Job {
    /// The end of a tool that goes back: what the cause and the answer make of it.
    pub(super) fn plain_end(&self) -> Option<End> {
        if self.declined() {
            let quote = self.estimate.as_ref().map(|e| &e.body);
            let answer = self.answer.as_ref().map(|a| &a.body);
            let takes_new = quote.is_some_and(|quote| {
                let all = options(quote);
                let taken = accepted(quote, answer);
                let mut kinds = taken.iter().filter_map(|at| all.get(*at));
                answer.is_some_and(|a| !a.options.is_empty())
                    && kinds.any(|option| option.kind == OptionKind::Instead)
            });
            return Some(if takes_new {
                End::NewTool
            } else {
                End::Unrepaired
            });
        }
        let cause = self.cause.as_ref()?;
        // Where nothing is complained of, no fault was looked for.
        let looked_for = !cause.body.set_up_only;
        (cause.body.causes.is_empty() && looked_for).then_some(End::NoFaultFound)
    }

    /// Whether the tool left the shop for its owner's hands: one that was scrapped or sent on did not.
    pub fn goes_back_to_work(&self) -> bool {
        self.returned.as_ref().is_some_and(|back| {
            let end = back.body.end.as_ref();
            !matches!(end, Some(End::Scrapped { .. } | End::SentToMaker { .. }))
        })
    }

    /// Whether the tool may leave before its work is done: the cause is known and nothing has ended.
    pub fn may_end_early(&self) -> bool {
        self.is_open(Stage::Agreed)
    }

    pub(super) fn scrapped(
        &self,
        scrap: &ScrapIn,
        back: &ReturnIn,
        refusals: &mut Refusals,
    ) -> Result<Option<End>, Refusals> {
        self.open_or_refuse(Stage::Agreed)?;
        match (&scrap.witness, &back.authorised) {
            (None, _) => refusals.push(refuse("witness", Message::new("refuse-witness"))),
            (Some(witness), Some(by)) if witness == by => {
                refusals.push(refuse("witness", Message::new("refuse-witness-other")));
            }
            (Some(_), _) => {}
        }
        let gone = match (self.received.body.pack, scrap.pack) {
            (PackState::None, _) => None,
            (_, None) => {
                refusals.push(refuse("pack_gone", Message::new("refuse-pack-gone")));
                None
            }
            // It may burn days later: it goes neither home nor into a car.
            (PackState::Damaged, Some(PackGone::ToOwner)) => {
                refusals.push(refuse("pack_gone", Message::new("refuse-pack-to-owner")));
                None
            }
            (_, gone) => gone,
        };
        Ok(scrap.witness.clone().map(|witness| End::Scrapped {
            witness,
            pack: gone,
        }))
    }

    pub(super) fn sent_to_maker(
        &self,
        send: &SendIn,
        desk: &Desk,
        refusals: &mut Refusals,
    ) -> Result<Option<End>, Refusals> {
        self.open_or_refuse(Stage::Agreed)?;
        if self.opened() && !self.powered_up() {
            return refuse_all(Message::new("refuse-send-open"));
        }
        if self.warranty.is_none() {
            refusals.push(refuse("", Message::new("refuse-send-warranty")));
        }
        let parcel = needed("parcel", &send.parcel, "refuse-parcel");
        if send.sent.is_empty() {
            refusals.push(refuse("sent", Message::new("refuse-sent")));
        }
        let lost: Vec<String> = missing_internal(self).map(|c| c.item.clone()).collect();
        if !lost.is_empty() && !send.missing_seen {
            let ask = Message::new("refuse-missing-seen").with("items", lost.join(", "));
            refusals.push(refuse("missing_seen", ask));
        }
        if self.received.body.pack == PackState::Damaged && !send.pack_kept {
            refusals.push(refuse("pack_kept", Message::new("refuse-pack-kept")));
        }
        let asked = self
            .model(desk)
            .map(|model| model.warranty.evidence.clone());
        let asked = asked.unwrap_or_default().into_iter();
        let left = asked.filter(|item| !send.sent.contains(item));
        match parcel {
            Ok(parcel) => Ok(Some(End::SentToMaker {
                parcel,
                sent: send.sent.clone(),
                missing: lost.into_iter().chain(left).collect(),
            })),
            Err(refusal) => {
                refusals.push(refusal);
                Ok(None)
            }
        }
    }
}
