-- Alerts: one row a life of an alert. A life is open, then perhaps seen, then closed; a closed life never opens again.
CREATE TABLE alert (
    id             BIGINT                                    NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    kind           NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL,           -- overdue, locked_out, silent
    unit_id        BIGINT                                    NOT NULL REFERENCES unit (id),
    "rule"         NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL,           -- code of the rule; empty where the kind concerns the unit as a whole
    opened_ms      BIGINT                                    NOT NULL,           -- the check that found it
    since_ms       BIGINT                                    NULL,               -- since when it had held then; null: not known
    sentence       NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL,           -- what held then
    seen_ms        BIGINT                                    NULL,
    seen_by        NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NULL,               -- name of the key
    closed_ms      BIGINT                                    NULL,               -- the check that found it ended
    closed_because NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NULL
);

-- Nobody is told twice: one life at a time.
CREATE UNIQUE INDEX alert_alive ON alert (unit_id, kind, "rule") WHERE closed_ms IS NULL;
CREATE INDEX alert_by_opening ON alert (opened_ms);
CREATE INDEX alert_by_closing ON alert (closed_ms) WHERE closed_ms IS NOT NULL;
