-- What is known of devices between their messages, so that the next message can be understood: which began to clean when, which condition is
-- active since when. Written in the transaction that takes the message in. Only changes are kept, for some weeks.

CREATE TABLE equipment_change (
    unit_id    INTEGER NOT NULL REFERENCES unit (id),
    channel    TEXT    NOT NULL,                         -- cleaning, cleaning/Chamber_1, alarm/... : what it is about
    at_ms      INTEGER NOT NULL,
    active     INTEGER NOT NULL,                         -- 1: cleans, or is active, from here on; 0: not
    record_key TEXT,                                     -- key of the record that tells of the run that begins here, null: none yet
    PRIMARY KEY (unit_id, channel, at_ms)
) STRICT, WITHOUT ROWID;

-- When a message of the unit last became a heartbeat or a meter reading; not every one does.
CREATE TABLE equipment_heard (
    unit_id      INTEGER PRIMARY KEY REFERENCES unit (id),
    heartbeat_ms INTEGER,
    meter_ms     INTEGER
) STRICT;
