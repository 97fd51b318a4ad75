-- Who sees what, where a service company, its customers and their kitchens share one installation.

-- Whose business a key sees: everything; or operators, sites or units with their codes, one a line.
ALTER TABLE api_key ADD COLUMN scope TEXT NOT NULL DEFAULT 'everything';

-- Abilities that were part of another until now stay with whoever has that one.
UPDATE api_key SET abilities = abilities || ' work plan' WHERE instr(' ' || abilities || ' ', ' ingest ') > 0;
UPDATE api_key SET abilities = abilities || ' administer' WHERE instr(' ' || abilities || ' ', ' manage ') > 0;

-- Whom a rule is for, or was for before it was changed: what it said then judges its days still. Rows are only added.
CREATE TABLE rule_reach (
    id          INTEGER PRIMARY KEY,
    rule_id     INTEGER NOT NULL REFERENCES rule (id),
    operator_id INTEGER REFERENCES operator (id),        -- at most one of the three; none: all units, or all of a model
    site_id     INTEGER REFERENCES site (id),
    unit_id     INTEGER REFERENCES unit (id)
) STRICT;

CREATE INDEX rule_reach_by_rule ON rule_reach (rule_id);

INSERT INTO rule_reach (rule_id, operator_id, site_id, unit_id)
SELECT DISTINCT t.rule_id, o.id, s.id, u.id
FROM (SELECT r.id AS rule_id, json_extract(r.body, '$.scope.operator') AS operator, json_extract(r.body, '$.scope.site') AS site,
             json_extract(r.body, '$.scope.unit') AS unit
      FROM rule r
      UNION ALL
      SELECT v.rule_id, json_extract(v.body, '$.scope.operator'), json_extract(v.body, '$.scope.site'), json_extract(v.body, '$.scope.unit')
      FROM rule_version v) t
LEFT JOIN operator o ON o.code_key = lower(t.operator) OR o.code = t.operator
LEFT JOIN site s ON s.code_key = lower(t.site) OR s.code = t.site
LEFT JOIN unit u ON u.code_key = lower(t.unit) OR u.code = t.unit
WHERE coalesce(t.operator, t.site, t.unit) IS NULL OR coalesce(o.id, s.id, u.id) IS NOT NULL;

CREATE INDEX site_by_operator ON site (operator_id);
