-- Visits, approvals and conditions in the ledger. A visit or approval that goes on is reported again under a new key with replaces.
-- at_ms of their row in record is the first instant that they name, so that a late one is known to change everything from there on.

CREATE TABLE visit (
    seq        INTEGER PRIMARY KEY REFERENCES record (seq),
    asked_ms   INTEGER,
    arrived_ms INTEGER,
    left_ms    INTEGER,                                  -- null: it goes on, or nobody came yet
    outcome    TEXT,                                     -- proven, repaired_not_proven, waiting_approval, waiting_part, no_fault_found
    technician TEXT,
    note       TEXT,
    faults     TEXT,                                     -- JSON lists as reported, null = none told: ["code"]
    checks     TEXT,                                     -- [{check, result: pass | fail | not_done, reading, unit_of_measure}]
    findings   TEXT,                                     -- [{position, failure_mode, cause, note}]
    proofs     TEXT,                                     -- [{proof, result: pass | fail | not_done}]
    conditions TEXT                                      -- [{position, grade: good | worn | poor, note}]
) STRICT;

CREATE TABLE approval (
    seq        INTEGER PRIMARY KEY REFERENCES record (seq),
    what       TEXT,                                     -- what is to be approved
    amount     REAL,                                     -- in the installation's currency
    fault_code TEXT,                                     -- fault that the repair is for
    asked_ms   INTEGER,
    decision   TEXT,                                     -- granted or refused; null: open
    decided_ms INTEGER,
    decided_by TEXT,
    note       TEXT
) STRICT;

-- A part that was looked at and left in.
CREATE TABLE condition (
    seq      INTEGER PRIMARY KEY REFERENCES record (seq),
    position TEXT NOT NULL,
    grade    TEXT NOT NULL,                              -- good, worn or poor
    note     TEXT
) STRICT;

-- Projections of those that count (not voided), clustered for reading one unit's time span; from_ms is the first instant named.
CREATE TABLE visit_span (
    unit_id    INTEGER NOT NULL,
    from_ms    INTEGER NOT NULL,
    seq        INTEGER NOT NULL,
    asked_ms   INTEGER,
    arrived_ms INTEGER,
    left_ms    INTEGER,
    outcome    TEXT,
    PRIMARY KEY (unit_id, from_ms, seq)
) STRICT, WITHOUT ROWID;

CREATE TABLE approval_span (
    unit_id    INTEGER NOT NULL,
    from_ms    INTEGER NOT NULL,
    seq        INTEGER NOT NULL,
    asked_ms   INTEGER,
    decided_ms INTEGER,
    granted    INTEGER,                                  -- 0, 1 or null = open
    PRIMARY KEY (unit_id, from_ms, seq)
) STRICT, WITHOUT ROWID;
