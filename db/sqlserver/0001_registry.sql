-- The registry: who and what there is. Codes are compared without case: code_key is the lower-cased code.
-- body is the whole resource as JSON, exactly as the API gives it back; the columns beside it are those that joins need.

CREATE TABLE operator (
    id       BIGINT                                    NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    code     NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL,
    code_key NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL UNIQUE,
    body     NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL
);

CREATE TABLE site (
    id          BIGINT                                    NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    code        NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL,
    code_key    NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL UNIQUE,
    operator_id BIGINT                                    NOT NULL REFERENCES operator (id),
    body        NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL
);

CREATE TABLE model (
    id       BIGINT                                    NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    code     NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL,
    code_key NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL UNIQUE,
    body     NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL
);

CREATE TABLE unit (
    id       BIGINT                                    NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    code     NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL,
    code_key NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL UNIQUE,
    site_id  BIGINT                                    NOT NULL REFERENCES site (id),
    model_id BIGINT                                    NOT NULL REFERENCES model (id),
    body     NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL
);

CREATE INDEX unit_by_site ON unit (site_id);

CREATE TABLE "rule" (
    id       BIGINT                                    NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    code     NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL,
    code_key NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL UNIQUE,
    body     NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL
);

-- One row: grows with every change of the registry, so that a cached copy knows when it is old.
CREATE TABLE registry_version (
    only    BIGINT NOT NULL PRIMARY KEY CLUSTERED CHECK (only = 1),
    version BIGINT NOT NULL
);

INSERT INTO registry_version (only, version) VALUES (1, 1);
