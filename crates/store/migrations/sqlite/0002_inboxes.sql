-- What crews sent and nobody has looked at, by tool: a read table. docs/logbook.md.

CREATE TABLE inboxes (
    tool    TEXT    PRIMARY KEY,
    waiting INTEGER NOT NULL,
    newest  TEXT,
    version INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
