-- What several nodes on one database share beside the records. An embedded database has one node: both tables stay empty there.

-- Keys that protect sign-in cookies and forms, so that a cookie of one node is good at the others.
CREATE TABLE cookie_key (
    id   BIGINT                                    NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    name NVARCHAR(200) COLLATE Latin1_General_BIN2 NOT NULL,
    body NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL                      -- the key as XML
);

-- A row a transaction, kept for a day: whether it was committed, where the connection was lost at that moment.
CREATE TABLE write_mark (
    at_ms BIGINT                                   NOT NULL,
    mark  NVARCHAR(32) COLLATE Latin1_General_BIN2 NOT NULL,                     -- random
    PRIMARY KEY CLUSTERED (at_ms, mark)
);
