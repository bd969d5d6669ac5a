-- Number of the certificate of a job that waits for a second signature: the bench list names it. docs/logbook.md.

ALTER TABLE jobs ADD COLUMN signature TEXT NOT NULL DEFAULT '';

CREATE INDEX jobs_to_sign ON jobs (number) WHERE signature <> '';
