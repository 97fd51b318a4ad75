-- Failures in time: what rates are counted against. A projection like those of 0003.

CREATE TABLE wash_month (
    month   INTEGER NOT NULL,                            -- months by UTC since January 1970
    unit_id INTEGER NOT NULL,
    washes  INTEGER NOT NULL,                            -- washes that began in it and ran: not refused, not by hand
    PRIMARY KEY (month, unit_id)
) STRICT, WITHOUT ROWID;

INSERT INTO wash_month (month, unit_id, washes)
SELECT (CAST(strftime('%Y', w.started_ms / 1000, 'unixepoch') AS INTEGER) - 1970) * 12
           + CAST(strftime('%m', w.started_ms / 1000, 'unixepoch') AS INTEGER) - 1,
       w.unit_id, count(*)
FROM wash_span w
WHERE w.outcome <> 'refused' AND w.attested = 0
GROUP BY 1, 2;
