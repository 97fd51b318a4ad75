-- What people decide about planned jobs, what the plan gave out, and what it forecast. Rows are added; a visit given out changes with its plan.

-- Append-only: the last row about a part is the one in force, until the part changes.
CREATE TABLE plan_decision (
    id         INTEGER PRIMARY KEY,
    unit_id    INTEGER NOT NULL REFERENCES unit (id),
    position   TEXT    NOT NULL,                         -- as the unit's model spells it
    ordinal    INTEGER,                                  -- of the part that was fitted then; null: none was on record
    decision   TEXT    NOT NULL,                         -- accepted, postponed, rejected, revoked
    day        TEXT,                                     -- accepted: the day of the job; postponed: not before; yyyy-MM-dd
    reason     TEXT,
    by_name    TEXT    NOT NULL,                         -- who decides
    entered_by TEXT    NOT NULL,                         -- name of the key
    at_ms      INTEGER NOT NULL
) STRICT;

CREATE INDEX plan_decision_by_unit ON plan_decision (unit_id, position, id);

-- A visit as the calendar gave it out last: it keeps its uid while it moves, and is cancelled when the plan drops it.
CREATE TABLE plan_given (
    uid        TEXT    PRIMARY KEY,
    site_id    INTEGER NOT NULL REFERENCES site (id),
    day        TEXT    NOT NULL,                         -- yyyy-MM-dd
    jobs       TEXT    NOT NULL,                         -- JSON list of what is done, by which a moved visit is known again
    summary    TEXT    NOT NULL,
    details    TEXT    NOT NULL,
    sequence   INTEGER NOT NULL,                         -- grows with each change
    cancelled  INTEGER NOT NULL,                         -- 1: dropped by the plan after it was given out
    changed_ms INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

CREATE INDEX plan_given_by_site ON plan_given (site_id, day);

-- The forecast of a calendar quarter as it was kept: what each part fitted at its begin was said to do.
CREATE TABLE plan_forecast (
    quarter         TEXT    PRIMARY KEY,                 -- such as 2026-Q1, by UTC
    made_ms         INTEGER NOT NULL,
    made_afterwards INTEGER NOT NULL                     -- 1: made later, from what had happened by the quarter's begin
) STRICT, WITHOUT ROWID;

CREATE TABLE plan_forecast_part (
    quarter     TEXT    NOT NULL REFERENCES plan_forecast (quarter),
    unit_id     INTEGER NOT NULL REFERENCES unit (id),
    position    TEXT    NOT NULL,
    ordinal     INTEGER NOT NULL,
    part_number TEXT,                                    -- to be ordered for it
    chance      REAL    NOT NULL,                        -- to fail before the quarter ends
    PRIMARY KEY (quarter, unit_id, position, ordinal)
) STRICT, WITHOUT ROWID;
