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
    ended_ms        INTEGER,
    programme       TEXT,                                -- as reported, here and in all codes below
    grade           TEXT,                                -- as reported; else taken from the model's programme
    outcome         TEXT    NOT NULL,
    fault_code      TEXT,
    detergent_doses REAL,
    detergent_left  INTEGER,                             -- 0, 1 or null = nobody looked
    attested_by     TEXT
) STRICT;

-- Records that a projection reads as a unit's whole series name their unit themselves.
CREATE TABLE fault (
    seq        INTEGER PRIMARY KEY REFERENCES record (seq),
    unit_id    INTEGER NOT NULL,
    code       TEXT    NOT NULL,
    cleared_ms INTEGER
) STRICT;

CREATE INDEX fault_by_unit ON fault (unit_id);

CREATE TABLE fault_cleared (
    seq        INTEGER PRIMARY KEY REFERENCES record (seq),
    unit_id    INTEGER NOT NULL,
    code       TEXT    NOT NULL
) STRICT;

CREATE INDEX fault_cleared_by_unit ON fault_cleared (unit_id);

CREATE TABLE part_change (
    seq               INTEGER PRIMARY KEY REFERENCES record (seq),
    unit_id           INTEGER NOT NULL,
    position          TEXT    NOT NULL,
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

CREATE INDEX part_change_by_unit ON part_change (unit_id);

CREATE TABLE meter (
    seq                   INTEGER PRIMARY KEY REFERENCES record (seq),
    unit_id               INTEGER NOT NULL,
    read_ms               INTEGER NOT NULL,
    washes_total          REAL,
    operating_hours_total REAL
) STRICT;

CREATE INDEX meter_by_unit ON meter (unit_id, read_ms);

-- A heartbeat has nothing but its row in record.

CREATE TABLE void (
    seq    INTEGER PRIMARY KEY REFERENCES record (seq),
    voids  TEXT NOT NULL,                                -- key, of the same source, that no longer counts
    reason TEXT NOT NULL
) STRICT;

-- Keys that no longer count, by a void or by a replacement. A void may arrive before the record that it voids.
-- What is voided stays voided, whatever happens to the record that voided it; a void itself cannot be voided.
CREATE TABLE voided (
    source     TEXT    NOT NULL,
    key        TEXT    NOT NULL,
    by_seq     INTEGER NOT NULL REFERENCES record (seq),
    target_seq INTEGER REFERENCES record (seq),          -- null: the record has not arrived yet
    PRIMARY KEY (source, key)
) STRICT, WITHOUT ROWID;

CREATE UNIQUE INDEX voided_by_target ON voided (target_seq) WHERE target_seq IS NOT NULL;
CREATE INDEX voided_by_seq ON voided (by_seq);
CREATE INDEX voided_waiting ON voided (source, key) WHERE target_seq IS NULL;

-- Rows that were refused, kept with their text so that they can be mended and sent again. A row goes from here when a record
-- of its source and key is taken in, or when somebody discards it. The same text sent again is counted, not kept twice.
CREATE TABLE refused (
    id          INTEGER PRIMARY KEY AUTOINCREMENT,
    received_ms INTEGER NOT NULL,                        -- when it was last sent
    times       INTEGER NOT NULL DEFAULT 1,              -- how often it was sent
    source      TEXT    NOT NULL,
    row         INTEGER NOT NULL,                        -- place in its request, from 1
    key         TEXT,
    format      TEXT    NOT NULL,                        -- json, csv or cloudevent; a CSV row is kept with its header
    body        TEXT    NOT NULL,                        -- the row as it came (cut at the row limit)
    body_hash   BLOB    NOT NULL,                        -- SHA-256 of body
    problem     TEXT    NOT NULL,                        -- JSON: field, rule, detail, mend
    UNIQUE (source, body_hash)
) STRICT;

CREATE INDEX refused_by_key ON refused (source, key) WHERE key IS NOT NULL;
