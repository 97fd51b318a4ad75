-- What a rule said before it was changed, so that a change does not rewrite the past. Rows are added; of an old one only withdrawn_ms changes.
-- A version holds after the one with the last until_day before its own, up to its own; what stands in rule holds after them all. The validity
-- dates in body narrow that further.
CREATE TABLE rule_version (
    id           BIGINT                                    NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    rule_id      BIGINT                                    NOT NULL REFERENCES "rule" (id),
    until_day    NVARCHAR(10) COLLATE Latin1_General_BIN2  NOT NULL,             -- last trading day on which it held, as yyyy-MM-dd
    body         NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL,             -- the rule as it was put
    replaced_ms  BIGINT                                    NOT NULL,             -- when another took its place
    withdrawn_ms BIGINT                                    NULL                  -- when somebody said that it never should have held; null: it judges its days
);

CREATE INDEX rule_version_by_rule ON rule_version (rule_id, until_day);
