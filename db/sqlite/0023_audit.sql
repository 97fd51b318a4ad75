-- The audit: who did what, when and from where. Append-only: the triggers refuse every change, and every deletion but of entries older than
-- the mark, which only moves on. A person's name stands in audit_name alone, so that it can be replaced without a change to an entry.

CREATE TABLE audit_name (
    id   INTEGER PRIMARY KEY,
    name TEXT    NOT NULL
) STRICT;

CREATE INDEX audit_name_by_name ON audit_name (name);

-- Written in the transaction of the change that it tells of, before the answer's status is known: that one is in audit_outcome then.
CREATE TABLE audit_entry (
    id             INTEGER PRIMARY KEY AUTOINCREMENT,
    at_ms          INTEGER NOT NULL,
    caller_kind    TEXT    NOT NULL,                     -- key, person, system, command, stranger
    caller_id      INTEGER,                              -- number of the key or person
    caller_name_id INTEGER REFERENCES audit_name (id),   -- the name at that time
    action         TEXT    NOT NULL,                     -- a stable word such as approval.decide
    method         TEXT,                                 -- of the request; null: it was none
    route          TEXT,                                 -- the route's pattern, or the command's name
    about_kind     TEXT,                                 -- unit, site, approval, ...
    about          TEXT,                                 -- its code, key or number
    about_key      TEXT,                                 -- the same in lower case
    about_name_id  INTEGER REFERENCES audit_name (id),   -- name of the key or person that it was about
    address        TEXT,                                 -- IP address
    trace          TEXT,                                 -- identifier of the request in the log
    detail         TEXT,                                 -- what changed, in a few words
    status         INTEGER                               -- HTTP status, or exit code of the command; null: in audit_outcome
) STRICT;

CREATE INDEX audit_entry_by_time ON audit_entry (at_ms);
CREATE INDEX audit_entry_by_about ON audit_entry (about_key, id) WHERE about_key IS NOT NULL;
CREATE INDEX audit_entry_by_caller ON audit_entry (caller_name_id, id);
CREATE INDEX audit_entry_by_about_name ON audit_entry (about_name_id) WHERE about_name_id IS NOT NULL;

-- What an entry written with its change was answered; none: the program ended before it could be noted.
CREATE TABLE audit_outcome (
    entry_id INTEGER PRIMARY KEY REFERENCES audit_entry (id),
    status   INTEGER NOT NULL,
    detail   TEXT                                        -- what became known after the change
) STRICT;

-- At most one row: entries older than this may be deleted.
CREATE TABLE audit_mark (
    id        INTEGER PRIMARY KEY CHECK (id = 1),
    before_ms INTEGER NOT NULL
) STRICT;

-- Names of people that were replaced, each with the pseudonym that stands in its place; names of one person have the same.
CREATE TABLE erasure (
    id          INTEGER PRIMARY KEY,
    pseudonym   TEXT    NOT NULL,
    salt        BLOB    NOT NULL,
    name_digest BLOB    NOT NULL,                        -- HMAC-SHA256 of the name with the salt: the same name gets the same pseudonym again
    erased_ms   INTEGER NOT NULL
) STRICT;

-- What a record that lost a name says now; record.content_hash stays what it was, by which the record is known when it is sent again.
CREATE TABLE erased_record (
    seq          INTEGER PRIMARY KEY REFERENCES record (seq),
    content_hash BLOB    NOT NULL
) STRICT;

CREATE TRIGGER audit_entry_unchanged BEFORE UPDATE ON audit_entry
BEGIN
    SELECT RAISE(ABORT, 'Entries of the audit are never changed.');
END;

CREATE TRIGGER audit_entry_kept BEFORE DELETE ON audit_entry
WHEN NOT EXISTS (SELECT 1 FROM audit_mark m WHERE OLD.at_ms < m.before_ms)
BEGIN
    SELECT RAISE(ABORT, 'Only entries of the audit that are older than its mark may be deleted.');
END;

CREATE TRIGGER audit_outcome_unchanged BEFORE UPDATE ON audit_outcome
BEGIN
    SELECT RAISE(ABORT, 'Entries of the audit are never changed.');
END;

CREATE TRIGGER audit_outcome_kept BEFORE DELETE ON audit_outcome
WHEN NOT EXISTS (SELECT 1 FROM audit_entry e JOIN audit_mark m ON e.at_ms < m.before_ms WHERE e.id = OLD.entry_id)
BEGIN
    SELECT RAISE(ABORT, 'Only entries of the audit that are older than its mark may be deleted.');
END;

CREATE TRIGGER audit_name_replaced BEFORE UPDATE ON audit_name
WHEN NOT EXISTS (SELECT 1 FROM erasure e WHERE e.pseudonym = NEW.name)
BEGIN
    SELECT RAISE(ABORT, 'A name in the audit is only ever replaced by a pseudonym.');
END;

CREATE TRIGGER audit_mark_moves_on BEFORE UPDATE ON audit_mark
WHEN NEW.before_ms < OLD.before_ms
BEGIN
    SELECT RAISE(ABORT, 'The mark of the audit only moves on.');
END;

CREATE TRIGGER audit_mark_kept BEFORE DELETE ON audit_mark
BEGIN
    SELECT RAISE(ABORT, 'The mark of the audit only moves on.');
END;
