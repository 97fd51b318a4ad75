-- Projections: derived from the ledger and the registry, rebuilt by one command. No other table refers to them.

-- Washes that count as reported (not voided), clustered for reading one unit's time span.
CREATE TABLE wash_span (
    unit_id        INTEGER NOT NULL,
    started_ms     INTEGER NOT NULL,
    seq            INTEGER NOT NULL,
    ended_ms       INTEGER,
    grade          TEXT    NOT NULL,                     -- resolved through the model's programmes; 'unknown' if neither is known
    outcome        TEXT    NOT NULL,
    detergent_left INTEGER,
    attested       INTEGER NOT NULL,
    fault_code     TEXT,
    PRIMARY KEY (unit_id, started_ms, seq)
) STRICT, WITHOUT ROWID;

-- Faults from raised to cleared; a 'fault_cleared' record closes the open fault of its code.
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
    position          TEXT    NOT NULL,                  -- the code as the model spells it
    ordinal           INTEGER NOT NULL,                  -- 1 for the first part known at the position
    fitted_ms         INTEGER,                           -- null: fitted before records began
    ended_ms          INTEGER,                           -- null: still fitted
    ended_how         TEXT,                              -- failed, found_failed, precaution, upgrade, unit_retired
    last_seen_good_ms INTEGER,
    failure_mode      TEXT,
    mechanism         TEXT,
    part_number       TEXT,
    batch             TEXT,
    supplier          TEXT,
    entry_age_days    REAL    NOT NULL,                  -- age at fitting: 0 for a new part
    entry_age_washes  REAL    NOT NULL,
    fitted_seq        INTEGER,
    removed_seq       INTEGER,
    doubt             TEXT,                              -- why this life cannot be used, null: it can
    PRIMARY KEY (unit_id, position, ordinal)
) STRICT, WITHOUT ROWID;

-- One row a unit: what the state now is computed from, kept current in the transaction that takes a record in.
CREATE TABLE unit_status (
    unit_id          INTEGER PRIMARY KEY,
    first_heard_ms   INTEGER,
    last_heard_ms    INTEGER,
    last_record_ms   INTEGER,
    washes_run       INTEGER NOT NULL                    -- washes that started and were not refused
) STRICT;
