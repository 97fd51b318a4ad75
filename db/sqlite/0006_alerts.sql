-- Alerts: one row a life of an alert. A life is open, then perhaps seen, then closed; a closed life never opens again.
CREATE TABLE alert (
    id             INTEGER PRIMARY KEY AUTOINCREMENT,
    kind           TEXT    NOT NULL,                     -- overdue, locked_out, silent
    unit_id        INTEGER NOT NULL REFERENCES unit (id),
    rule           TEXT    NOT NULL,                     -- code of the rule; empty where the kind concerns the unit as a whole
    opened_ms      INTEGER NOT NULL,                     -- the check that found it
    since_ms       INTEGER,                              -- since when it had held then; null: not known
    sentence       TEXT    NOT NULL,                     -- what held then
    seen_ms        INTEGER,
    seen_by        TEXT,                                 -- name of the key
    closed_ms      INTEGER,                              -- the check that found it ended
    closed_because TEXT
) STRICT;

-- Nobody is told twice: one life at a time.
CREATE UNIQUE INDEX alert_alive ON alert (unit_id, kind, rule) WHERE closed_ms IS NULL;
CREATE INDEX alert_by_opening ON alert (opened_ms);
CREATE INDEX alert_by_closing ON alert (closed_ms) WHERE closed_ms IS NOT NULL;
