//! The statements on `entries` and `store_info`.

use std::collections::BTreeMap;

use shop::entry::{Body, Entry};
use uuid::Uuid;

use crate::chain::START;
use crate::error::StoreError;
use crate::papers;
use crate::sqlite::Connection;
use crate::stored::{StoredEntry, subject_text, time_text};

/// An entry with its place in the logbook.
#[derive(Clone, Debug, PartialEq)]
pub struct Logged {
    /// The entry.
    pub entry: Entry,
    /// Its number in the logbook of its origin, from 1.
    pub seq: u64,
    /// Its hash, lower-case hex.
    pub hash: String,
}

/// Where the logbook ends: printed on documents, it fixes everything before it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Head {
    /// This store's origin.
    pub origin: Uuid,
    /// Number of the last entry; 0 in an empty logbook.
    pub seq: u64,
    /// Its hash; 64 zeros in an empty logbook.
    pub hash: String,
}

/// The origin of this store; made at the first opening.
pub(crate) async fn origin(c: &mut Connection) -> Result<Option<Uuid>, StoreError> {
    let text: Option<String> = sqlx::query_scalar("SELECT origin FROM store_info WHERE one = 1")
        .fetch_optional(c)
        .await?;
    text.map(|text| uuid(&text)).transpose()
}

pub(crate) async fn set_origin(c: &mut Connection, origin: Uuid) -> Result<(), StoreError> {
    sqlx::query("INSERT INTO store_info (one, origin) VALUES (1, $1)")
        .bind(origin.to_string())
        .execute(c)
        .await?;
    Ok(())
}

pub(crate) async fn of_subject(
    c: &mut Connection,
    subject: Uuid,
) -> Result<Vec<StoredEntry>, StoreError> {
    Ok(
        sqlx::query_as("SELECT * FROM entries WHERE subject = $1 ORDER BY version")
            .bind(subject_text(subject))
            .fetch_all(c)
            .await?,
    )
}

/// The entries of one subject, read, in order.
pub(crate) async fn read_subject(
    c: &mut Connection,
    subject: Uuid,
) -> Result<Vec<Entry>, StoreError> {
    let rows = of_subject(c, subject).await?;
    rows.iter().map(StoredEntry::read).collect()
}

pub(crate) async fn last_version(c: &mut Connection, subject: Uuid) -> Result<u32, StoreError> {
    let last: Option<i64> =
        sqlx::query_scalar("SELECT max(version) FROM entries WHERE subject = $1")
            .bind(subject_text(subject))
            .fetch_one(c)
            .await?;
    u32::try_from(last.unwrap_or(0)).map_err(|e| damaged(e.to_string()))
}

/// The next `limit` entries of `origin` after number `after`, in order.
pub(crate) async fn page(
    c: &mut Connection,
    origin: &str,
    after: i64,
    limit: i64,
) -> Result<Vec<StoredEntry>, StoreError> {
    Ok(
        sqlx::query_as(
            "SELECT * FROM entries WHERE origin = $1 AND seq > $2 ORDER BY seq LIMIT $3",
        )
        .bind(origin)
        .bind(after)
        .bind(limit)
        .fetch_all(c)
        .await?,
    )
}

/// Every origin that has entries here.
pub(crate) async fn origins(c: &mut Connection) -> Result<Vec<String>, StoreError> {
    Ok(
        sqlx::query_scalar("SELECT DISTINCT origin FROM entries ORDER BY origin")
            .fetch_all(c)
            .await?,
    )
}

/// The next `limit` subjects after `after`, with number of entries, lowest and highest version.
pub(crate) async fn subjects(
    c: &mut Connection,
    after: &str,
    limit: i64,
) -> Result<Vec<(String, i64, i64, i64)>, StoreError> {
    Ok(sqlx::query_as(
        "SELECT subject, count(*), min(version), max(version) FROM entries
         WHERE subject > $1 GROUP BY subject ORDER BY subject LIMIT $2",
    )
    .bind(after)
    .bind(limit)
    .fetch_all(c)
    .await?)
}

