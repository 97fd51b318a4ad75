-- Early signs: where each unit's charts stand after the washes, part changes and visits known so far. A projection like those of 0003.

-- Durations are compared within a programme, so the programme is kept beside the grade.
ALTER TABLE wash_span ADD COLUMN programme TEXT;         -- as reported; null: not told

UPDATE wash_span SET programme = (SELECT w.programme FROM wash w WHERE w.seq = wash_span.seq);

-- A unit without a row is derived from its whole history when the next record of it comes, or by rebuild.
CREATE TABLE early_sign (
    unit_id        INTEGER PRIMARY KEY,
    charted        INTEGER NOT NULL,                     -- charts with history enough: 1 bad washes, 2 longer, 4 shorter, added up
    called         INTEGER NOT NULL,                     -- signs that stand, the same way
    state          TEXT    NOT NULL,                     -- the charts as JSON; instants in milliseconds UTC
    earlier        TEXT    NOT NULL,                     -- the charts some time before: where to go on from when a record comes late
    events_between INTEGER NOT NULL                      -- washes and restarts since then
) STRICT;

CREATE INDEX early_sign_called ON early_sign (unit_id) WHERE called <> 0;
