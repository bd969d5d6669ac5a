//! The crew at the work place: what it asks before it sets a fastener, and what it sends afterwards.
//!
//! What a crew sends waits in the inbox of its tool. Nothing is reckoned from it before a technician
//! accepted it: [`Inbox::accepted`] is the one way to it.

mod at_work;
mod beside;
mod decide;
mod inbox;
mod stop;

pub use at_work::{CALIPER_RANGE_MM, CrewSetting, HAND_CALIPER, MOST_PINS, noses_for, setting};
pub use beside::{Beside, basis, beside};
pub use decide::{InboxCommand, JointsIn, LinkFor, MOST_JOINTS, MOST_WAITING, decide};
pub use inbox::{Inbox, Sent, SentState, inbox_of};
pub use stop::stops;
