//! The table `jobs`.

use shop::spelling::folded;
use shop::tables::JobRow;
use uuid::Uuid;

use super::job_row::StoredJob;
use super::{anywhere, bind_all};
use crate::error::StoreError;
use crate::log::{damaged, uuid};
use crate::request::FIRST_NUMBER;
use crate::sqlite::Connection;
use crate::stored::subject_text;

/// Which jobs a list shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Which {
    /// Those not handed back, the first promised first.
    #[default]
    Open,
    /// Every one, the newest first.
    All,
}

/// A list of jobs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JobFilter {
    /// Which.
    pub which: Which,
    /// Only those with this in number, serial, model, complaint or customer's name.
    pub text: String,
    /// At most so many.
    pub limit: u32,
    /// After so many.
    pub offset: u32,
}

impl Default for JobFilter {
    fn default() -> Self {
        Self {
            which: Which::Open,
            text: String::new(),
            limit: 200,
            offset: 0,
        }
    }
}

fn read(rows: Vec<StoredJob>) -> Result<Vec<JobRow>, StoreError> {
    rows.into_iter().map(StoredJob::read).collect()
}

pub(crate) async fn put(c: &mut Connection, row: &StoredJob) -> Result<(), StoreError> {
    remove(c, &row.job).await?;
    let insert = sqlx::query(
        "INSERT INTO jobs (job, number, tool, model, serial, customer, stage, waiting, signature,
                           due, opened, closed, version, complaint, search)
         VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15)",
    );
    bind_all!(insert, row.cells()).execute(c).await?;
    Ok(())
}

pub(crate) async fn remove(c: &mut Connection, job: &str) -> Result<(), StoreError> {
    sqlx::query("DELETE FROM jobs WHERE job = $1")
        .bind(job)
        .execute(c)
        .await?;
    Ok(())
}

pub(crate) async fn remove_all(c: &mut Connection) -> Result<(), StoreError> {
    sqlx::query("DELETE FROM jobs").execute(c).await?;
    Ok(())
}

/// The row of `job` as stored.
pub(crate) async fn stored(c: &mut Connection, job: &str) -> Result<Option<StoredJob>, StoreError> {
    Ok(sqlx::query_as("SELECT * FROM jobs WHERE job = $1")
        .bind(job)
        .fetch_optional(c)
        .await?)
}

/// The job of every row.
pub(crate) async fn keys(c: &mut Connection) -> Result<Vec<String>, StoreError> {
    Ok(sqlx::query_scalar("SELECT job FROM jobs ORDER BY job")
        .fetch_all(c)
        .await?)
}

pub(crate) async fn next_number(c: &mut Connection) -> Result<u32, StoreError> {
    let last: Option<i64> = sqlx::query_scalar("SELECT max(number) FROM jobs")
        .fetch_one(c)
        .await?;
    match last {
        None => Ok(FIRST_NUMBER),
        Some(last) => u32::try_from(last + 1).map_err(|e| damaged(e.to_string())),
    }
}

pub(crate) async fn by_id(c: &mut Connection, job: Uuid) -> Result<Option<JobRow>, StoreError> {
    let row = stored(c, &subject_text(job)).await?;
    row.map(StoredJob::read).transpose()
}

pub(crate) async fn by_number(c: &mut Connection, n: u32) -> Result<Option<JobRow>, StoreError> {
    let row: Option<StoredJob> = sqlx::query_as("SELECT * FROM jobs WHERE number = $1")
        .bind(i64::from(n))
        .fetch_optional(c)
        .await?;
    row.map(StoredJob::read).transpose()
}

/// Jobs of a tool, the newest first.
pub(crate) async fn of_tool(c: &mut Connection, tool: Uuid) -> Result<Vec<JobRow>, StoreError> {
    read(
        sqlx::query_as("SELECT * FROM jobs WHERE tool = $1 ORDER BY number DESC")
            .bind(subject_text(tool))
            .fetch_all(c)
            .await?,
    )
}

