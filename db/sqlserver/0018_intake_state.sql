-- What is known of devices between their messages, so that the next message can be understood: which began to clean when, which condition is
-- active since when. Written in the transaction that takes the message in. Only changes are kept, for some weeks.

CREATE TABLE equipment_change (
    unit_id    BIGINT                                    NOT NULL REFERENCES unit (id),
    channel    NVARCHAR(100) COLLATE Latin1_General_BIN2 NOT NULL,               -- cleaning, cleaning/Chamber_1, alarm/... : what it is about
    at_ms      BIGINT                                    NOT NULL,
    active     BIGINT                                    NOT NULL,               -- 1: cleans, or is active, from here on; 0: not
    record_key NVARCHAR(200) COLLATE Latin1_General_BIN2 NULL,                   -- key of the record that tells of the run that begins here, null: none yet
    PRIMARY KEY CLUSTERED (unit_id, channel, at_ms)
);

-- When a message of the unit last became a heartbeat or a meter reading; not every one does.
CREATE TABLE equipment_heard (
    unit_id      BIGINT NOT NULL PRIMARY KEY CLUSTERED REFERENCES unit (id),
    heartbeat_ms BIGINT NULL,
    meter_ms     BIGINT NULL
);
