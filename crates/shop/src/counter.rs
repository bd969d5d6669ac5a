//! The pull counter over the jobs of a tool: it only counts up, unless it was changed or set back.
//!
//! A reading below the last one is either mistyped or tells of another counter. Which of both it is, nobody
//! can reckon: it is asked when the tool is taken in. Where the counter began anew, a difference to an
//! earlier reading says nothing, and whatever rests on one says so.

use calc::Message;
use jiff::Timestamp;

use crate::job::{Job, Refusals, refuse};

/// What was ticked and written of a counter that began anew.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct AnewIn {
    /// It was changed or set back.
    pub ticked: bool,
    /// What was changed, and who says so.
    pub reason: String,
}

impl AnewIn {
    /// Why the counter began anew, `None` if it did not: it shows `counter`, and showed `was` when it was
    /// last read here.
    ///
    /// # Errors
    /// A counter that shows less than before without a word why; a tick without a reason, or a reason
    /// without a tick.
    pub(crate) fn judged(
        &self,
        counter: Option<u64>,
        was: Option<u64>,
    ) -> Result<Option<String>, Refusals> {
        let reason = self.reason.trim();
        if self.ticked {
            if reason.is_empty() {
                let missing = Message::new("receive-counter-reason");
                return Err(vec![refuse("counter_reason", missing)]);
            }
            return Ok(Some(reason.to_owned()));
        }
        let mut refusals = Refusals::new();
        if let Some((shows, was)) = counter.zip(was).filter(|(shows, was)| shows < was) {
            let fell = Message::new("receive-counter-fell")
                .with("counter", shows)
                .with("was", was);
            refusals.push(refuse("counter", fell));
            let anew = Message::new("receive-counter-anew");
            refusals.push(refuse("counter_anew", anew));
        } else if !reason.is_empty() {
            let anew = Message::new("receive-counter-not-ticked");
            refusals.push(refuse("counter_anew", anew));
        }
        if refusals.is_empty() {
            Ok(None)
        } else {
            Err(refusals)
        }
    }
}

/// A counter that began anew.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Anew<'a> {
    /// The job in which that was written down.
    pub job: u32,
    /// When.
    pub at: Timestamp,
    /// What it showed before; `None` if it was not read here.
    pub was: Option<u64>,
    /// Why.
    pub reason: &'a str,
}

impl<'a> Anew<'a> {
    /// As it was written down when the tool was taken in for `job`; `None` if its counter went on.
    pub fn of(job: &'a Job) -> Option<Self> {
        let received = &job.received.body;
        Some(Self {
            job: received.number,
            at: job.received.at,
            was: received.counter_was,
            reason: received.counter_anew.as_deref()?,
        })
    }
}

/// The newest beginning of the counter in `jobs` that were taken in after `since` (all of them without it).
pub fn began_anew<'a>(
    jobs: impl IntoIterator<Item = &'a Job>,
    since: Option<Timestamp>,
) -> Option<Anew<'a>> {
    let all = jobs.into_iter().filter_map(Anew::of);
    let later = all.filter(|anew| since.is_none_or(|since| anew.at > since));
    later.max_by_key(|anew| anew.at)
}
