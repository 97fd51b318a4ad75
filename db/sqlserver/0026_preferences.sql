-- How people like to read. Whoever has no row reads as everybody does.
CREATE TABLE person_preference (
    person_id BIGINT                                     NOT NULL PRIMARY KEY CLUSTERED REFERENCES person (id),
    chosen    NVARCHAR(500) COLLATE Latin1_General_BIN2  NOT NULL               -- fields and values, such as: culture=en-US volume=gallons
);
