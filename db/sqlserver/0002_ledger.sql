-- The ledger: what was reported, append-only. Nothing here is ever changed or deleted; a correction is one more record.
-- Instants are milliseconds since 1970-01-01T00:00:00Z. seq is the order in which records were accepted.

CREATE TABLE record (
    seq          BIGINT                                    NOT NULL PRIMARY KEY CLUSTERED,
    source       NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL,
    "key"        NVARCHAR(200) COLLATE Latin1_General_BIN2 NOT NULL,
    type         NVARCHAR(32) COLLATE Latin1_General_BIN2  NOT NULL,
    unit_id      BIGINT                                    NULL REFERENCES unit (id), -- null for a void
    at_ms        BIGINT                                    NOT NULL,             -- when it happened (a wash: when it started)
    received_ms  BIGINT                                    NOT NULL,
    content_hash VARBINARY(32)                             NOT NULL,             -- SHA-256 of the content in canonical form
    replaces     NVARCHAR(200) COLLATE Latin1_General_BIN2 NULL,                 -- key, of the same source, that this record stands for
    UNIQUE (source, "key")
);

CREATE INDEX record_by_unit ON record (unit_id, at_ms);

CREATE TABLE wash (
    seq             BIGINT                                    NOT NULL PRIMARY KEY CLUSTERED REFERENCES record (seq),
    ended_ms        BIGINT                                    NULL,
    programme       NVARCHAR(64) COLLATE Latin1_General_BIN2  NULL,              -- as reported, here and in all codes below
    grade           NVARCHAR(32) COLLATE Latin1_General_BIN2  NULL,              -- as reported; else taken from the model's programme
    outcome         NVARCHAR(32) COLLATE Latin1_General_BIN2  NOT NULL,
    fault_code      NVARCHAR(64) COLLATE Latin1_General_BIN2  NULL,
    detergent_doses FLOAT(53)                                 NULL,
    detergent_left  BIGINT                                    NULL,              -- 0, 1 or null = nobody looked
    attested_by     NVARCHAR(500) COLLATE Latin1_General_BIN2 NULL
);

-- Records that a projection reads as a unit's whole series name their unit themselves.
CREATE TABLE fault (
    seq        BIGINT                                   NOT NULL PRIMARY KEY CLUSTERED REFERENCES record (seq),
    unit_id    BIGINT                                   NOT NULL,
    code       NVARCHAR(64) COLLATE Latin1_General_BIN2 NOT NULL,
    cleared_ms BIGINT                                   NULL
);

CREATE INDEX fault_by_unit ON fault (unit_id);

CREATE TABLE fault_cleared (
    seq     BIGINT                                   NOT NULL PRIMARY KEY CLUSTERED REFERENCES record (seq),
    unit_id BIGINT                                   NOT NULL,
    code    NVARCHAR(64) COLLATE Latin1_General_BIN2 NOT NULL
);

CREATE INDEX fault_cleared_by_unit ON fault_cleared (unit_id);

CREATE TABLE part_change (
    seq               BIGINT                                    NOT NULL PRIMARY KEY CLUSTERED REFERENCES record (seq),
    unit_id           BIGINT                                    NOT NULL,
    position          NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL,
    removed_reason    NVARCHAR(32) COLLATE Latin1_General_BIN2  NULL,            -- null: nothing was taken out
    failure_mode      NVARCHAR(500) COLLATE Latin1_General_BIN2 NULL,
    mechanism         NVARCHAR(500) COLLATE Latin1_General_BIN2 NULL,
    last_seen_good_ms BIGINT                                    NULL,
    fitted            BIGINT                                    NOT NULL,        -- 1: a part was put in
    part_number       NVARCHAR(64) COLLATE Latin1_General_BIN2  NULL,
    batch             NVARCHAR(500) COLLATE Latin1_General_BIN2 NULL,
    supplier          NVARCHAR(500) COLLATE Latin1_General_BIN2 NULL,
    age_days          FLOAT(53)                                 NULL,            -- age of the part when fitted, null = new
    age_washes        FLOAT(53)                                 NULL
);

CREATE INDEX part_change_by_unit ON part_change (unit_id);

CREATE TABLE meter (
    seq                   BIGINT    NOT NULL PRIMARY KEY CLUSTERED REFERENCES record (seq),
    unit_id               BIGINT    NOT NULL,
    read_ms               BIGINT    NOT NULL,
    washes_total          FLOAT(53) NULL,
    operating_hours_total FLOAT(53) NULL
);

CREATE INDEX meter_by_unit ON meter (unit_id, read_ms);

-- A heartbeat has nothing but its row in record.

CREATE TABLE void (
    seq    BIGINT                                    NOT NULL PRIMARY KEY CLUSTERED REFERENCES record (seq),
    voids  NVARCHAR(200) COLLATE Latin1_General_BIN2 NOT NULL,                   -- key, of the same source, that no longer counts
    reason NVARCHAR(500) COLLATE Latin1_General_BIN2 NOT NULL
);

-- Keys that no longer count, by a void or by a replacement. A void may arrive before the record that it voids.
-- What is voided stays voided, whatever happens to the record that voided it; a void itself cannot be voided.
CREATE TABLE voided (
    source     NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL,
    "key"      NVARCHAR(200) COLLATE Latin1_General_BIN2 NOT NULL,
    by_seq     BIGINT                                    NOT NULL REFERENCES record (seq),
    target_seq BIGINT                                    NULL REFERENCES record (seq), -- null: the record has not arrived yet
    PRIMARY KEY CLUSTERED (source, "key")
);

CREATE UNIQUE INDEX voided_by_target ON voided (target_seq) WHERE target_seq IS NOT NULL;
CREATE INDEX voided_by_seq ON voided (by_seq);
CREATE INDEX voided_waiting ON voided (source, "key") WHERE target_seq IS NULL;

-- Rows that were refused, kept with their text so that they can be mended and sent again. A row goes from here when a record
-- of its source and key is taken in, or when somebody discards it. The same text sent again is counted, not kept twice.
CREATE TABLE refused (
    id          BIGINT                                    NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    received_ms BIGINT                                    NOT NULL,              -- when it was last sent
    times       BIGINT                                    NOT NULL DEFAULT 1,    -- how often it was sent
    source      NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL,
    row         BIGINT                                    NOT NULL,              -- place in its request, from 1
    "key"       NVARCHAR(200) COLLATE Latin1_General_BIN2 NULL,
    format      NVARCHAR(8) COLLATE Latin1_General_BIN2   NOT NULL,              -- json or csv; a CSV row is kept with its header
    body        NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL,              -- the row as it came (cut at the row limit)
    body_hash   VARBINARY(32)                             NOT NULL,              -- SHA-256 of body
    problem     NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL,              -- JSON: field, rule, detail, mend
    UNIQUE (source, body_hash)
);

CREATE INDEX refused_by_key ON refused (source, "key") WHERE "key" IS NOT NULL;
