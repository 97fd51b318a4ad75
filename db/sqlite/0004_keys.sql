-- Who may call. Only the SHA-256 of a key is stored.
CREATE TABLE api_key (
    id           INTEGER PRIMARY KEY,
    name         TEXT    NOT NULL UNIQUE,
    hash         BLOB    NOT NULL UNIQUE,
    abilities    TEXT    NOT NULL,                       -- space-separated: read ingest manage
    created_ms   INTEGER NOT NULL,
    revoked_ms   INTEGER
) STRICT;

-- Links that sign a person in once.
CREATE TABLE sign_in_link (
    hash       BLOB    PRIMARY KEY,
    key_id     INTEGER NOT NULL REFERENCES api_key (id),
    expires_ms INTEGER NOT NULL,
    used_ms    INTEGER
) STRICT;
