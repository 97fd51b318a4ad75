-- Photos of visits, and what a close-out needs beside its records.

-- A photo belongs to the visit that its source sent under a key, whether or not that record still counts; the bytes are kept as they came.
CREATE TABLE visit_photo (
    id          INTEGER PRIMARY KEY,
    source      TEXT    NOT NULL,
    visit_key   TEXT    NOT NULL,
    unit_id     INTEGER NOT NULL REFERENCES unit (id),
    received_ms INTEGER NOT NULL,
    kind        TEXT    NOT NULL,                        -- image/jpeg, image/png or image/webp, told by the first bytes
    sha256      BLOB    NOT NULL,                        -- of the bytes: the same photo of a visit is kept once
    bytes       INTEGER NOT NULL,
    body        BLOB    NOT NULL,
    UNIQUE (source, visit_key, sha256)
) STRICT;

CREATE INDEX visit_photo_by_unit ON visit_photo (unit_id, visit_key);

-- A receipt is asked for by the key of its visit, whoever sent it.
CREATE INDEX record_visit_by_key ON record (key) WHERE type = 'visit';

-- When the part that was taken out had been fitted, as the sender said; null: not told.
ALTER TABLE part_change ADD COLUMN removed_fitted_ms INTEGER;
