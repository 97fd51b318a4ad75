-- Whole requests that may be sent again: what a request with an Idempotency-Key was answered.

-- Written in the transaction that takes in the last rows of the request: either both are there or neither.
CREATE TABLE request_key (
    id           BIGINT                                    NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    key_id       BIGINT                                    NOT NULL REFERENCES api_key (id),   -- who sent it: a key's requests are known by that key alone
    request_key  NVARCHAR(255) COLLATE Latin1_General_BIN2 NOT NULL,             -- the header's value, without quotes
    content_hash VARBINARY(32)                             NOT NULL,             -- SHA-256 over query, content type, encoding and the bytes of the body
    status       BIGINT                                    NOT NULL,             -- HTTP status of the answer
    answer       VARBINARY(MAX)                            NOT NULL,             -- its body, byte for byte
    answered_ms  BIGINT                                    NOT NULL,
    UNIQUE (key_id, request_key)
);

CREATE INDEX request_key_answered ON request_key (answered_ms);
