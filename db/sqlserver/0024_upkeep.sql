-- What keeps an installation well without anybody looking after it.

-- Of which kind what is derived is: a program that derives it otherwise derives all of it anew when it starts. At most one row.
CREATE TABLE projection_kind (
    id   BIGINT NOT NULL IDENTITY PRIMARY KEY CLUSTERED, -- 1
    kind BIGINT NOT NULL
);

-- What the program did by itself: the last row of a task says how it stands.
CREATE TABLE upkeep_run (
    id        BIGINT                                    NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    task      NVARCHAR(32) COLLATE Latin1_General_BIN2  NOT NULL,                -- backup, restore_drill, prune
    begun_ms  BIGINT                                    NOT NULL,
    ended_ms  BIGINT                                    NOT NULL,
    succeeded BIGINT                                    NOT NULL,                -- 1 or 0
    sentence  NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL                 -- what was done, or what went wrong and what to do
);

CREATE INDEX upkeep_run_by_task ON upkeep_run (task, id);
