//! Rows of the read tables, computed from entries alone, so that they can be rebuilt.

use jiff::Timestamp;
use jiff::civil::Date;
use uuid::Uuid;

use crate::crew::Inbox;
use crate::entry::{Body, Entry, PersonKey, WaitFor};
use crate::job::Job;

/// A job on the bench list.
#[derive(Clone, Debug, PartialEq)]
pub struct JobRow {
    /// Subject.
    pub job: Uuid,
    /// Number.
    pub number: u32,
    /// Tool.
    pub tool: Uuid,
    /// Model id.
    pub model: String,
    /// Serial.
    pub serial: String,
    /// Customer.
    pub customer: PersonKey,
    /// Key of the stage it is in; when over, how it ended: `ended`, or a key of `entry::End`.
    pub stage: String,
    /// What it waits for; empty if it does not.
    pub waiting: String,
    /// Number of its certificate that waits for a second signature; empty if none does.
    pub signature: String,
    /// Promised for.
    pub due: Option<Date>,
    /// Taken in.
    pub opened: Timestamp,
    /// Handed back.
    pub closed: Option<Timestamp>,
    /// Version of its last entry.
    pub version: u32,
    /// Complaint.
    pub complaint: String,
}

/// A tool that the shop knows.
#[derive(Clone, Debug, PartialEq)]
pub struct ToolRow {
    /// Subject.
    pub tool: Uuid,
    /// Serial.
    pub serial: String,
    /// Model id.
    pub model: String,
    /// Revision of the model sheet at the last visit.
    pub model_revision: u32,
    /// Owner at the last visit.
    pub owner: PersonKey,
    /// Counter at the last visit.
    pub counter: Option<u64>,
    /// Number of the last job.
    pub last_job: Option<u32>,
    /// Version of the tool's last entry.
    pub version: u32,
}

/// What waits in the inbox of a tool.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InboxRow {
    /// The tool.
    pub tool: Uuid,
    /// Sendings that nobody has looked at.
    pub waiting: u32,
    /// When the last of them came; `None` if none waits.
    pub newest: Option<Timestamp>,
    /// Version of the inbox's last entry.
    pub version: u32,
}

/// The row of the inbox that `entries` tell; `None` if they are not an inbox's.
pub fn inbox_row(entries: &[Entry]) -> Option<InboxRow> {
    let tool = match &entries.first()?.body {
        Body::CrewJointsSent(sent) => sent.tool,
        Body::CrewLinksRenewed(renewed) => renewed.tool,
        _ => return None,
    };
    let inbox = Inbox::fold(tool, entries);
    Some(InboxRow {
        tool,
        waiting: u32::try_from(inbox.waiting().count()).unwrap_or(u32::MAX),
        newest: inbox.waiting().last().map(|sent| sent.at),
        version: inbox.version,
    })
}

/// The row of the job that `entries` tell.
pub fn job_row(entries: &[Entry]) -> Option<JobRow> {
    let job = Job::fold(entries)?;
    let received = &job.received.body;
    Some(JobRow {
        job: job.id,
        number: received.number,
        tool: received.tool,
        model: received.model.id.clone(),
        serial: received.serial.clone(),
        customer: received.customer.clone(),
        stage: stage_key(&job).to_owned(),
        waiting: job
            .waiting
            .as_ref()
            .map_or("", |w| match w.body.wait_for {
                WaitFor::Parts => "parts",
                WaitFor::Yes => "yes",
                WaitFor::Tool => "tool",
            })
            .to_owned(),
        signature: job
            .prepared
            .as_ref()
            .map_or_else(String::new, |p| p.body.certificate.number.clone()),
        due: received.due,
        opened: job.received.at,
        closed: job.returned.as_ref().map(|r| r.at),
        version: job.version,
        complaint: received.complaint.clone(),
    })
}

/// Key of the stage, or of how the job ended.
fn stage_key(job: &Job) -> &'static str {
    let end = job
        .returned
        .as_ref()
        .and_then(|back| back.body.end.as_ref());
    match (job.stage(), end) {
        (Some(stage), _) => stage.key(),
        (None, Some(end)) => end.key(),
        (None, None) => "ended",
    }
}

/// The row of a tool, from its own entries and those of its jobs.
pub fn tool_row(tool: &[Entry], jobs: &[Vec<Entry>]) -> Option<ToolRow> {
    let first = tool.first()?;
    let Body::ToolRegistered(registered) = &first.body else {
        return None;
    };
    let mut row = ToolRow {
        tool: first.subject,
        serial: registered.serial.clone(),
        model: registered.model.id.clone(),
        model_revision: registered.model.revision,
        owner: registered.owner.clone(),
        counter: None,
        last_job: None,
        version: tool.last()?.version,
    };
    let mut visits: Vec<Job> = jobs
        .iter()
        .filter_map(|entries| Job::fold(entries))
        .collect();
    visits.sort_by_key(|job| job.received.body.number);
    for job in visits {
        let received = job.received.body;
        row.model_revision = received.model.revision;
        row.owner = received.customer;
        row.counter = received.counter.or(row.counter);
        row.last_job = Some(received.number);
    }
    Some(row)
}
