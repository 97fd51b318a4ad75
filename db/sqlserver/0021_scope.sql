-- Whose business a key sees: everything, operator CODE, site CODE, or units CODE,CODE.
ALTER TABLE api_key ADD scope NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL DEFAULT 'everything';

-- Abilities that were part of another until now stay with whoever has that one.
UPDATE api_key SET abilities = CONCAT(abilities, ' work plan') WHERE CHARINDEX(' ingest ', CONCAT(' ', abilities, ' ')) > 0;
UPDATE api_key SET abilities = CONCAT(abilities, ' administer') WHERE CHARINDEX(' manage ', CONCAT(' ', abilities, ' ')) > 0;
