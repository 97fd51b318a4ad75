-- What a rule said before it was changed, so that a change does not rewrite the past. Rows are added; of an old one only withdrawn_ms changes.
-- A version holds after the one with the last until_day before its own, up to its own; what stands in rule holds after them all. The validity
-- dates in body narrow that further.
CREATE TABLE rule_version (
    id           INTEGER PRIMARY KEY,
    rule_id      INTEGER NOT NULL REFERENCES rule (id),
    until_day    TEXT    NOT NULL,                       -- last trading day on which it held, as yyyy-MM-dd
    body         TEXT    NOT NULL,                       -- the rule as it was put
    replaced_ms  INTEGER NOT NULL,                       -- when another took its place
    withdrawn_ms INTEGER                                 -- when somebody said that it never should have held; null: it judges its days
) STRICT;

CREATE INDEX rule_version_by_rule ON rule_version (rule_id, until_day);
