-- Photos of visits, and what a close-out needs beside its records.

-- A photo belongs to the visit that its source sent under a key, whether or not that record still counts; the bytes are kept as they came.
CREATE TABLE visit_photo (
    id          BIGINT                                    NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    source      NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL,
    visit_key   NVARCHAR(200) COLLATE Latin1_General_BIN2 NOT NULL,
    unit_id     BIGINT                                    NOT NULL REFERENCES unit (id),
    received_ms BIGINT                                    NOT NULL,
    kind        NVARCHAR(32) COLLATE Latin1_General_BIN2  NOT NULL,              -- image/jpeg, image/png or image/webp, told by the first bytes
    sha256      VARBINARY(32)                             NOT NULL,              -- of the bytes: the same photo of a visit is kept once
    bytes       BIGINT                                    NOT NULL,
    body        VARBINARY(MAX)                            NOT NULL,
    UNIQUE (source, visit_key, sha256)
);

CREATE INDEX visit_photo_by_unit ON visit_photo (unit_id, visit_key);

-- A receipt is asked for by the key of its visit, whoever sent it.
CREATE INDEX record_visit_by_key ON record ("key") WHERE type = 'visit';

-- When the part that was taken out had been fitted, as the sender said; null: not told.
ALTER TABLE part_change ADD removed_fitted_ms BIGINT NULL;
