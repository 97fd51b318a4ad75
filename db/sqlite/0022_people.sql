-- People who sign in, what they are signed in by, and links that let them in. Secrets are there as hashes only.

-- Somebody who may sign in. One who has left is disabled and stays, as records name the login.
CREATE TABLE person (
    id          INTEGER PRIMARY KEY,
    login       TEXT    NOT NULL,
    login_key   TEXT    NOT NULL UNIQUE,                 -- in lower case
    name        TEXT    NOT NULL,                        -- as pages show it
    password    TEXT,                                    -- slow hash with its salt; null: none was set
    password_ms INTEGER,                                 -- when it was set
    issuer      TEXT,                                    -- who vouches for the person, where that is somebody else
    subject     TEXT,                                    -- the person's name there
    abilities   TEXT    NOT NULL,                        -- space-separated
    scope       TEXT    NOT NULL DEFAULT 'everything',
    created_ms  INTEGER NOT NULL,
    disabled_ms INTEGER
) STRICT;

CREATE INDEX person_subject ON person (issuer, subject);

-- A browser that is signed in, for a person or with a key. Signing out deletes it.
CREATE TABLE sign_in_session (
    id         INTEGER PRIMARY KEY,
    hash       BLOB    NOT NULL UNIQUE,                  -- SHA-256 of what its cookie carries
    person_id  INTEGER REFERENCES person (id),
    key_id     INTEGER REFERENCES api_key (id),
    created_ms INTEGER NOT NULL,
    seen_ms    INTEGER NOT NULL,                         -- to some minutes
    address    TEXT    NOT NULL,
    agent      TEXT    NOT NULL                          -- the browser's own words, cut
) STRICT;

CREATE INDEX sign_in_session_person ON sign_in_session (person_id);
CREATE INDEX sign_in_session_key ON sign_in_session (key_id);

-- A link that is good once: it invites somebody new, or lets a person set a new password.
CREATE TABLE person_link (
    id         INTEGER PRIMARY KEY,
    hash       BLOB    NOT NULL UNIQUE,
    person_id  INTEGER REFERENCES person (id),           -- whose password; null: it invites
    abilities  TEXT    NOT NULL,                         -- what whoever is invited may do
    scope      TEXT    NOT NULL,
    note       TEXT    NOT NULL,                         -- whom it is meant for
    made_by    TEXT    NOT NULL,
    made_ms    INTEGER NOT NULL,
    expires_ms INTEGER NOT NULL,
    used_ms    INTEGER
) STRICT;
