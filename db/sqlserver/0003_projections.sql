-- Projections: derived from the ledger and the registry, rebuilt by one command. No other table refers to them.
-- Codes are spelled as the model spells them; one that the model does not know is in capitals, so that its spellings are one.

-- Washes that count as reported (not voided), clustered for reading one unit's time span.
CREATE TABLE wash_span (
    unit_id        BIGINT                                   NOT NULL,
    started_ms     BIGINT                                   NOT NULL,
    seq            BIGINT                                   NOT NULL,
    ended_ms       BIGINT                                   NULL,
    grade          NVARCHAR(32) COLLATE Latin1_General_BIN2 NOT NULL,            -- as reported, else the model's programme's; 'unknown' if neither is known
    outcome        NVARCHAR(32) COLLATE Latin1_General_BIN2 NOT NULL,
    detergent_left BIGINT                                   NULL,
    attested       BIGINT                                   NOT NULL,
    fault_code     NVARCHAR(64) COLLATE Latin1_General_BIN2 NULL,
    PRIMARY KEY CLUSTERED (unit_id, started_ms, seq)
);

-- Faults from raised to cleared; a 'fault_cleared' record closes every open fault of its code.
CREATE TABLE fault_span (
    unit_id    BIGINT                                   NOT NULL,
    raised_ms  BIGINT                                   NOT NULL,
    seq        BIGINT                                   NOT NULL,
    code       NVARCHAR(64) COLLATE Latin1_General_BIN2 NOT NULL,
    cleared_ms BIGINT                                   NULL,
    PRIMARY KEY CLUSTERED (unit_id, raised_ms, seq)
);

-- One physical part at a position, from fitting to removal.
CREATE TABLE part_life (
    unit_id           BIGINT                                    NOT NULL,
    position          NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL,
    ordinal           BIGINT                                    NOT NULL,        -- 1 for the first part known at the position
    fitted_ms         BIGINT                                    NULL,            -- null: not known
    watched_from_ms   BIGINT                                    NULL,            -- fitted, or when part changes began to be on record if that is later
    ended_ms          BIGINT                                    NULL,            -- null: still fitted
    ended_how         NVARCHAR(32) COLLATE Latin1_General_BIN2  NULL,            -- failed, found_failed, precaution, upgrade, unit_retired, not_reported
    last_seen_good_ms BIGINT                                    NULL,            -- found_failed only; null: not since it was fitted
    failure_mode      NVARCHAR(500) COLLATE Latin1_General_BIN2 NULL,
    mechanism         NVARCHAR(500) COLLATE Latin1_General_BIN2 NULL,
    part_number       NVARCHAR(64) COLLATE Latin1_General_BIN2  NULL,
    batch             NVARCHAR(500) COLLATE Latin1_General_BIN2 NULL,
    supplier          NVARCHAR(500) COLLATE Latin1_General_BIN2 NULL,
    entry_age_days    FLOAT(53)                                 NULL,            -- age at watched_from_ms; null: not known
    entry_age_washes  FLOAT(53)                                 NULL,            -- age at fitted_ms; null: not known
    fitted_seq        BIGINT                                    NULL,
    removed_seq       BIGINT                                    NULL,
    doubt             NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NULL,            -- why this life cannot be used, null: it can
    PRIMARY KEY CLUSTERED (unit_id, position, ordinal)
);

-- One row a unit that has an effective record: what the state now is computed from.
CREATE TABLE unit_status (
    unit_id        BIGINT NOT NULL PRIMARY KEY CLUSTERED,
    first_heard_ms BIGINT NULL,                                                  -- heard: washes (by their start and end), refusals, faults raised and
    last_heard_ms  BIGINT NULL,                                                  -- cleared, meters, heartbeats; not a clean by hand, not a part change
    last_record_ms BIGINT NOT NULL,
    washes_run     BIGINT NOT NULL                                               -- washes that started and were not refused
);
