//! The logbook from outside: what it stores, what it refuses, what it survives.

mod append;
#[path = "../built/mod.rs"]
mod built;
mod disk;
mod kill;
mod lessons;
mod lists;
mod open;
mod people;
mod replay;
mod sample;
mod sheets;
mod signatures;
mod tamper;
mod writers;

use std::path::PathBuf;

use sqlx::{ConnectOptions, Connection as _, SqliteConnection};
use store::Store;
use tempfile::TempDir;

use built::example;

/// A record in a folder of its own.
pub struct Bench {
    folder: TempDir,
    /// The record, open.
    pub store: Store,
}

impl Bench {
    /// A new record.
    pub async fn new() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let store = Store::open(&folder.path().join("shop.setwright"))
            .await
            .expect("a new record");
        Self { folder, store }
    }

    /// Where it is.
    pub fn path(&self) -> PathBuf {
        self.folder.path().join("shop.setwright")
    }

    /// Closes it and opens it again.
    pub async fn reopened(self) -> Self {
        self.store.close().await;
        let path = self.folder.path().join("shop.setwright");
        let store = Store::open(&path).await.expect("the same record");
        Self { store, ..self }
    }

    /// Runs SQL on the file as a stranger would, past everything that guards it.
    pub async fn tamper(&self, sql: &'static str) {
        self.raw(sql).await.expect("the stranger's statement");
    }

    /// Runs SQL on the file as a stranger would.
    pub async fn raw(&self, sql: &'static str) -> Result<(), sqlx::Error> {
        let mut stranger: SqliteConnection = sqlx::sqlite::SqliteConnectOptions::new()
            .filename(self.path())
            .foreign_keys(false)
            .connect()
            .await?;
        let ran = sqlx::raw_sql(sql).execute(&mut stranger).await;
        stranger.close().await?;
        ran.map(|_| ())
    }
}
