-- The ledger: what was reported, append-only. Nothing here is ever changed or deleted; a correction is one more record.
-- Instants are milliseconds since 1970-01-01T00:00:00Z. seq is the order in which records were accepted.

CREATE TABLE record (
    seq          INTEGER PRIMARY KEY,
    source       TEXT    NOT NULL,
    key          TEXT    NOT NULL,
    type         TEXT    NOT NULL,
    unit_id      INTEGER REFERENCES unit (id),           -- null for a void
    at_ms        INTEGER NOT NULL,                       -- when it happened (a wash: when it started)
    received_ms  INTEGER NOT NULL,
    content_hash BLOB    NOT NULL,                       -- SHA-256 of the content in canonical form
    replaces     TEXT,                                   -- key, of the same source, that this record stands for
    UNIQUE (source, key)
) STRICT;

CREATE INDEX record_by_unit ON record (unit_id, at_ms);

CREATE TABLE wash (
    seq             INTEGER PRIMARY KEY REFERENCES record (seq),
    started_ms      INTEGER NOT NULL,
    ended_ms        INTEGER,
    programme       TEXT,
    grade           TEXT,                                -- as reported; else taken from the model's programme
    outcome         TEXT    NOT NULL,
    fault_code      TEXT,
    detergent_doses REAL,
    detergent_left  INTEGER,                             -- 0, 1 or null = nobody looked
    attested_by     TEXT
) STRICT;

CREATE TABLE fault (
    seq        INTEGER PRIMARY KEY REFERENCES record (seq),
    code       TEXT    NOT NULL,
    raised_ms  INTEGER NOT NULL,
    cleared_ms INTEGER
) STRICT;

CREATE TABLE fault_cleared (
    seq        INTEGER PRIMARY KEY REFERENCES record (seq),
    code       TEXT    NOT NULL,
    cleared_ms INTEGER NOT NULL
) STRICT;

CREATE TABLE part_change (
    seq               INTEGER PRIMARY KEY REFERENCES record (seq),
    position          TEXT    NOT NULL,
    changed_ms        INTEGER NOT NULL,
    removed_reason    TEXT,                              -- null: nothing was taken out
    failure_mode      TEXT,
    mechanism         TEXT,
    last_seen_good_ms INTEGER,
    fitted            INTEGER NOT NULL,                  -- 1: a part was put in
    part_number       TEXT,
    batch             TEXT,
    supplier          TEXT,
    age_days          REAL,                              -- age of the part when fitted, null = new
    age_washes        REAL
) STRICT;

CREATE TABLE meter (
    seq                   INTEGER PRIMARY KEY REFERENCES record (seq),
    read_ms               INTEGER NOT NULL,
    washes_total          REAL,
    operating_hours_total REAL
) STRICT;

-- A heartbeat has nothing but its row in record.

CREATE TABLE void (
    seq    INTEGER PRIMARY KEY REFERENCES record (seq),
    voids  TEXT NOT NULL,                                -- key, of the same source, that no longer counts
    reason TEXT NOT NULL
) STRICT;

-- Keys that no longer count, by a void or by a replacement. A void may arrive before the record that it voids.
CREATE TABLE voided (
    source TEXT    NOT NULL,
    key    TEXT    NOT NULL,
    by_seq INTEGER NOT NULL REFERENCES record (seq),
    PRIMARY KEY (source, key)
) STRICT, WITHOUT ROWID;

-- Rows that were refused, kept with their text so that they can be mended and sent again.
CREATE TABLE refused (
    id          INTEGER PRIMARY KEY,
    received_ms INTEGER NOT NULL,
    source      TEXT    NOT NULL,
    row         INTEGER NOT NULL,                        -- place in its request, from 1
    key         TEXT,
    body        TEXT    NOT NULL,                        -- the row as it came (cut at the row limit)
    problem     TEXT    NOT NULL                         -- JSON: field, rule, detail, mend
) STRICT;
