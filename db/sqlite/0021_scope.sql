-- Whose business a key sees: everything, operator CODE, site CODE, or units CODE,CODE.
ALTER TABLE api_key ADD COLUMN scope TEXT NOT NULL DEFAULT 'everything';

-- Abilities that were part of another until now stay with whoever has that one.
UPDATE api_key SET abilities = abilities || ' work plan' WHERE instr(' ' || abilities || ' ', ' ingest ') > 0;
UPDATE api_key SET abilities = abilities || ' administer' WHERE instr(' ' || abilities || ' ', ' manage ') > 0;
