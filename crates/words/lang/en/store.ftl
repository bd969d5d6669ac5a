# What keeps the record from doing what it was asked.
store-in-use = Another program has this record open. Close it there first.
store-not-a-store = This file is not a Setwright record.
store-other-version = This record was written by another version of Setwright. Open it with that version.
store-cannot-open = The record cannot be opened: { $why }
store-read-only = The record is open for reading only.
store-full = The disk is full. Nothing was stored. Make room, then send again.
store-busy = Another program holds the record. Nothing was stored. Send again.
store-unknown = It is not known whether this was stored: { $why }. Send again: it is stored once.
store-failed = The record could not be read or written: { $why }. Nothing was stored.
store-damaged = The record is damaged: { $what }
store-bad-sheet = Sheet { $id }, revision { $revision }, cannot be stored: it does not read, or its revision is not the next. Nothing was stored.
store-no-name = Enter a name.
store-panicked = Setwright made a mistake of its own. Nothing was stored.
store-closed = The record was closed.

# What a verification finds.
verify-file = The file itself: { $what }
verify-gap = Entries are missing before entry { $seq } of { $origin }.
verify-changed = Entry { $seq } of { $origin } was changed.
verify-unlinked = Entry { $seq } of { $origin } does not follow the entry before it.
verify-unreadable = Entry { $seq } of { $origin } does not read: { $why }
verify-versions = The entries of { $subject } are not numbered 1, 2, 3 and so on.
verify-submission = Submission { $key } names entries that are missing.
verify-row-missing = Table { $table }: row { $key } is missing.
verify-row-extra = Table { $table }: row { $key } follows from no entry.
verify-column = Table { $table }, row { $key }: { $column } is “{ $stored }”; from the entries follows “{ $replayed }”.
