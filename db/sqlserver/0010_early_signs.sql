-- Early signs: where each unit's charts stand after the washes, part changes and visits known so far. A projection like those of 0003.

-- Durations are compared within a programme, so the programme is kept beside the grade.
ALTER TABLE wash_span ADD programme NVARCHAR(64) COLLATE Latin1_General_BIN2 NULL; -- as reported; null: not told

-- A unit without a row is derived from its whole history when the next record of it comes, or by rebuild.
CREATE TABLE early_sign (
    unit_id        BIGINT                                    NOT NULL PRIMARY KEY CLUSTERED,
    charted        BIGINT                                    NOT NULL,           -- charts with history enough: 1 bad washes, 2 longer, 4 shorter, added up
    called         BIGINT                                    NOT NULL,           -- signs that stand, the same way
    state          NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL,           -- the charts as JSON; instants in milliseconds UTC
    earlier        NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL,           -- the charts some time before: where to go on from when a record comes late
    events_between BIGINT                                    NOT NULL            -- washes and restarts since then
);

CREATE INDEX early_sign_called ON early_sign (unit_id) WHERE called <> 0;
