//! What one closed job teaches.

use jiff::Timestamp;
use uuid::Uuid;

use crate::entry::{Entry, PinRecord, Said};
use crate::job::Job;

/// A closed job whose cause is known, as far as the fault model learns from it.
#[derive(Clone, Debug, PartialEq)]
pub struct Lesson {
    /// The job.
    pub job: Uuid,
    /// Its tool.
    pub tool: Uuid,
    /// Model sheet.
    pub model: PinRecord,
    /// Id of the fault model.
    pub faults: String,
    /// When the tool came.
    pub opened: Timestamp,
    /// When it went.
    pub closed: Timestamp,
    /// Its counter when it came.
    pub counter: Option<u64>,
    /// Its counter began anew before it came: pulls since an earlier job are not known.
    pub counter_anew: bool,
    /// The tool was proved after the mending, or nothing was wrong with it. What was not mended teaches nothing of
    /// itself; but that the tool came back tells of its mending before.
    pub mended: bool,
    /// Causes that were confirmed; empty: nothing was wrong with the tool.
    pub causes: Vec<String>,
    /// Symptoms, there or not.
    pub symptoms: Vec<(String, bool)>,
    /// Checks answered yes or no.
    pub checks: Vec<(String, bool)>,
}

/// What `entries` of a job teach; `None` where the job is not over, its cause was not confirmed, or nothing was
/// complained of.
pub fn lesson(entries: &[Entry]) -> Option<Lesson> {
    Lesson::of(&Job::fold(entries)?)
}

impl Lesson {
    fn of(job: &Job) -> Option<Self> {
        let returned = job.returned.as_ref()?;
        let cause = &job.cause.as_ref()?.body;
        // A tool of which nobody complained teaches nothing of complaints.
        if job.is_set_up_only() {
            return None;
        }
        let mut symptoms = job.symptoms.clone();
        symptoms.extend(cause.handed.symptoms.iter().map(|id| (id.clone(), true)));
        let read = [(&cause.handed.yes, true), (&cause.handed.no, false)];
        let read = read
            .into_iter()
            .flat_map(|(ids, yes)| ids.iter().map(move |id| (id.clone(), yes)));
        // What a person said outweighs what was read, as it does on the page.
        let said = job.checks.iter().filter_map(|check| {
            let yes = match check.body.answer {
                Said::Yes => true,
                Said::No => false,
                Said::NotSure => return None,
            };
            Some((check.body.check.clone(), yes))
        });
        let checks: std::collections::BTreeMap<String, bool> = read.chain(said).collect();
        let received = &job.received.body;
        Some(Self {
            job: job.id,
            tool: received.tool,
            model: received.model.clone(),
            faults: received.faults.id.clone(),
            opened: job.received.at,
            closed: returned.at,
            counter: received.counter,
            counter_anew: received.counter_anew.is_some(),
            mended: cause.causes.is_empty() || job.proof.is_some(),
            causes: cause.causes.clone(),
            symptoms: symptoms.into_iter().collect(),
            checks: checks.into_iter().collect(),
        })
    }

    /// Whether this and `later`, on the same tool, are so near that the mending is in doubt.
    pub(super) fn is_near(&self, later: &Self, learning: &crate::sheet::Learning) -> bool {
        let days = later.opened.duration_since(self.closed).as_hours() / 24;
        let pulls = self
            .counter
            .zip(later.counter.filter(|_| !later.counter_anew))
            .and_then(|(then, now)| now.checked_sub(then));
        days >= 0
            && (days <= i64::from(learning.come_back_days)
                || pulls.is_some_and(|pulls| pulls <= learning.come_back_pulls))
    }
}
