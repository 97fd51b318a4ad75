-- Webhooks: who is told of alerts, and the messages on their way. Secrets stand here as they are, since signing needs them.
CREATE TABLE webhook (
    id               INTEGER PRIMARY KEY AUTOINCREMENT,
    code             TEXT    NOT NULL,
    code_key         TEXT    NOT NULL UNIQUE,
    url              TEXT    NOT NULL,
    kinds            TEXT,                               -- kinds of alerts, separated by commas; null: all
    operator         TEXT,                               -- code of the operator whose alerts are told; null: all
    enabled          INTEGER NOT NULL,
    disabled_because TEXT,                               -- why the program disabled it; null: it did not
    secret           TEXT    NOT NULL,
    old_secret       TEXT,                               -- the one before, which signs as well until old_until_ms
    old_until_ms     INTEGER,
    made_ms          INTEGER NOT NULL
) STRICT;

-- Written in the transaction that opens or closes the alert.
CREATE TABLE webhook_message (
    id         INTEGER PRIMARY KEY AUTOINCREMENT,
    webhook_id INTEGER NOT NULL REFERENCES webhook (id) ON DELETE CASCADE,
    code       TEXT    NOT NULL UNIQUE,                  -- the header webhook-id: random, the same in every attempt
    type       TEXT    NOT NULL,                         -- alert.opened, alert.closed, webhook.test
    alert_id   INTEGER REFERENCES alert (id),
    body       TEXT    NOT NULL,                         -- what is signed and sent, byte for byte
    state      TEXT    NOT NULL,                         -- waiting, sent, dead
    tries      INTEGER NOT NULL,                         -- attempts since it was made or sent again by hand
    made_ms    INTEGER NOT NULL,
    due_ms     INTEGER NOT NULL,                         -- when the next attempt is due; only while it waits
    ended_ms   INTEGER                                   -- when it was sent or given up
) STRICT;

CREATE INDEX webhook_message_due ON webhook_message (due_ms) WHERE state = 'waiting';
CREATE INDEX webhook_message_by_webhook ON webhook_message (webhook_id, state, id);
CREATE INDEX webhook_message_ended ON webhook_message (ended_ms) WHERE state = 'sent';

CREATE TABLE webhook_attempt (
    id         INTEGER PRIMARY KEY,
    message_id INTEGER NOT NULL REFERENCES webhook_message (id) ON DELETE CASCADE,
    at_ms      INTEGER NOT NULL,
    status     INTEGER,                                  -- HTTP status; null: no answer
    problem    TEXT,                                     -- why it failed; null: it did not
    answer     TEXT                                      -- first kilobyte of the answer
) STRICT;

CREATE INDEX webhook_attempt_by_message ON webhook_attempt (message_id, id);
