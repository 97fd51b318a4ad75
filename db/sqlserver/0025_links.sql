-- Addresses that show one thing to whoever has them, until they are revoked. Only the SHA-256 of what makes an address secret is stored.
CREATE TABLE view_link (
    id         BIGINT                                    NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    hash       VARBINARY(32)                             NOT NULL UNIQUE,
    name       NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL,
    shows      NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL,               -- calendar, board
    scope      NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL,               -- as in api_key
    made_by    NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL,
    made_ms    BIGINT                                    NOT NULL,
    used_ms    BIGINT                                    NULL,                   -- last use, to within an hour
    revoked_ms BIGINT                                    NULL
);

-- Whose plan the calendar told: who sees a part of the fleet has another plan, and a visit keeps its uid within it alone.
ALTER TABLE plan_given ADD scope NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL DEFAULT '';