/// Number of entries of each kind.
pub(crate) async fn kinds(c: &mut Connection) -> Result<BTreeMap<String, u64>, StoreError> {
    let rows: Vec<(String, i64)> =
        sqlx::query_as("SELECT kind, count(*) FROM entries GROUP BY kind")
            .fetch_all(c)
            .await?;
    Ok(rows
        .into_iter()
        .map(|(kind, count)| (kind, count.unsigned_abs()))
        .collect())
}

/// Every file that an entry names, struck or not: its name by its hash.
pub(crate) async fn attached(c: &mut Connection) -> Result<BTreeMap<String, String>, StoreError> {
    let rows: Vec<StoredEntry> =
        sqlx::query_as("SELECT * FROM entries WHERE kind = $1 ORDER BY origin, seq")
            .bind("file-attached")
            .fetch_all(&mut *c)
            .await?;
    let mut named = BTreeMap::new();
    for row in rows {
        // An entry that does not read is told by the walk along the chain.
        if let Ok(Body::FileAttached(file)) = row.read().map(|entry| entry.body) {
            named.entry(file.sha256).or_insert(file.name);
        }
    }
    for (hash, number) in papers::kept(c).await? {
        named.entry(hash).or_insert(number);
    }
    Ok(named)
}

/// Entries from `since` on in which a reading, or the rig of recorded pulls, names the gauge with this id.
pub(crate) async fn naming_gauge(
    c: &mut Connection,
    gauge: &str,
    since: Option<jiff::Timestamp>,
) -> Result<Vec<StoredEntry>, StoreError> {
    let pin = format!("\"gauge\":{{\"id\":\"{gauge}\"");
    // Recorded pulls name the gauges of their rig in a list.
    let of_rig = format!("{{\"id\":\"{gauge}\"");
    Ok(sqlx::query_as(
        "SELECT * FROM entries WHERE at >= $1 AND (instr(body, $2) > 0
         OR (kind = 'pulls-read' AND instr(body, $3) > 0)) ORDER BY at, origin, seq",
    )
    .bind(since.map(time_text).unwrap_or_default())
    .bind(pin)
    .bind(of_rig)
    .fetch_all(c)
    .await?)
}

pub(crate) async fn head(c: &mut Connection, origin: Uuid) -> Result<Head, StoreError> {
    let last: Option<(i64, String)> =
        sqlx::query_as("SELECT seq, hash FROM entries WHERE origin = $1 ORDER BY seq DESC LIMIT 1")
            .bind(origin.to_string())
            .fetch_optional(c)
            .await?;
    let (seq, hash) = last.unwrap_or_else(|| (0, START.to_owned()));
    Ok(Head {
        origin,
        seq: seq.unsigned_abs(),
        hash,
    })
}

pub(crate) async fn insert(c: &mut Connection, entry: &StoredEntry) -> Result<(), StoreError> {
    sqlx::query(
        "INSERT INTO entries
            (origin, seq, subject, version, schema, kind, at, \"by\", body, prev_hash, hash)
         VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11)",
    )
    .bind(&entry.origin)
    .bind(entry.seq)
    .bind(&entry.subject)
    .bind(entry.version)
    .bind(entry.schema)
    .bind(&entry.kind)
    .bind(&entry.at)
    .bind(&entry.by)
    .bind(&entry.body)
    .bind(&entry.prev_hash)
    .bind(&entry.hash)
    .execute(c)
    .await?;
    Ok(())
}

pub(crate) fn uuid(text: &str) -> Result<Uuid, StoreError> {
    text.parse()
        .map_err(|e: uuid::Error| damaged(format!("{text}: {e}")))
}

pub(crate) fn damaged(what: String) -> StoreError {
    StoreError::Damaged { what }
}
