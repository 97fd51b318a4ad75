-- Projections: where each unit stands under its cleaning rules, so that neither a question nor a new record reads the past again.
-- run and closed are compact bytes that only the program reads; they hold for the terms (rules, calendar, service) of their fingerprint.

-- Where a unit stands after its last record, with what the period in course has come to.
CREATE TABLE cleaning_run (
    unit_id      BIGINT         NOT NULL PRIMARY KEY CLUSTERED,
    terms        BIGINT         NOT NULL,                                        -- fingerprint of the unit's rules, calendar and service
    changed_seq  BIGINT         NOT NULL,                                        -- last record of the ledger when this was written
    first_period BIGINT         NOT NULL,                                        -- periods of four weeks, counted from Monday, 5 January 1970, 00:00 UTC
    last_period  BIGINT         NOT NULL,                                        -- the one in course
    run          VARBINARY(MAX) NOT NULL
);

CREATE INDEX cleaning_run_by_change ON cleaning_run (changed_seq);

-- What a period of a unit came to, and where the unit stood at its begin.
CREATE TABLE cleaning_period (
    id     BIGINT         NOT NULL PRIMARY KEY CLUSTERED,                        -- period * 4294967296 + unit_id: all units of a period lie side by side
    closed VARBINARY(MAX) NULL,                                                  -- null: the period in course
    run    VARBINARY(MAX) NOT NULL                                               -- a late record is folded in from here
);
