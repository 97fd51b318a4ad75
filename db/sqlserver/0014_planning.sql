-- What planning reckons with: resources of the registry like those of 0001.

CREATE TABLE supplier (
    id       BIGINT                                    NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    code     NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL,
    code_key NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL UNIQUE,
    body     NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL
);

CREATE TABLE part (
    id       BIGINT                                    NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    code     NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL,                 -- the part number
    code_key NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL UNIQUE,
    body     NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL
);

CREATE TABLE stock_point (
    id       BIGINT                                    NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    code     NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL,
    code_key NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL UNIQUE,
    body     NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL
);

-- One row at most: the terms that somebody put; without it the usual ones hold.
CREATE TABLE plan_terms (
    only BIGINT                                    NOT NULL PRIMARY KEY CLUSTERED CHECK (only = 1),
    body NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL
);
