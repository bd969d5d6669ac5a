//! One thing that is not as it should be.

use calc::Message;

/// What a verification can find.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Difference {
    /// The database's own check of the file complains.
    File {
        /// Its words.
        what: String,
    },
    /// Entries are missing before this one.
    Gap {
        /// Origin.
        origin: String,
        /// The entry after the gap.
        seq: i64,
    },
    /// The entry is not the one that was hashed.
    Changed {
        /// Origin.
        origin: String,
        /// The entry.
        seq: i64,
    },
    /// The entry was not written after the one that stands before it.
    Unlinked {
        /// Origin.
        origin: String,
        /// The entry.
        seq: i64,
    },
    /// The entry does not read.
    Unreadable {
        /// Origin.
        origin: String,
        /// The entry.
        seq: i64,
        /// Why.
        why: String,
    },
    /// A subject's versions are not 1, 2, 3, …
    Versions {
        /// Subject.
        subject: String,
    },
    /// A submission names entries that are not there.
    Submission {
        /// Its key.
        key: String,
    },
    /// A row of a read table is missing.
    RowMissing {
        /// Table.
        table: &'static str,
        /// Its key.
        key: String,
    },
    /// A row of a read table follows from no entry.
    RowExtra {
        /// Table.
        table: &'static str,
        /// Its key.
        key: String,
    },
    /// A file that an entry names is missing, or cannot be read.
    FileMissing {
        /// Its name.
        name: String,
        /// Its hash.
        hash: String,
    },
    /// A file is not the one that the entry names.
    FileChanged {
        /// Its name.
        name: String,
        /// Its hash.
        hash: String,
    },
    /// A column says something else than the logbook.
    Column {
        /// Table.
        table: &'static str,
        /// Key of the row.
        key: String,
        /// Column.
        column: &'static str,
        /// What stands there.
        stored: String,
        /// What follows from the logbook.
        replayed: String,
    },
}

impl Difference {
    /// The text for the user.
    pub fn message(&self) -> Message {
        let entry = |id, origin: &String, seq: &i64| {
            Message::new(id)
                .with("origin", origin.as_str())
                .with("seq", seq.to_string())
        };
        let file = |id, name: &String, hash: &String| {
            Message::new(id)
                .with("name", name.as_str())
                .with("hash", hash.as_str())
        };
        match self {
            Self::FileMissing { name, hash } => file("verify-file-missing", name, hash),
            Self::FileChanged { name, hash } => file("verify-file-changed", name, hash),
            Self::File { what } => Message::new("verify-file").with("what", what.as_str()),
            Self::Gap { origin, seq } => entry("verify-gap", origin, seq),
            Self::Changed { origin, seq } => entry("verify-changed", origin, seq),
            Self::Unlinked { origin, seq } => entry("verify-unlinked", origin, seq),
            Self::Unreadable { origin, seq, why } => {
                entry("verify-unreadable", origin, seq).with("why", why.as_str())
            }
            Self::Versions { subject } => {
                Message::new("verify-versions").with("subject", subject.as_str())
            }
            Self::Submission { key } => Message::new("verify-submission").with("key", key.as_str()),
            Self::RowMissing { table, key } => Message::new("verify-row-missing")
                .with("table", *table)
                .with("key", key.as_str()),
            Self::RowExtra { table, key } => Message::new("verify-row-extra")
                .with("table", *table)
                .with("key", key.as_str()),
            Self::Column {
                table,
                key,
                column,
                stored,
                replayed,
            } => Message::new("verify-column")
                .with("table", *table)
                .with("key", key.as_str())
                .with("column", *column)
                .with("stored", stored.as_str())
                .with("replayed", replayed.as_str()),
        }
    }
}
