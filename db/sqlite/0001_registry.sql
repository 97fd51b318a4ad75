-- The registry: who and what there is. Codes are compared without case: code_key is the lower-cased code.
-- body is the whole resource as JSON, exactly as the API gives it back; the columns beside it are those that joins need.

CREATE TABLE operator (
    id       INTEGER PRIMARY KEY,
    code     TEXT NOT NULL,
    code_key TEXT NOT NULL UNIQUE,
    body     TEXT NOT NULL
) STRICT;

CREATE TABLE site (
    id          INTEGER PRIMARY KEY,
    code        TEXT NOT NULL,
    code_key    TEXT NOT NULL UNIQUE,
    operator_id INTEGER NOT NULL REFERENCES operator (id),
    body        TEXT NOT NULL
) STRICT;

CREATE TABLE model (
    id       INTEGER PRIMARY KEY,
    code     TEXT NOT NULL,
    code_key TEXT NOT NULL UNIQUE,
    body     TEXT NOT NULL
) STRICT;

CREATE TABLE unit (
    id       INTEGER PRIMARY KEY,
    code     TEXT NOT NULL,
    code_key TEXT NOT NULL UNIQUE,
    site_id  INTEGER NOT NULL REFERENCES site (id),
    model_id INTEGER NOT NULL REFERENCES model (id),
    body     TEXT NOT NULL
) STRICT;

CREATE INDEX unit_by_site ON unit (site_id);

CREATE TABLE rule (
    id       INTEGER PRIMARY KEY,
    code     TEXT NOT NULL,
    code_key TEXT NOT NULL UNIQUE,
    body     TEXT NOT NULL
) STRICT;

-- One row: grows with every change of the registry, so that a cached copy knows when it is old.
CREATE TABLE registry_version (
    only    INTEGER PRIMARY KEY CHECK (only = 1),
    version INTEGER NOT NULL
) STRICT;

INSERT INTO registry_version (only, version) VALUES (1, 1);
