-- People who sign in, what they are signed in by, and links that let them in. Secrets are there as hashes only.

-- Somebody who may sign in. One who has left is disabled and stays, as records name the login.
CREATE TABLE person (
    id          BIGINT                                     NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    login       NVARCHAR(64) COLLATE Latin1_General_BIN2   NOT NULL,
    login_key   NVARCHAR(64) COLLATE Latin1_General_BIN2   NOT NULL UNIQUE,      -- in lower case
    name        NVARCHAR(200) COLLATE Latin1_General_BIN2  NOT NULL,             -- as pages show it
    password    NVARCHAR(MAX) COLLATE Latin1_General_BIN2  NULL,                 -- slow hash with its salt; null: none was set
    password_ms BIGINT                                     NULL,                 -- when it was set
    issuer      NVARCHAR(255) COLLATE Latin1_General_BIN2  NULL,                 -- who vouches for the person, where that is somebody else
    subject     NVARCHAR(255) COLLATE Latin1_General_BIN2  NULL,                 -- the person's name there
    abilities   NVARCHAR(MAX) COLLATE Latin1_General_BIN2  NOT NULL,             -- space-separated
    scope       NVARCHAR(MAX) COLLATE Latin1_General_BIN2  NOT NULL DEFAULT 'everything',
    created_ms  BIGINT                                     NOT NULL,
    disabled_ms BIGINT                                     NULL
);

CREATE INDEX person_subject ON person (issuer, subject);

-- A browser that is signed in, for a person or with a key. Signing out deletes it.
CREATE TABLE sign_in_session (
    id         BIGINT                                     NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    hash       VARBINARY(32)                              NOT NULL UNIQUE,       -- SHA-256 of what its cookie carries
    person_id  BIGINT                                     NULL REFERENCES person (id),
    key_id     BIGINT                                     NULL REFERENCES api_key (id),
    created_ms BIGINT                                     NOT NULL,
    seen_ms    BIGINT                                     NOT NULL,              -- to some minutes
    address    NVARCHAR(64) COLLATE Latin1_General_BIN2   NOT NULL,
    agent      NVARCHAR(200) COLLATE Latin1_General_BIN2  NOT NULL               -- the browser's own words, cut
);

CREATE INDEX sign_in_session_person ON sign_in_session (person_id);
CREATE INDEX sign_in_session_key ON sign_in_session (key_id);

-- A link that is good once: it invites somebody new, or lets a person set a new password.
CREATE TABLE person_link (
    id         BIGINT                                     NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    hash       VARBINARY(32)                              NOT NULL UNIQUE,
    person_id  BIGINT                                     NULL REFERENCES person (id), -- whose password; null: it invites
    abilities  NVARCHAR(MAX) COLLATE Latin1_General_BIN2  NOT NULL,              -- what whoever is invited may do
    scope      NVARCHAR(MAX) COLLATE Latin1_General_BIN2  NOT NULL,
    note       NVARCHAR(200) COLLATE Latin1_General_BIN2  NOT NULL,              -- whom it is meant for
    made_by    NVARCHAR(64) COLLATE Latin1_General_BIN2   NOT NULL,
    made_ms    BIGINT                                     NOT NULL,
    expires_ms BIGINT                                     NOT NULL,
    used_ms    BIGINT                                     NULL
);
