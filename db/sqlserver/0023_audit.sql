-- The audit: who did what, when and from where. Append-only: the triggers refuse every change, and every deletion but of entries older than
-- the mark, which only moves on. A person's name stands in audit_name alone, so that it can be replaced without a change to an entry.

CREATE TABLE audit_name (
    id   BIGINT NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    name NVARCHAR(200) COLLATE Latin1_General_BIN2 NOT NULL
);

CREATE INDEX audit_name_by_name ON audit_name (name);

-- Written in the transaction of the change that it tells of, before the answer's status is known: that one is in audit_outcome then.
CREATE TABLE audit_entry (
    id             BIGINT NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    at_ms          BIGINT NOT NULL,
    caller_kind    NVARCHAR(20) COLLATE Latin1_General_BIN2 NOT NULL,       -- key, person, system, command, stranger
    caller_id      BIGINT NULL,                                                 -- number of the key or person
    caller_name_id BIGINT NULL REFERENCES audit_name (id),                      -- the name at that time
    action         NVARCHAR(100) COLLATE Latin1_General_BIN2 NOT NULL,      -- a stable word such as approval.decide
    method         NVARCHAR(20) COLLATE Latin1_General_BIN2 NULL,           -- of the request; null: it was none
    route          NVARCHAR(400) COLLATE Latin1_General_BIN2 NULL,          -- the route's pattern, or the command's name
    about_kind     NVARCHAR(50) COLLATE Latin1_General_BIN2 NULL,           -- unit, site, approval, ...
    about          NVARCHAR(200) COLLATE Latin1_General_BIN2 NULL,          -- its code, key or number
    about_key      NVARCHAR(200) COLLATE Latin1_General_BIN2 NULL,          -- the same in lower case
    about_name_id  BIGINT NULL REFERENCES audit_name (id),                      -- name of the key or person that it was about
    address        NVARCHAR(64) COLLATE Latin1_General_BIN2 NULL,           -- IP address
    trace          NVARCHAR(100) COLLATE Latin1_General_BIN2 NULL,          -- identifier of the request in the log
    detail         NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NULL,          -- what changed, in a few words
    status         BIGINT NULL                                                  -- HTTP status, or exit code of the command; null: in audit_outcome
);

CREATE INDEX audit_entry_by_time ON audit_entry (at_ms);
CREATE INDEX audit_entry_by_about ON audit_entry (about_key, id) WHERE about_key IS NOT NULL;
CREATE INDEX audit_entry_by_caller ON audit_entry (caller_name_id, id);
CREATE INDEX audit_entry_by_about_name ON audit_entry (about_name_id) WHERE about_name_id IS NOT NULL;

-- What an entry written with its change was answered; none: the program ended before it could be noted.
CREATE TABLE audit_outcome (
    entry_id BIGINT NOT NULL PRIMARY KEY CLUSTERED REFERENCES audit_entry (id),
    status   BIGINT NOT NULL,
    detail   NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NULL                 -- what became known after the change
);

-- At most one row: entries older than this may be deleted.
CREATE TABLE audit_mark (
    id        BIGINT NOT NULL PRIMARY KEY CLUSTERED CHECK (id = 1),
    before_ms BIGINT NOT NULL
);

-- Names of people that were replaced, each with the pseudonym that stands in its place; names of one person have the same.
CREATE TABLE erasure (
    id          BIGINT NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    pseudonym   NVARCHAR(200) COLLATE Latin1_General_BIN2 NOT NULL,
    salt        VARBINARY(32) NOT NULL,
    name_digest VARBINARY(32) NOT NULL,                                         -- HMAC-SHA256 of the name with the salt: the same name gets the same pseudonym again
    erased_ms   BIGINT NOT NULL
);

-- What a record that lost a name says now; record.content_hash stays what it was, by which the record is known when it is sent again.
CREATE TABLE erased_record (
    seq          BIGINT NOT NULL PRIMARY KEY CLUSTERED REFERENCES record (seq),
    content_hash VARBINARY(32) NOT NULL
);
GO

CREATE TRIGGER audit_entry_kept ON audit_entry AFTER UPDATE, DELETE AS
BEGIN
    SET NOCOUNT ON;
    IF EXISTS (SELECT 1 FROM inserted)
    BEGIN
        THROW 51023, 'Entries of the audit are never changed.', 1;
    END;
    IF EXISTS (SELECT 1 FROM deleted d WHERE NOT EXISTS (SELECT 1 FROM audit_mark m WHERE d.at_ms < m.before_ms))
    BEGIN
        THROW 51023, 'Only entries of the audit that are older than its mark may be deleted.', 1;
    END;
END;
GO

CREATE TRIGGER audit_outcome_kept ON audit_outcome AFTER UPDATE, DELETE AS
BEGIN
    SET NOCOUNT ON;
    IF EXISTS (SELECT 1 FROM inserted)
    BEGIN
        THROW 51023, 'Entries of the audit are never changed.', 1;
    END;
    IF EXISTS (
        SELECT 1 FROM deleted d
        WHERE NOT EXISTS (SELECT 1 FROM audit_entry e JOIN audit_mark m ON e.at_ms < m.before_ms WHERE e.id = d.entry_id))
    BEGIN
        THROW 51023, 'Only entries of the audit that are older than its mark may be deleted.', 1;
    END;
END;
GO

CREATE TRIGGER audit_name_replaced ON audit_name AFTER UPDATE AS
BEGIN
    SET NOCOUNT ON;
    IF EXISTS (SELECT 1 FROM inserted n WHERE NOT EXISTS (SELECT 1 FROM erasure e WHERE e.pseudonym = n.name))
    BEGIN
        THROW 51023, 'A name in the audit is only ever replaced by a pseudonym.', 1;
    END;
END;
GO

CREATE TRIGGER audit_mark_moves_on ON audit_mark AFTER UPDATE, DELETE AS
BEGIN
    SET NOCOUNT ON;
    IF EXISTS (SELECT 1 FROM deleted d WHERE NOT EXISTS (SELECT 1 FROM inserted n WHERE n.id = d.id AND n.before_ms >= d.before_ms))
    BEGIN
        THROW 51023, 'The mark of the audit only moves on.', 1;
    END;
END;
