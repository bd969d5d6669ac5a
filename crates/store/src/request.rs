//! What an append asks for, what its decision sees, what it gives back.

use jiff::Timestamp;
use shop::entry::{Entry, PersonKey};
use shop::sheet::Shelf;
use shop::tables::{JobRow, ToolRow};
use uuid::Uuid;

/// Number of a store's first job.
pub const FIRST_NUMBER: u32 = 1001;

/// What an append asks for.
#[derive(Clone, Debug, PartialEq)]
pub struct Request {
    /// The form's key. A key that was stored before is not stored again.
    pub submission: String,
    /// The job, tool or shelf that it is about.
    pub subject: Uuid,
    /// Version of the subject that the caller saw; 0 for one that is not there yet.
    pub expected_version: u32,
    /// Who writes.
    pub by: PersonKey,
    /// When. Kept to the microsecond, and kept as given: the order is that of the numbers.
    pub at: Timestamp,
    /// Serial of tools that the decision wants to see.
    pub serial: Option<String>,
}

/// What a decision sees. Nothing in it changes before the decision's entries are stored.
#[derive(Clone, Copy, Debug)]
pub struct Scene<'a> {
    /// The subject's entries.
    pub entries: &'a [Entry],
    /// Every sheet revision.
    pub shelf: &'a Shelf,
    /// Number that the next job gets.
    pub next_number: u32,
    /// Tools with the requested serial.
    pub tools: &'a [ToolRow],
    /// Open jobs of these tools.
    pub tool_open_jobs: &'a [JobRow],
}

/// What an append stored.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Written {
    /// The subject; for a repeated submission, that of the first time.
    pub subject: Uuid,
    /// Number of the last entry stored with the submission.
    pub seq: u64,
    /// Version of the subject after it.
    pub version: u32,
    /// Whether this submission had been stored before; nothing was stored now.
    pub repeated: bool,
}
