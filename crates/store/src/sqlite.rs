//! Everything that is SQLite's own: how a connection is opened, how a write begins, what the error
//! codes mean. Another database is another file like this one and another folder of migrations.

use std::path::Path;
use std::time::Duration;

use sqlx::migrate::{MigrateError, Migrator};
use sqlx::pool::PoolOptions;
use sqlx::sqlite::{SqliteConnectOptions, SqliteJournalMode, SqliteSynchronous};
use sqlx::{ConnectOptions, Connection as _};

use crate::error::StoreError;

pub(crate) type Database = sqlx::Sqlite;
pub(crate) type Connection = sqlx::SqliteConnection;
pub(crate) type Pool = sqlx::SqlitePool;
pub(crate) type Transaction<'c> = sqlx::Transaction<'c, Database>;

static MIGRATIONS: Migrator = sqlx::migrate!("migrations/sqlite");

/// "SetW" as SQLite's `application_id`; set by the first migration.
const APPLICATION_ID: i64 = 1_399_157_847;

/// How long a statement waits for another program's lock.
const PATIENCE: Duration = Duration::from_secs(5);

/// Readers at one time.
const READERS: u32 = 4;

/// Opens the one connection that writes.
///
/// WAL lets readers go on while it writes; FULL syncs the log at every commit, so that a commit
/// that was reported is still there after a power cut; `secure_delete` overwrites an erased name.
pub(crate) async fn open_to_write(path: &Path) -> Result<Connection, StoreError> {
    options(path)
        .create_if_missing(true)
        .journal_mode(SqliteJournalMode::Wal)
        .synchronous(SqliteSynchronous::Full)
        .foreign_keys(true)
        .pragma("secure_delete", "ON")
        .connect()
        .await
        .map_err(|error| opening(&error))
}

/// Opens the connections that read.
pub(crate) async fn open_to_read(path: &Path) -> Result<Pool, StoreError> {
    PoolOptions::new()
        // One stays open, so that the writer's reopening never finds itself the only connection.
        .min_connections(1)
        .max_connections(READERS)
        .acquire_timeout(PATIENCE)
        .idle_timeout(None)
        .max_lifetime(None)
        .test_before_acquire(false)
        .connect_with(
            options(path)
                .create_if_missing(false)
                .read_only(true)
                .pragma("query_only", "ON"),
        )
        .await
        .map_err(|error| opening(&error))
}

fn options(path: &Path) -> SqliteConnectOptions {
    SqliteConnectOptions::new()
        .filename(path)
        .busy_timeout(PATIENCE)
        .disable_statement_logging()
}

/// Brings the tables to this program's form; whether the read tables are to be computed anew for it.
///
/// # Errors
/// The file is not a record, or a newer program wrote it.
pub(crate) async fn migrate(connection: &mut Connection) -> Result<bool, StoreError> {
    let is_old = is_ours(connection).await?;
    if !is_old && !is_new(connection).await? {
        return Err(StoreError::NotAStore);
    }
    MIGRATIONS
        .run(&mut *connection)
        .await
        .map_err(|error| match error {
            MigrateError::VersionMissing(_) | MigrateError::VersionMismatch(_) => {
                StoreError::OtherVersion
            }
            MigrateError::Execute(error) | MigrateError::ExecuteMigration(error, _) => {
                fault(&error)
            }
            other => StoreError::Failed {
                why: other.to_string(),
            },
        })?;
    let computed: i64 = sqlx::query_scalar("PRAGMA user_version")
        .fetch_one(&mut *connection)
        .await?;
    Ok(Some(computed) != newest_form(connection).await?)
}

/// Writes down, in the transaction that computed the read tables, for which form that was: an upgrade that was cut
/// short is made good at the next opening.
pub(crate) async fn mark_computed(connection: &mut Connection) -> Result<(), StoreError> {
    let form = newest_form(connection).await?.unwrap_or(0);
    let pragma = sqlx::AssertSqlSafe(format!("PRAGMA user_version = {form}"));
    sqlx::query(pragma).execute(connection).await?;
    Ok(())
}

/// The newest migration that the tables have seen.
async fn newest_form(connection: &mut Connection) -> Result<Option<i64>, StoreError> {
    let newest = sqlx::query_scalar("SELECT max(version) FROM _sqlx_migrations");
    Ok(newest.fetch_one(connection).await?)
}

/// Whether the tables have this program's form, for readers that cannot bring them to it.
pub(crate) async fn check_form(connection: &mut Connection) -> Result<(), StoreError> {
    if !is_ours(connection).await? {
        return Err(StoreError::NotAStore);
    }
    let newest = newest_form(connection).await?;
    let known = MIGRATIONS.iter().map(|migration| migration.version).max();
    if newest == known {
        Ok(())
    } else {
        Err(StoreError::OtherVersion)
    }
}

