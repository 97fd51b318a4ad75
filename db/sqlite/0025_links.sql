-- Addresses that show one thing to whoever has them, until they are revoked. Only the SHA-256 of what makes an address secret is stored.
CREATE TABLE view_link (
    id         INTEGER PRIMARY KEY,
    hash       BLOB    NOT NULL UNIQUE,
    name       TEXT    NOT NULL,
    shows      TEXT    NOT NULL,                         -- calendar, board
    scope      TEXT    NOT NULL,                         -- as in api_key
    made_by    TEXT    NOT NULL,
    made_ms    INTEGER NOT NULL,
    used_ms    INTEGER,                                  -- last use, to within an hour
    revoked_ms INTEGER
) STRICT;

-- Whose plan the calendar told: who sees a part of the fleet has another plan, and a visit keeps its uid within it alone.
ALTER TABLE plan_given ADD COLUMN scope TEXT NOT NULL DEFAULT '';
