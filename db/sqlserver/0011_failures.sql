-- Failures in time: what rates are counted against. A projection like those of 0003.

CREATE TABLE wash_month (
    month   BIGINT NOT NULL,                                                     -- months by UTC since January 1970
    unit_id BIGINT NOT NULL,
    washes  BIGINT NOT NULL,                                                     -- washes that began in it and ran: not refused, not by hand
    PRIMARY KEY CLUSTERED (month, unit_id)
);
