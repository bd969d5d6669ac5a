//! The inbox of a tool, folded from its entries: what crews sent, and what the bench made of it.

use jiff::Timestamp;
use uuid::Uuid;

use crate::entry::{Body, CrewJointsSent, Entry, PersonKey};

/// Tells a tool's inbox from the tool itself.
const INBOX: u128 = 0x5e7_0000_0000_4000_8000_0000_0000_0002;

/// The subject of the inbox of `tool`.
pub fn inbox_of(tool: Uuid) -> Uuid {
    Uuid::from_u128(tool.as_u128() ^ INBOX)
}

/// What crews sent over the links of one tool.
#[derive(Clone, Debug, PartialEq)]
pub struct Inbox {
    /// The tool.
    pub tool: Uuid,
    /// Version of the last entry; 0 while nothing was written.
    pub version: u32,
    /// How often the tool's links were renewed; a link holds the number under which it was made.
    pub renewed: u32,
    /// What was sent, oldest first.
    pub sent: Vec<Sent>,
}

/// One sending.
#[derive(Clone, Debug, PartialEq)]
pub struct Sent {
    /// Version of its entry within the inbox.
    pub version: u32,
    /// When.
    pub at: Timestamp,
    /// Name or number that was given: said, not proved.
    pub by: PersonKey,
    /// What.
    pub body: CrewJointsSent,
    /// What the bench made of it.
    pub state: SentState,
}

/// What the bench made of a sending.
#[derive(Clone, Debug, PartialEq)]
pub enum SentState {
    /// Nobody has looked at it.
    Waiting,
    /// It counts; of bad joints: it is noted.
    Accepted {
        /// When.
        at: Timestamp,
        /// By whom.
        by: PersonKey,
        /// Remark.
        note: String,
    },
    /// It counts for nothing.
    Declined {
        /// When.
        at: Timestamp,
        /// By whom.
        by: PersonKey,
        /// Why.
        reason: String,
    },
}

impl Inbox {
    /// The inbox of `tool` that `entries` tell; an empty one where there are none.
    pub fn fold(tool: Uuid, entries: &[Entry]) -> Self {
        let mut inbox = Self {
            tool,
            version: 0,
            renewed: 0,
            sent: Vec::new(),
        };
        for entry in entries {
            inbox.apply(entry);
        }
        inbox
    }

    fn apply(&mut self, entry: &Entry) {
        self.version = entry.version;
        let (at, by) = (entry.at, entry.by.clone());
        match &entry.body {
            Body::CrewJointsSent(sent) => self.sent.push(Sent {
                version: entry.version,
                at,
                by,
                body: sent.clone(),
                state: SentState::Waiting,
            }),
            Body::CrewJointsAccepted(b) => {
                let note = b.note.clone();
                self.settle(b.version, SentState::Accepted { at, by, note });
            }
            Body::CrewJointsDeclined(b) => {
                let reason = b.reason.clone();
                self.settle(b.version, SentState::Declined { at, by, reason });
            }
            Body::CrewLinksRenewed(_) => self.renewed += 1,
            _ => {}
        }
    }

    /// The first word stands, but what was accepted can be taken back.
    fn settle(&mut self, version: u32, state: SentState) {
        let declines = matches!(state, SentState::Declined { .. });
        let may_be = |sent: &Sent| sent.is_waiting() || (declines && sent.is_accepted());
        let mut sent = self.sent.iter_mut();
        if let Some(sent) = sent.find(|s| s.version == version && may_be(s)) {
            sent.state = state;
        }
    }

    /// Those that nobody has looked at, oldest first.
    pub fn waiting(&self) -> impl Iterator<Item = &Sent> {
        self.sent.iter().filter(|sent| sent.is_waiting())
    }

    /// Those that nobody has looked at in the order to look at them: bad joints first, then oldest first.
    pub fn to_look_at(&self) -> Vec<&Sent> {
        let mut waiting: Vec<&Sent> = self.waiting().collect();
        waiting.sort_by_key(|sent| !sent.body.bad);
        waiting
    }

    /// All of them: those to look at, then the settled ones, the newest first.
    pub fn to_look_at_and_settled(&self) -> impl Iterator<Item = &Sent> {
        let settled = self.sent.iter().rev().filter(|sent| !sent.is_waiting());
        self.to_look_at().into_iter().chain(settled)
    }

    /// Good joints that were accepted, oldest first: the only sendings that anything may be reckoned from.
    pub fn accepted(&self) -> impl Iterator<Item = &Sent> {
        let good = |sent: &&Sent| sent.is_accepted() && !sent.body.bad;
        self.sent.iter().filter(good)
    }
}

impl Sent {
    /// Whether nobody has looked at it.
    pub fn is_waiting(&self) -> bool {
        self.state == SentState::Waiting
    }

    /// Whether it was accepted, or noted.
    pub fn is_accepted(&self) -> bool {
        matches!(self.state, SentState::Accepted { .. })
    }
}
