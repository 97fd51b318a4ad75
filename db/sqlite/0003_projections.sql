-- Projections: derived from the ledger and the registry, rebuilt by one command. No other table refers to them.
-- Codes are spelled as the model spells them; one that the model does not know is in capitals, so that its spellings are one.

-- Washes that count as reported (not voided), clustered for reading one unit's time span.
CREATE TABLE wash_span (
    unit_id        INTEGER NOT NULL,
    started_ms     INTEGER NOT NULL,
    seq            INTEGER NOT NULL,
    ended_ms       INTEGER,
    grade          TEXT    NOT NULL,                     -- as reported, else the model's programme's; 'unknown' if neither is known
    outcome        TEXT    NOT NULL,
    detergent_left INTEGER,
    attested       INTEGER NOT NULL,
    fault_code     TEXT,
    PRIMARY KEY (unit_id, started_ms, seq)
) STRICT, WITHOUT ROWID;

-- Faults from raised to cleared; a 'fault_cleared' record closes every open fault of its code.
CREATE TABLE fault_span (
    unit_id    INTEGER NOT NULL,
    raised_ms  INTEGER NOT NULL,
    seq        INTEGER NOT NULL,
    code       TEXT    NOT NULL,
    cleared_ms INTEGER,
    PRIMARY KEY (unit_id, raised_ms, seq)
) STRICT, WITHOUT ROWID;

-- One physical part at a position, from fitting to removal.
CREATE TABLE part_life (
    unit_id           INTEGER NOT NULL,
    position          TEXT    NOT NULL,
    ordinal           INTEGER NOT NULL,                  -- 1 for the first part known at the position
    fitted_ms         INTEGER,                           -- null: not known
    watched_from_ms   INTEGER,                           -- fitted, or when part changes began to be on record if that is later
    ended_ms          INTEGER,                           -- null: still fitted
    ended_how         TEXT,                              -- failed, found_failed, precaution, upgrade, unit_retired, not_reported
    last_seen_good_ms INTEGER,                           -- found_failed only; null: not since it was fitted
    failure_mode      TEXT,
    mechanism         TEXT,
    part_number       TEXT,
    batch             TEXT,
    supplier          TEXT,
    entry_age_days    REAL,                              -- age at watched_from_ms; null: not known
    entry_age_washes  REAL,                              -- age at fitted_ms; null: not known
    fitted_seq        INTEGER,
    removed_seq       INTEGER,
    doubt             TEXT,                              -- why this life cannot be used, null: it can
    PRIMARY KEY (unit_id, position, ordinal)
) STRICT, WITHOUT ROWID;

-- One row a unit that has an effective record: what the state now is computed from.
CREATE TABLE unit_status (
    unit_id          INTEGER PRIMARY KEY,
    first_heard_ms   INTEGER,                            -- heard: washes (by their start and end), refusals, faults raised and
    last_heard_ms    INTEGER,                            -- cleared, meters, heartbeats; not a clean by hand, not a part change
    last_record_ms   INTEGER NOT NULL,
    washes_run       INTEGER NOT NULL                    -- washes that started and were not refused
) STRICT;
