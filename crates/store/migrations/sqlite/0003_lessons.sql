-- What closed jobs teach the fault model, by job: a read table. docs/logbook.md.

CREATE TABLE lessons (
    job      TEXT    PRIMARY KEY,
    tool     TEXT    NOT NULL,
    model    TEXT    NOT NULL,
    revision INTEGER NOT NULL,
    faults   TEXT    NOT NULL,
    opened   TEXT    NOT NULL,
    closed   TEXT    NOT NULL,
    counter  INTEGER,
    anew     INTEGER NOT NULL,
    mended   INTEGER NOT NULL,
    causes   TEXT    NOT NULL,
    there    TEXT    NOT NULL,
    absent   TEXT    NOT NULL,
    yes      TEXT    NOT NULL,
    no       TEXT    NOT NULL
) STRICT, WITHOUT ROWID;
