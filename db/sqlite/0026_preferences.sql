-- How people like to read. Whoever has no row reads as everybody does.
CREATE TABLE person_preference (
    person_id INTEGER PRIMARY KEY REFERENCES person (id),
    chosen    TEXT    NOT NULL                           -- fields and values, such as: culture=en-US volume=gallons
) STRICT;
