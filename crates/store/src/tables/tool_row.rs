//! A row of the table `tools`, as stored.

use shop::entry::PersonKey;
use shop::spelling::folded;
use shop::tables::ToolRow;

use super::Cell;
use crate::error::StoreError;
use crate::log::{damaged, uuid};
use crate::stored::subject_text;

/// A row of `tools`.
#[derive(Clone, Debug, PartialEq, Eq, sqlx::FromRow)]
pub(crate) struct StoredTool {
    pub tool: String,
    serial: String,
    model: String,
    model_revision: i64,
    owner: String,
    counter: Option<i64>,
    last_job: Option<i64>,
    version: i64,
    folded: String,
}

impl StoredTool {
    pub fn cells(&self) -> Vec<(&'static str, Cell)> {
        vec![
            ("tool", self.tool.as_str().into()),
            ("serial", self.serial.as_str().into()),
            ("model", self.model.as_str().into()),
            ("model_revision", self.model_revision.into()),
            ("owner", self.owner.as_str().into()),
            ("counter", self.counter.into()),
            ("last_job", self.last_job.into()),
            ("version", self.version.into()),
            ("folded", self.folded.as_str().into()),
        ]
    }

    pub fn read(self) -> Result<ToolRow, StoreError> {
        let wrong =
            |what: std::num::TryFromIntError| damaged(format!("tools {}: {what}", self.tool));
        Ok(ToolRow {
            tool: uuid(&self.tool)?,
            model_revision: u32::try_from(self.model_revision).map_err(wrong)?,
            counter: self.counter.map(u64::try_from).transpose().map_err(wrong)?,
            last_job: self
                .last_job
                .map(u32::try_from)
                .transpose()
                .map_err(wrong)?,
            version: u32::try_from(self.version).map_err(wrong)?,
            serial: self.serial,
            model: self.model,
            owner: PersonKey(self.owner),
        })
    }
}

impl From<&ToolRow> for StoredTool {
    fn from(row: &ToolRow) -> Self {
        Self {
            tool: subject_text(row.tool),
            serial: row.serial.clone(),
            model: row.model.clone(),
            model_revision: row.model_revision.into(),
            owner: row.owner.0.clone(),
            // A counter past what a database counts to reads as the most that it can say.
            counter: row.counter.map(|n| i64::try_from(n).unwrap_or(i64::MAX)),
            last_job: row.last_job.map(i64::from),
            version: row.version.into(),
            folded: folded(&row.serial),
        }
    }
}
