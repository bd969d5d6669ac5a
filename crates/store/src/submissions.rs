//! The table `submissions`: keys of forms that stored something.

use crate::error::StoreError;
use crate::sqlite::Connection;

/// A row of `submissions`.
#[derive(Clone, Debug, sqlx::FromRow)]
pub(crate) struct Submission {
    pub key: String,
    pub origin: String,
    pub first_seq: i64,
    pub count: i64,
    pub subject: String,
}

/// The submission that was stored with `key`.
pub(crate) async fn find(c: &mut Connection, key: &str) -> Result<Option<Submission>, StoreError> {
    Ok(sqlx::query_as("SELECT * FROM submissions WHERE key = $1")
        .bind(key)
        .fetch_optional(c)
        .await?)
}

pub(crate) async fn insert(c: &mut Connection, submission: &Submission) -> Result<(), StoreError> {
    sqlx::query(
        "INSERT INTO submissions (key, origin, first_seq, count, subject)
         VALUES ($1, $2, $3, $4, $5)",
    )
    .bind(&submission.key)
    .bind(&submission.origin)
    .bind(submission.first_seq)
    .bind(submission.count)
    .bind(&submission.subject)
    .execute(c)
    .await?;
    Ok(())
}

/// Submissions that name entries which are not there.
pub(crate) async fn broken(c: &mut Connection) -> Result<Vec<String>, StoreError> {
    Ok(sqlx::query_scalar(
        "SELECT s.key FROM submissions s WHERE s.count <> (
             SELECT count(*) FROM entries e
             WHERE e.origin = s.origin AND e.seq >= s.first_seq AND e.seq < s.first_seq + s.count)
         ORDER BY s.key",
    )
    .fetch_all(c)
    .await?)
}
