//! An entry as it stands in its table: text and whole numbers, the same in every database.

use jiff::Timestamp;
use shop::entry::{Body, Entry, PersonKey};
use uuid::Uuid;

use crate::chain::Link;
use crate::error::StoreError;

/// A row of `entries`.
#[derive(Clone, Debug, sqlx::FromRow)]
pub(crate) struct StoredEntry {
    pub origin: String,
    pub seq: i64,
    pub subject: String,
    pub version: i64,
    pub schema: i64,
    pub kind: String,
    pub at: String,
    pub by: String,
    pub body: String,
    pub prev_hash: String,
    pub hash: String,
}

impl StoredEntry {
    /// The entry, read.
    pub fn read(&self) -> Result<Entry, StoreError> {
        let wrong = |what: String| StoreError::Damaged {
            what: format!("{} {}: {what}", self.origin, self.seq),
        };
        let number = |n: i64| u32::try_from(n).map_err(|e| wrong(e.to_string()));
        Ok(Entry {
            subject: self
                .subject
                .parse()
                .map_err(|e: uuid::Error| wrong(e.to_string()))?,
            version: number(self.version)?,
            at: self
                .at
                .parse()
                .map_err(|e: jiff::Error| wrong(e.to_string()))?,
            by: PersonKey(self.by.clone()),
            body: Body::from_json(&self.kind, number(self.schema)?, &self.body).map_err(wrong)?,
        })
    }

    /// The hash that the row should carry.
    pub fn hash_now(&self) -> String {
        Link {
            origin: &self.origin,
            seq: self.seq,
            subject: &self.subject,
            version: self.version,
            schema: self.schema,
            kind: &self.kind,
            at: &self.at,
            by: &self.by,
            body: &self.body,
            prev_hash: &self.prev_hash,
        }
        .hash()
    }
}

/// A time as stored: UTC with six decimals, so that texts sort as times do.
pub(crate) fn time_text(at: Timestamp) -> String {
    format!("{at:.6}")
}

/// A subject as stored.
pub(crate) fn subject_text(subject: Uuid) -> String {
    subject.to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_sort_as_text() {
        let times = [
            "2026-11-25T09:30:00Z",
            "2026-11-25T09:30:00.5Z",
            "2026-11-25T09:30:01Z",
        ];
        let texts = times.map(|t| time_text(t.parse().expect("a time")));
        assert!(texts.is_sorted(), "{texts:?}");
        assert_eq!(texts[0], "2026-11-25T09:30:00.000000Z");
        assert_eq!(
            texts[1]
                .parse::<Timestamp>()
                .expect("reads back")
                .to_string(),
            times[1]
        );
    }
}
