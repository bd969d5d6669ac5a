-- The logbook, the side tables that stand beside it, and the read tables that follow from it.
-- What each column means: docs/logbook.md.

PRAGMA application_id = 1399157847; -- "SetW": tells this file from any other SQLite file

CREATE TABLE store_info (
    one    INTEGER PRIMARY KEY CHECK (one = 1),
    origin TEXT    NOT NULL
) STRICT;

CREATE TABLE entries (
    origin    TEXT    NOT NULL,
    seq       INTEGER NOT NULL CHECK (seq >= 1),
    subject   TEXT    NOT NULL,
    version   INTEGER NOT NULL CHECK (version >= 1),
    schema    INTEGER NOT NULL,
    kind      TEXT    NOT NULL,
    at        TEXT    NOT NULL,
    "by"      TEXT    NOT NULL,
    body      TEXT    NOT NULL,
    prev_hash TEXT    NOT NULL CHECK (length(prev_hash) = 64),
    hash      TEXT    NOT NULL CHECK (length(hash) = 64),
    PRIMARY KEY (origin, seq),
    UNIQUE (subject, version)
) STRICT;

CREATE TRIGGER entries_are_not_changed BEFORE UPDATE ON entries
BEGIN
    SELECT RAISE(ABORT, 'an entry is never changed');
END;

CREATE TRIGGER entries_are_not_removed BEFORE DELETE ON entries
BEGIN
    SELECT RAISE(ABORT, 'an entry is never removed');
END;

-- INSERT OR REPLACE removes the old row without asking the trigger above.
CREATE TRIGGER entries_are_not_replaced BEFORE INSERT ON entries
WHEN EXISTS (SELECT 1 FROM entries WHERE origin = NEW.origin AND seq = NEW.seq)
  OR EXISTS (SELECT 1 FROM entries WHERE subject = NEW.subject AND version = NEW.version)
BEGIN
    SELECT RAISE(ABORT, 'an entry is never replaced');
END;

CREATE TABLE submissions (
    key       TEXT    PRIMARY KEY,
    origin    TEXT    NOT NULL,
    first_seq INTEGER NOT NULL,
    count     INTEGER NOT NULL CHECK (count >= 1),
    subject   TEXT    NOT NULL,
    FOREIGN KEY (origin, first_seq) REFERENCES entries (origin, seq)
) STRICT, WITHOUT ROWID;

CREATE TABLE people (
    key    TEXT PRIMARY KEY,
    salt   TEXT,
    name   TEXT UNIQUE,
    folded TEXT
) STRICT, WITHOUT ROWID;

CREATE TABLE jobs (
    job       TEXT    PRIMARY KEY,
    number    INTEGER NOT NULL UNIQUE,
    tool      TEXT    NOT NULL,
    model     TEXT    NOT NULL,
    serial    TEXT    NOT NULL,
    customer  TEXT    NOT NULL,
    stage     TEXT    NOT NULL,
    waiting   TEXT    NOT NULL,
    due       TEXT,
    opened    TEXT    NOT NULL,
    closed    TEXT,
    version   INTEGER NOT NULL,
    complaint TEXT    NOT NULL,
    search    TEXT    NOT NULL
) STRICT, WITHOUT ROWID;

CREATE INDEX jobs_open ON jobs (due, number) WHERE closed IS NULL;
CREATE INDEX jobs_of_tool ON jobs (tool, number);
CREATE INDEX jobs_of_customer ON jobs (customer, number);

CREATE TABLE tools (
    tool           TEXT    PRIMARY KEY,
    serial         TEXT    NOT NULL,
    model          TEXT    NOT NULL,
    model_revision INTEGER NOT NULL,
    owner          TEXT    NOT NULL,
    counter        INTEGER,
    last_job       INTEGER,
    version        INTEGER NOT NULL,
    folded         TEXT    NOT NULL
) STRICT, WITHOUT ROWID;

CREATE INDEX tools_by_serial ON tools (folded);
CREATE INDEX tools_of_owner ON tools (owner);
