//! The table `tools`.

use shop::spelling::folded;
use shop::tables::ToolRow;
use uuid::Uuid;

use super::tool_row::StoredTool;
use super::{anywhere, begins_with, bind_all};
use crate::error::StoreError;
use crate::sqlite::Connection;
use crate::stored::subject_text;

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
