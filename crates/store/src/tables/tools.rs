//! The table `tools`.

use shop::entry::PersonKey;
use shop::tables::ToolRow;
use uuid::Uuid;

use super::{Cell, anywhere, begins_with, bind_all};
use crate::error::StoreError;
use crate::log::{damaged, uuid};
use crate::sqlite::Connection;
use crate::stored::{folded, subject_text};

/// A list of tools, in order of serial.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ToolFilter {
    /// Only those with this in serial, model or owner's name.
    pub text: String,
    /// At most so many.
    pub limit: u32,
    /// After so many.
    pub offset: u32,
}

impl Default for ToolFilter {
    fn default() -> Self {
        Self {
            text: String::new(),
            limit: 200,
            offset: 0,
        }
    }
}

/// A row as stored.
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

    fn read(self) -> Result<ToolRow, StoreError> {
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

fn read(rows: Vec<StoredTool>) -> Result<Vec<ToolRow>, StoreError> {
    rows.into_iter().map(StoredTool::read).collect()
}

pub(crate) async fn put(c: &mut Connection, row: &StoredTool) -> Result<(), StoreError> {
    remove(c, &row.tool).await?;
    let insert = sqlx::query(
        "INSERT INTO tools
            (tool, serial, model, model_revision, owner, counter, last_job, version, folded)
         VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)",
    );
    bind_all!(insert, row.cells()).execute(c).await?;
    Ok(())
}

pub(crate) async fn remove(c: &mut Connection, tool: &str) -> Result<(), StoreError> {
    sqlx::query("DELETE FROM tools WHERE tool = $1")
        .bind(tool)
        .execute(c)
        .await?;
    Ok(())
}

pub(crate) async fn remove_all(c: &mut Connection) -> Result<(), StoreError> {
    sqlx::query("DELETE FROM tools").execute(c).await?;
    Ok(())
}

/// The row of `tool` as stored.
pub(crate) async fn stored(
    c: &mut Connection,
    tool: &str,
) -> Result<Option<StoredTool>, StoreError> {
    Ok(sqlx::query_as("SELECT * FROM tools WHERE tool = $1")
        .bind(tool)
        .fetch_optional(c)
        .await?)
}

/// The tool of every row.
pub(crate) async fn keys(c: &mut Connection) -> Result<Vec<String>, StoreError> {
    Ok(sqlx::query_scalar("SELECT tool FROM tools ORDER BY tool")
        .fetch_all(c)
        .await?)
}

pub(crate) async fn by_id(c: &mut Connection, tool: Uuid) -> Result<Option<ToolRow>, StoreError> {
    let row = stored(c, &subject_text(tool)).await?;
    row.map(StoredTool::read).transpose()
}

/// Tools with this serial, whatever the case of its letters.
pub(crate) async fn by_serial(
    c: &mut Connection,
    serial: &str,
) -> Result<Vec<ToolRow>, StoreError> {
    read(
        sqlx::query_as("SELECT * FROM tools WHERE folded = $1 ORDER BY tool")
            .bind(folded(serial))
            .fetch_all(c)
            .await?,
    )
}

/// Tools whose serial begins with `text`.
pub(crate) async fn by_serial_start(
    c: &mut Connection,
    text: &str,
    limit: u32,
) -> Result<Vec<ToolRow>, StoreError> {
    read(
        sqlx::query_as(
            r"SELECT * FROM tools WHERE folded LIKE $1 ESCAPE '\' ORDER BY folded, tool LIMIT $2",
        )
        .bind(begins_with(&folded(text)))
        .bind(i64::from(limit))
        .fetch_all(c)
        .await?,
    )
}

pub(crate) async fn list(
    c: &mut Connection,
    filter: &ToolFilter,
) -> Result<Vec<ToolRow>, StoreError> {
    read(
        sqlx::query_as(
            r"SELECT t.* FROM tools t LEFT JOIN people p ON p.key = t.owner
              WHERE t.folded LIKE $1 ESCAPE '\' OR t.model LIKE $1 ESCAPE '\'
                 OR p.folded LIKE $1 ESCAPE '\'
              ORDER BY t.folded, t.tool LIMIT $2 OFFSET $3",
        )
        .bind(anywhere(&folded(&filter.text)))
        .bind(i64::from(filter.limit))
        .bind(i64::from(filter.offset))
        .fetch_all(c)
        .await?,
    )
}
