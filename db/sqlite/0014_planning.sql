-- What planning reckons with: resources of the registry like those of 0001.

CREATE TABLE supplier (
    id       INTEGER PRIMARY KEY,
    code     TEXT NOT NULL,
    code_key TEXT NOT NULL UNIQUE,
    body     TEXT NOT NULL
) STRICT;

CREATE TABLE part (
    id       INTEGER PRIMARY KEY,
    code     TEXT NOT NULL,                              -- the part number
    code_key TEXT NOT NULL UNIQUE,
    body     TEXT NOT NULL
) STRICT;

CREATE TABLE stock_point (
    id       INTEGER PRIMARY KEY,
    code     TEXT NOT NULL,
    code_key TEXT NOT NULL UNIQUE,
    body     TEXT NOT NULL
) STRICT;

-- One row at most: the terms that somebody put; without it the usual ones hold.
CREATE TABLE plan_terms (
    only INTEGER PRIMARY KEY CHECK (only = 1),
    body TEXT NOT NULL
) STRICT;
