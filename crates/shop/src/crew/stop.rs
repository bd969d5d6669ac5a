//! When nobody sets with a tool any more: a bad joint stops every phone, not only the one that sent it.

use jiff::Timestamp;

use super::inbox::{Inbox, Sent, SentState};

/// The newest report of bad joints with this nose set and fastener that stands against setting with the
/// tool: it waits or was noted, and the tool was not set up anew for them since, which was `signed_off`
/// last.
pub fn stops<'a>(
    inbox: &'a Inbox,
    nose_set: &str,
    fastener: &str,
    signed_off: Option<Timestamp>,
) -> Option<&'a Sent> {
    let stands = |sent: &&Sent| {
        sent.body.bad
            && sent.body.nose_set.id == nose_set
            && sent.body.fastener.id == fastener
            && !matches!(sent.state, SentState::Declined { .. })
            && signed_off.is_none_or(|signed_off| sent.at >= signed_off)
    };
    inbox.sent.iter().rev().find(stands)
}
