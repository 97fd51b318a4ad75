-- What several nodes on one database share beside the records. An embedded database has one node: both tables stay empty there.

-- Keys that protect sign-in cookies and forms, so that a cookie of one node is good at the others.
CREATE TABLE cookie_key (
    id   INTEGER PRIMARY KEY,
    name TEXT NOT NULL,
    body TEXT NOT NULL                                   -- the key as XML
) STRICT;

-- A row a transaction, kept for a day: whether it was committed, where the connection was lost at that moment.
CREATE TABLE write_mark (
    at_ms INTEGER NOT NULL,
    mark  TEXT    NOT NULL,                              -- random
    PRIMARY KEY (at_ms, mark)
) STRICT, WITHOUT ROWID;
