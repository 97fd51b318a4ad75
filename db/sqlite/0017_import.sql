-- Spreadsheets: mappings that people named, sheets on their way in, and how far a file of the import command has come.

CREATE TABLE import_mapping (
    id         INTEGER PRIMARY KEY,
    code       TEXT    NOT NULL,
    code_key   TEXT    NOT NULL UNIQUE,
    kind       TEXT    NOT NULL,                         -- what the rows are: wash, fault, ..., operator, site, model, unit
    body       TEXT    NOT NULL,                         -- the mapping as JSON
    changed_ms INTEGER NOT NULL
) STRICT;

-- A sheet that a person uploaded; the file lies in the folder 'imports' beside the database under its name, until the sheet is forgotten.
CREATE TABLE import_sheet (
    id            INTEGER PRIMARY KEY,
    owner         TEXT    NOT NULL,                      -- name of the key of the person who sent it
    stored_name   TEXT    NOT NULL UNIQUE,               -- name of the file in the folder
    file_name     TEXT    NOT NULL,                      -- name that it had
    kind          TEXT    NOT NULL,
    source        TEXT    NOT NULL,                      -- source of the records
    mapping       TEXT,                                  -- the mapping as JSON, once it was confirmed or changed
    state         TEXT    NOT NULL,                      -- mapping, running, stopped, done, failed
    made_ms       INTEGER NOT NULL,
    touched_ms    INTEGER NOT NULL,
    last_row      INTEGER NOT NULL,                      -- number of the last row that was dealt with
    rows_done     INTEGER NOT NULL,
    rows_total    INTEGER,                               -- null: not counted
    accepted      INTEGER NOT NULL,
    duplicates    INTEGER NOT NULL,
    refused       INTEGER NOT NULL,
    doubted       INTEGER NOT NULL,
    refused_bytes INTEGER NOT NULL,                      -- length of the file with the refused rows that goes with these counts
    trouble       TEXT                                   -- why it failed
) STRICT;

CREATE INDEX import_sheet_by_owner ON import_sheet (owner, id);
CREATE INDEX import_sheet_by_state ON import_sheet (state, id);

-- How far the import command has come with a file; gone once it is through.
CREATE TABLE import_progress (
    digest     TEXT    PRIMARY KEY,                      -- of the file, its source and its mapping
    rows_done  INTEGER NOT NULL,
    touched_ms INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
