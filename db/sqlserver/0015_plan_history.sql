-- What people decide about planned jobs, what the plan gave out, and what it forecast. Rows are added; a visit given out changes with its plan.

-- Append-only: the last row about a part is the one in force, until the part changes.
CREATE TABLE plan_decision (
    id         BIGINT                                    NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    unit_id    BIGINT                                    NOT NULL REFERENCES unit (id),
    position   NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL,               -- as the unit's model spells it
    ordinal    BIGINT                                    NULL,                   -- of the part that was fitted then; null: none was on record
    decision   NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL,               -- accepted, postponed, rejected, revoked
    day        NVARCHAR(10) COLLATE Latin1_General_BIN2  NULL,                   -- accepted: the day of the job; postponed: not before; yyyy-MM-dd
    reason     NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NULL,
    by_name    NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL,               -- who decides
    entered_by NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL,               -- name of the key
    at_ms      BIGINT                                    NOT NULL
);

CREATE INDEX plan_decision_by_unit ON plan_decision (unit_id, position, id);

-- A visit as the calendar gave it out last: it keeps its uid while it moves, and is cancelled when the plan drops it.
CREATE TABLE plan_given (
    uid        NVARCHAR(200) COLLATE Latin1_General_BIN2 NOT NULL PRIMARY KEY CLUSTERED,
    site_id    BIGINT                                    NOT NULL REFERENCES site (id),
    day        NVARCHAR(10) COLLATE Latin1_General_BIN2  NOT NULL,               -- yyyy-MM-dd
    jobs       NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL,               -- JSON list of what is done, by which a moved visit is known again
    summary    NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL,
    details    NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL,
    sequence   BIGINT                                    NOT NULL,               -- grows with each change
    cancelled  BIGINT                                    NOT NULL,               -- 1: dropped by the plan after it was given out
    changed_ms BIGINT                                    NOT NULL
);

CREATE INDEX plan_given_by_site ON plan_given (site_id, day);

-- The forecast of a calendar quarter as it was kept: what each part fitted at its begin was said to do.
CREATE TABLE plan_forecast (
    quarter         NVARCHAR(7) COLLATE Latin1_General_BIN2 NOT NULL PRIMARY KEY CLUSTERED, -- such as 2026-Q1, by UTC
    made_ms         BIGINT                                  NOT NULL,
    made_afterwards BIGINT                                  NOT NULL             -- 1: made later, from what had happened by the quarter's begin
);

CREATE TABLE plan_forecast_part (
    quarter     NVARCHAR(7) COLLATE Latin1_General_BIN2  NOT NULL REFERENCES plan_forecast (quarter),
    unit_id     BIGINT                                   NOT NULL REFERENCES unit (id),
    position    NVARCHAR(64) COLLATE Latin1_General_BIN2 NOT NULL,
    ordinal     BIGINT                                   NOT NULL,
    part_number NVARCHAR(64) COLLATE Latin1_General_BIN2 NULL,                   -- to be ordered for it
    chance      FLOAT(53)                                NOT NULL,               -- to fail before the quarter ends
    PRIMARY KEY CLUSTERED (quarter, unit_id, position, ordinal)
);
