-- Webhooks: who is told of alerts, and the messages on their way. Secrets stand here as they are, since signing needs them.
CREATE TABLE webhook (
    id               BIGINT                                    NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    code             NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL,
    code_key         NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL UNIQUE,
    url              NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL,
    kinds            NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NULL,             -- kinds of alerts, separated by commas; null: all
    operator         NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NULL,             -- code of the operator whose alerts are told; null: all
    enabled          BIGINT                                    NOT NULL,
    disabled_because NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NULL,             -- why the program disabled it; null: it did not
    secret           NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL,
    old_secret       NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NULL,             -- the one before, which signs as well until old_until_ms
    old_until_ms     BIGINT                                    NULL,
    made_ms          BIGINT                                    NOT NULL
);

-- Written in the transaction that opens or closes the alert.
CREATE TABLE webhook_message (
    id         BIGINT                                    NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    webhook_id BIGINT                                    NOT NULL REFERENCES webhook (id) ON DELETE CASCADE,
    code       NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL UNIQUE,        -- the header webhook-id: random, the same in every attempt
    type       NVARCHAR(32) COLLATE Latin1_General_BIN2  NOT NULL,               -- alert.opened, alert.closed, webhook.test
    alert_id   BIGINT                                    NULL REFERENCES alert (id),
    body       NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL,               -- what is signed and sent, byte for byte
    state      NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL,               -- waiting, sent, dead
    tries      BIGINT                                    NOT NULL,               -- attempts since it was made or sent again by hand
    made_ms    BIGINT                                    NOT NULL,
    due_ms     BIGINT                                    NOT NULL,               -- when the next attempt is due; only while it waits
    ended_ms   BIGINT                                    NULL                    -- when it was sent or given up
);

CREATE INDEX webhook_message_due ON webhook_message (due_ms) WHERE state = 'waiting';
CREATE INDEX webhook_message_by_webhook ON webhook_message (webhook_id, state, id);
CREATE INDEX webhook_message_ended ON webhook_message (ended_ms) WHERE state = 'sent';

CREATE TABLE webhook_attempt (
    id         BIGINT                                    NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    message_id BIGINT                                    NOT NULL REFERENCES webhook_message (id) ON DELETE CASCADE,
    at_ms      BIGINT                                    NOT NULL,
    status     BIGINT                                    NULL,                   -- HTTP status; null: no answer
    problem    NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NULL,                   -- why it failed; null: it did not
    answer     NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NULL                    -- first kilobyte of the answer
);

CREATE INDEX webhook_attempt_by_message ON webhook_attempt (message_id, id);
