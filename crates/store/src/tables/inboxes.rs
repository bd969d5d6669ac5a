//! The table `inboxes`.

use shop::entry::Entry;
use shop::tables::{InboxRow, inbox_row};

use super::{Cell, bind_all};
use crate::error::StoreError;
use crate::log::{damaged, uuid};
use crate::sqlite::Connection;
use crate::stored::{subject_text, time_text};

/// A row of `inboxes`.
#[derive(Clone, Debug, PartialEq, Eq, sqlx::FromRow)]
pub(crate) struct StoredInbox {
    pub tool: String,
    waiting: i64,
    newest: Option<String>,
    version: i64,
}

impl StoredInbox {
    /// The row that follows from an inbox's entries; `None` if they are not an inbox's.
    pub fn of(entries: &[Entry]) -> Option<Self> {
        let row = inbox_row(entries)?;
        Some(Self {
            tool: subject_text(row.tool),
            waiting: row.waiting.into(),
            newest: row.newest.map(time_text),
            version: row.version.into(),
        })
    }

    pub fn cells(&self) -> Vec<(&'static str, Cell)> {
        vec![
            ("tool", self.tool.as_str().into()),
            ("waiting", self.waiting.into()),
            ("newest", (&self.newest).into()),
            ("version", self.version.into()),
        ]
    }

    fn read(self) -> Result<InboxRow, StoreError> {
        let wrong = |what: String| damaged(format!("inboxes {}: {what}", self.tool));
        let number = |n: i64| u32::try_from(n).map_err(|e| wrong(e.to_string()));
        let newest = self.newest.as_deref().map(str::parse).transpose();
        Ok(InboxRow {
            tool: uuid(&self.tool)?,
            waiting: number(self.waiting)?,
            newest: newest.map_err(|e: jiff::Error| wrong(e.to_string()))?,
            version: number(self.version)?,
        })
    }
}

pub(crate) async fn put(c: &mut Connection, row: &StoredInbox) -> Result<(), StoreError> {
    let insert = sqlx::query(
        "INSERT INTO inboxes (tool, waiting, newest, version) VALUES ($1, $2, $3, $4)
         ON CONFLICT (tool) DO UPDATE SET
            waiting = excluded.waiting, newest = excluded.newest, version = excluded.version",
    );
    bind_all!(insert, row.cells()).execute(c).await?;
    Ok(())
}

pub(crate) async fn remove_all(c: &mut Connection) -> Result<(), StoreError> {
    sqlx::query("DELETE FROM inboxes").execute(c).await?;
    Ok(())
}

/// The row of `tool` as stored.
pub(crate) async fn stored(
    c: &mut Connection,
    tool: &str,
) -> Result<Option<StoredInbox>, StoreError> {
    Ok(sqlx::query_as("SELECT * FROM inboxes WHERE tool = $1")
        .bind(tool)
        .fetch_optional(c)
        .await?)
}

/// The tool of every row.
pub(crate) async fn keys(c: &mut Connection) -> Result<Vec<String>, StoreError> {
    Ok(sqlx::query_scalar("SELECT tool FROM inboxes ORDER BY tool")
        .fetch_all(c)
        .await?)
}

/// Inboxes in which something waits, the newest first.
pub(crate) async fn waiting(c: &mut Connection) -> Result<Vec<InboxRow>, StoreError> {
    let rows: Vec<StoredInbox> =
        sqlx::query_as("SELECT * FROM inboxes WHERE waiting > 0 ORDER BY newest DESC, tool")
            .fetch_all(c)
            .await?;
    rows.into_iter().map(StoredInbox::read).collect()
}
