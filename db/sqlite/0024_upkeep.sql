-- What keeps an installation well without anybody looking after it.

-- Of which kind what is derived is: a program that derives it otherwise derives all of it anew when it starts. At most one row.
CREATE TABLE projection_kind (
    id   INTEGER PRIMARY KEY,                            -- 1
    kind INTEGER NOT NULL
) STRICT;

-- What the program did by itself: the last row of a task says how it stands.
CREATE TABLE upkeep_run (
    id        INTEGER PRIMARY KEY,
    task      TEXT    NOT NULL,                          -- backup, restore_drill, prune
    begun_ms  INTEGER NOT NULL,
    ended_ms  INTEGER NOT NULL,
    succeeded INTEGER NOT NULL,                          -- 1 or 0
    sentence  TEXT    NOT NULL                           -- what was done, or what went wrong and what to do
) STRICT;

CREATE INDEX upkeep_run_by_task ON upkeep_run (task, id);