async fn is_ours(connection: &mut Connection) -> Result<bool, StoreError> {
    let id: i64 = sqlx::query_scalar("SELECT application_id FROM pragma_application_id")
        .fetch_one(connection)
        .await
        .map_err(|error| opening(&error))?;
    Ok(id == APPLICATION_ID)
}

/// An empty file, or one whose first opening was cut short before the first migration.
async fn is_new(connection: &mut Connection) -> Result<bool, StoreError> {
    let foreign: i64 = sqlx::query_scalar(
        "SELECT count(*) FROM sqlite_schema WHERE tbl_name <> '_sqlx_migrations'",
    )
    .fetch_one(connection)
    .await?;
    Ok(foreign == 0)
}

/// Begins a write. IMMEDIATE takes the write lock now: a deferred one would read first and could
/// then be refused the lock in the middle of its work.
pub(crate) async fn begin(connection: &mut Connection) -> Result<Transaction<'_>, StoreError> {
    Ok(connection.begin_with("BEGIN IMMEDIATE").await?)
}

/// Commits.
///
/// # Errors
/// [`StoreError::Full`]: the log took no more, so nothing was committed. Anything else may have
/// happened after the commit was on the disk: [`StoreError::Unknown`].
pub(crate) async fn commit(transaction: Transaction<'_>) -> Result<(), StoreError> {
    transaction
        .commit()
        .await
        .map_err(|error| match fault(&error) {
            StoreError::Full => StoreError::Full,
            _ => StoreError::Unknown {
                why: error.to_string(),
            },
        })
}

/// What SQLite's own check of the file finds wrong.
pub(crate) async fn damage(connection: &mut Connection) -> Result<Vec<String>, StoreError> {
    let lines: Vec<String> = sqlx::query_scalar("PRAGMA integrity_check")
        .fetch_all(connection)
        .await?;
    Ok(lines.into_iter().filter(|line| line != "ok").collect())
}

/// Moves the write-ahead log into the file and empties it, so that nothing erased lingers there.
/// A reader in the middle of its work can prevent it; the next checkpoint catches up.
pub(crate) async fn empty_log(connection: &mut Connection) -> Result<(), StoreError> {
    sqlx::query("PRAGMA wal_checkpoint(TRUNCATE)")
        .execute(connection)
        .await?;
    Ok(())
}

/// Copies the record as it stands at this moment to the new file `to`. The copy is not synced.
pub(crate) async fn copy(connection: &mut Connection, to: &Path) -> Result<(), StoreError> {
    let to = to.to_str().ok_or_else(|| StoreError::Failed {
        why: to.display().to_string(),
    })?;
    // The switch forbids this write, too; the file itself is still open for reading only.
    sqlx::query("PRAGMA query_only = OFF")
        .execute(&mut *connection)
        .await?;
    sqlx::query("VACUUM INTO $1")
        .bind(to)
        .execute(connection)
        .await?;
    Ok(())
}

/// What an error means for the caller.
pub(crate) fn fault(error: &sqlx::Error) -> StoreError {
    let why = error.to_string();
    match error {
        sqlx::Error::PoolTimedOut => StoreError::Busy,
        sqlx::Error::PoolClosed => StoreError::Closed,
        sqlx::Error::Decode(_) | sqlx::Error::ColumnDecode { .. } => {
            StoreError::Damaged { what: why }
        }
        _ => match primary_code(error) {
            Some(5 | 6) => StoreError::Busy,
            Some(11 | 26) => StoreError::Damaged { what: why },
            Some(13) => StoreError::Full,
            _ => StoreError::Failed { why },
        },
    }
}

fn opening(error: &sqlx::Error) -> StoreError {
    let why = error.to_string();
    match primary_code(error) {
        Some(26) => StoreError::NotAStore,
        Some(5 | 6) => StoreError::Busy,
        Some(11) => StoreError::Damaged { what: why },
        Some(13) => StoreError::Full,
        _ => StoreError::CannotOpen { why },
    }
}

/// The low byte of the result code: https://www.sqlite.org/rescode.html, "Primary Result Codes".
/// 5 busy, 6 locked, 11 corrupt, 13 full, 26 not a database.
fn primary_code(error: &sqlx::Error) -> Option<i32> {
    let code: i32 = error.as_database_error()?.code()?.parse().ok()?;
    Some(code & 0xff)
}

impl From<sqlx::Error> for StoreError {
    fn from(error: sqlx::Error) -> Self {
        fault(&error)
    }
}
