-- Spreadsheets: mappings that people named, sheets on their way in, and how far a file of the import command has come.

CREATE TABLE import_mapping (
    id         BIGINT                                    NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    code       NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL,
    code_key   NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL UNIQUE,
    kind       NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL,               -- what the rows are: wash, fault, ..., operator, site, model, unit
    body       NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NOT NULL,               -- the mapping as JSON
    changed_ms BIGINT                                    NOT NULL
);

-- A sheet that a person uploaded; the file lies in the folder 'imports' of the node that took it, under its name, until the sheet is forgotten.
CREATE TABLE import_sheet (
    id            BIGINT                                    NOT NULL IDENTITY PRIMARY KEY CLUSTERED,
    owner         NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL,            -- name of the key of the person who sent it
    stored_name   NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL UNIQUE,     -- name of the file in the folder
    file_name     NVARCHAR(300) COLLATE Latin1_General_BIN2 NOT NULL,            -- name that it had
    kind          NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL,
    source        NVARCHAR(64) COLLATE Latin1_General_BIN2  NOT NULL,            -- source of the records
    mapping       NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NULL,                -- the mapping as JSON, once it was confirmed or changed
    state         NVARCHAR(16) COLLATE Latin1_General_BIN2  NOT NULL,            -- mapping, running, stopped, done, failed
    made_ms       BIGINT                                    NOT NULL,
    touched_ms    BIGINT                                    NOT NULL,
    last_row      BIGINT                                    NOT NULL,            -- number of the last row that was dealt with
    rows_done     BIGINT                                    NOT NULL,
    rows_total    BIGINT                                    NULL,                -- null: not counted
    accepted      BIGINT                                    NOT NULL,
    duplicates    BIGINT                                    NOT NULL,
    refused       BIGINT                                    NOT NULL,
    doubted       BIGINT                                    NOT NULL,
    refused_bytes BIGINT                                    NOT NULL,            -- length of the file with the refused rows that goes with these counts
    trouble       NVARCHAR(MAX) COLLATE Latin1_General_BIN2 NULL                 -- why it failed
);

CREATE INDEX import_sheet_by_owner ON import_sheet (owner, id);
CREATE INDEX import_sheet_by_state ON import_sheet (state, id);

-- How far the import command has come with a file; gone once it is through.
CREATE TABLE import_progress (
    digest     NVARCHAR(64) COLLATE Latin1_General_BIN2 NOT NULL PRIMARY KEY CLUSTERED, -- of the file, its source and its mapping
    rows_done  BIGINT                                   NOT NULL,
    touched_ms BIGINT                                   NOT NULL
);
