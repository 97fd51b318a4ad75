-- Who may call. Only the SHA-256 of a key is stored.
CREATE TABLE api_key (
    id         BIGINT                                    NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    name       NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL UNIQUE,
    hash       VARBINARY(32)                             NOT NULL UNIQUE,
    abilities  NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL,               -- space-separated: read ingest manage
    created_ms BIGINT                                    NOT NULL,
    revoked_ms BIGINT                                    NULL
);

-- Links that sign a person in once.
CREATE TABLE sign_in_link (
    hash       VARBINARY(32) NOT NULL PRIMARY KEY CLUSTERED,
    key_id     BIGINT        NOT NULL REFERENCES api_key (id),
    expires_ms BIGINT        NOT NULL,
    used_ms    BIGINT        NULL
);
