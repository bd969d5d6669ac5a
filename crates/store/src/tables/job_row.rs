//! A row of the table `jobs`, as stored.

use shop::entry::PersonKey;
use shop::spelling::folded;
use shop::tables::JobRow;

use super::Cell;
use crate::error::StoreError;
use crate::log::{damaged, uuid};
use crate::stored::{subject_text, time_text};

/// A row of `jobs`.
#[derive(Clone, Debug, PartialEq, Eq, sqlx::FromRow)]
pub(crate) struct StoredJob {
    pub job: String,
    number: i64,
    pub tool: String,
    model: String,
    serial: String,
    customer: String,
    stage: String,
    waiting: String,
    signature: String,
    due: Option<String>,
    opened: String,
    pub closed: Option<String>,
    version: i64,
    complaint: String,
    search: String,
}

impl StoredJob {
    pub fn cells(&self) -> Vec<(&'static str, Cell)> {
        vec![
            ("job", self.job.as_str().into()),
            ("number", self.number.into()),
            ("tool", self.tool.as_str().into()),
            ("model", self.model.as_str().into()),
            ("serial", self.serial.as_str().into()),
            ("customer", self.customer.as_str().into()),
            ("stage", self.stage.as_str().into()),
            ("waiting", self.waiting.as_str().into()),
            ("signature", self.signature.as_str().into()),
            ("due", (&self.due).into()),
            ("opened", self.opened.as_str().into()),
            ("closed", (&self.closed).into()),
            ("version", self.version.into()),
            ("complaint", self.complaint.as_str().into()),
            ("search", self.search.as_str().into()),
        ]
    }

    pub fn read(self) -> Result<JobRow, StoreError> {
        let wrong = |what: &dyn std::fmt::Display| damaged(format!("jobs {}: {what}", self.job));
        Ok(JobRow {
            job: uuid(&self.job)?,
            number: u32::try_from(self.number).map_err(|e| wrong(&e))?,
            tool: uuid(&self.tool)?,
            due: match &self.due {
                Some(due) => Some(due.parse().map_err(|e: jiff::Error| wrong(&e))?),
                None => None,
            },
            opened: self.opened.parse().map_err(|e: jiff::Error| wrong(&e))?,
            closed: match &self.closed {
                Some(closed) => Some(closed.parse().map_err(|e: jiff::Error| wrong(&e))?),
                None => None,
            },
            version: u32::try_from(self.version).map_err(|e| wrong(&e))?,
            model: self.model,
            serial: self.serial,
            customer: PersonKey(self.customer),
            stage: self.stage,
            waiting: self.waiting,
            signature: self.signature,
            complaint: self.complaint,
        })
    }
}

impl From<&JobRow> for StoredJob {
    fn from(row: &JobRow) -> Self {
        let search = [&row.serial, &row.model, &row.complaint].map(|text| folded(text));
        Self {
            job: subject_text(row.job),
            number: row.number.into(),
            tool: subject_text(row.tool),
            model: row.model.clone(),
            serial: row.serial.clone(),
            customer: row.customer.0.clone(),
            stage: row.stage.clone(),
            waiting: row.waiting.clone(),
            signature: row.signature.clone(),
            due: row.due.map(|due| due.to_string()),
            opened: time_text(row.opened),
            closed: row.closed.map(time_text),
            version: row.version.into(),
            complaint: row.complaint.clone(),
            search: format!("{} {}", row.number, search.join(" ")),
        }
    }
}
