-- Visits, approvals and conditions in the ledger. A visit or approval that goes on is reported again under a new key with replaces.
-- at_ms of their row in record is the first instant that they name, so that a late one is known to change everything from there on.

CREATE TABLE visit (
    seq        BIGINT                                     NOT NULL PRIMARY KEY CLUSTERED REFERENCES record (seq),
    asked_ms   BIGINT                                     NULL,
    arrived_ms BIGINT                                     NULL,
    left_ms    BIGINT                                     NULL,                  -- null: it goes on, or nobody came yet
    outcome    NVARCHAR(32) COLLATE Latin1_General_BIN2   NULL,                  -- proven, repaired_not_proven, waiting_approval, waiting_part, no_fault_found
    technician NVARCHAR(500) COLLATE Latin1_General_BIN2  NULL,
    note       NVARCHAR(2000) COLLATE Latin1_General_BIN2 NULL,
    faults     NVARCHAR(MAX) COLLATE Latin1_General_BIN2  NULL,                  -- JSON lists as reported, null = none told: ["code"]
    checks     NVARCHAR(MAX) COLLATE Latin1_General_BIN2  NULL,                  -- [{check, result: pass | fail | not_done, reading, unit_of_measure}]
    findings   NVARCHAR(MAX) COLLATE Latin1_General_BIN2  NULL,                  -- [{position, failure_mode, cause, note}]
    proofs     NVARCHAR(MAX) COLLATE Latin1_General_BIN2  NULL,                  -- [{proof, result: pass | fail | not_done}]
    conditions NVARCHAR(MAX) COLLATE Latin1_General_BIN2  NULL                   -- [{position, grade: good | worn | poor, note}]
);

CREATE TABLE approval (
    seq        BIGINT                                     NOT NULL PRIMARY KEY CLUSTERED REFERENCES record (seq),
    what       NVARCHAR(500) COLLATE Latin1_General_BIN2  NULL,                  -- what is to be approved
    amount     FLOAT(53)                                  NULL,                  -- in the installation's currency
    fault_code NVARCHAR(64) COLLATE Latin1_General_BIN2   NULL,                  -- fault that the repair is for
    asked_ms   BIGINT                                     NULL,
    decision   NVARCHAR(32) COLLATE Latin1_General_BIN2   NULL,                  -- granted or refused; null: open
    decided_ms BIGINT                                     NULL,
    decided_by NVARCHAR(500) COLLATE Latin1_General_BIN2  NULL,
    note       NVARCHAR(2000) COLLATE Latin1_General_BIN2 NULL
);

-- A part that was looked at and left in.
CREATE TABLE condition (
    seq      BIGINT                                     NOT NULL PRIMARY KEY CLUSTERED REFERENCES record (seq),
    position NVARCHAR(64) COLLATE Latin1_General_BIN2   NOT NULL,
    grade    NVARCHAR(32) COLLATE Latin1_General_BIN2   NOT NULL,                -- good, worn or poor
    note     NVARCHAR(2000) COLLATE Latin1_General_BIN2 NULL
);

-- Projections of those that count (not voided), clustered for reading one unit's time span; from_ms is the first instant named.
CREATE TABLE visit_span (
    unit_id    BIGINT                                   NOT NULL,
    from_ms    BIGINT                                   NOT NULL,
    seq        BIGINT                                   NOT NULL,
    asked_ms   BIGINT                                   NULL,
    arrived_ms BIGINT                                   NULL,
    left_ms    BIGINT                                   NULL,
    outcome    NVARCHAR(32) COLLATE Latin1_General_BIN2 NULL,
    PRIMARY KEY CLUSTERED (unit_id, from_ms, seq)
);

CREATE TABLE approval_span (
    unit_id    BIGINT NOT NULL,
    from_ms    BIGINT NOT NULL,
    seq        BIGINT NOT NULL,
    asked_ms   BIGINT NULL,
    decided_ms BIGINT NULL,
    granted    BIGINT NULL,                                                      -- 0, 1 or null = open
    PRIMARY KEY CLUSTERED (unit_id, from_ms, seq)
);