/// Jobs, open or ended, whose certificate waits for a second signature, the oldest first.
pub(crate) async fn waiting_for_signature(c: &mut Connection) -> Result<Vec<JobRow>, StoreError> {
    read(
        sqlx::query_as("SELECT * FROM jobs WHERE signature <> '' ORDER BY number")
            .fetch_all(c)
            .await?,
    )
}

/// So many ended jobs of a model are looked through for times: what is older was another bench's pace.
pub const TIMED_AMONG: u32 = 100;

/// Ended jobs of `model` with a step that was timed, the newest first.
pub(crate) async fn timed(
    c: &mut Connection,
    model: &str,
    most: u32,
) -> Result<Vec<Uuid>, StoreError> {
    let found: Vec<String> = sqlx::query_scalar(
        "SELECT job FROM (SELECT job, number FROM jobs WHERE model = $1 AND closed IS NOT NULL
                          ORDER BY number DESC LIMIT $2)
          WHERE EXISTS (SELECT 1 FROM entries WHERE subject = job AND kind = 'step-timed')
          ORDER BY number DESC LIMIT $3",
    )
    .bind(model)
    .bind(i64::from(TIMED_AMONG))
    .bind(i64::from(most))
    .fetch_all(c)
    .await?;
    found.iter().map(|job| uuid(job)).collect()
}

/// Ended jobs of `model` with an entry of `kind`, the newest first.
pub(crate) async fn ended_with(
    c: &mut Connection,
    model: &str,
    kind: &str,
    most: u32,
) -> Result<Vec<Uuid>, StoreError> {
    let found: Vec<String> = sqlx::query_scalar(
        "SELECT job FROM jobs WHERE model = $1 AND closed IS NOT NULL
            AND EXISTS (SELECT 1 FROM entries WHERE subject = job AND kind = $2)
          ORDER BY number DESC LIMIT $3",
    )
    .bind(model)
    .bind(kind)
    .bind(i64::from(most))
    .fetch_all(c)
    .await?;
    found.iter().map(|job| uuid(job)).collect()
}

pub(crate) async fn list(
    c: &mut Connection,
    filter: &JobFilter,
) -> Result<Vec<JobRow>, StoreError> {
    let text = folded(&filter.text);
    // An empty text makes the pattern "%", which every row fits.
    let query = match filter.which {
        Which::Open => sqlx::query_as(
            r"SELECT j.* FROM jobs j LEFT JOIN people p ON p.key = j.customer
              WHERE j.closed IS NULL
                AND (j.search LIKE $1 ESCAPE '\' OR p.folded LIKE $1 ESCAPE '\')
              ORDER BY j.due IS NULL, j.due, j.number LIMIT $2 OFFSET $3",
        ),
        Which::All => sqlx::query_as(
            r"SELECT j.* FROM jobs j LEFT JOIN people p ON p.key = j.customer
              WHERE j.search LIKE $1 ESCAPE '\' OR p.folded LIKE $1 ESCAPE '\'
              ORDER BY j.number DESC LIMIT $2 OFFSET $3",
        ),
    };
    read(
        query
            .bind(anywhere(&text))
            .bind(i64::from(filter.limit))
            .bind(i64::from(filter.offset))
            .fetch_all(c)
            .await?,
    )
}

/// Jobs of customers with `text` in their name, the newest first.
pub(crate) async fn of_customer_like(
    c: &mut Connection,
    text: &str,
    limit: u32,
) -> Result<Vec<JobRow>, StoreError> {
    read(
        sqlx::query_as(
            r"SELECT j.* FROM jobs j JOIN people p ON p.key = j.customer
              WHERE p.folded LIKE $1 ESCAPE '\' ORDER BY j.number DESC LIMIT $2",
        )
        .bind(anywhere(&folded(text)))
        .bind(i64::from(limit))
        .fetch_all(c)
        .await?,
    )
}
