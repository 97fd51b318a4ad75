-- Who sees what, where a service company, its customers and their kitchens share one installation. The policy that keeps rows apart is
-- made by the program from its list of tables, after these scripts and whenever that list has changed.

-- Whose business a key sees: everything; or operators, sites or units with their codes, one a line.
ALTER TABLE api_key ADD scope NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL DEFAULT 'everything';

-- Abilities that were part of another until now stay with whoever has that one.
UPDATE api_key SET abilities = CONCAT(abilities, ' work plan') WHERE CHARINDEX(' ingest ', CONCAT(' ', abilities, ' ')) > 0;
UPDATE api_key SET abilities = CONCAT(abilities, ' administer') WHERE CHARINDEX(' manage ', CONCAT(' ', abilities, ' ')) > 0;

-- Whom a rule is for, or was for before it was changed: what it said then judges its days still. Rows are only added.
CREATE TABLE rule_reach (
    id          BIGINT NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    rule_id     BIGINT NOT NULL REFERENCES "rule" (id),
    operator_id BIGINT NULL REFERENCES operator (id),                            -- at most one of the three; none: all units, or all of a model
    site_id     BIGINT NULL REFERENCES site (id),
    unit_id     BIGINT NULL REFERENCES unit (id)
);

CREATE INDEX rule_reach_by_rule ON rule_reach (rule_id);

INSERT INTO rule_reach (rule_id, operator_id, site_id, unit_id)
SELECT DISTINCT t.rule_id, o.id, s.id, u.id
FROM (SELECT r.id AS rule_id, JSON_VALUE(r.body, '$.scope.operator') AS operator, JSON_VALUE(r.body, '$.scope.site') AS site,
             JSON_VALUE(r.body, '$.scope.unit') AS unit
      FROM "rule" r
      UNION ALL
      SELECT v.rule_id, JSON_VALUE(v.body, '$.scope.operator'), JSON_VALUE(v.body, '$.scope.site'), JSON_VALUE(v.body, '$.scope.unit')
      FROM rule_version v) t
LEFT JOIN operator o ON o.code_key = LOWER(t.operator) COLLATE Latin1_General_BIN2 OR o.code = t.operator COLLATE Latin1_General_BIN2
LEFT JOIN site s ON s.code_key = LOWER(t.site) COLLATE Latin1_General_BIN2 OR s.code = t.site COLLATE Latin1_General_BIN2
LEFT JOIN unit u ON u.code_key = LOWER(t.unit) COLLATE Latin1_General_BIN2 OR u.code = t.unit COLLATE Latin1_General_BIN2
WHERE coalesce(t.operator, t.site, t.unit) IS NULL OR coalesce(o.id, s.id, u.id) IS NOT NULL;

CREATE INDEX site_by_operator ON site (operator_id);
