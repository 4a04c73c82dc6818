-- Layout 1 of the log. Times are milliseconds of Unix time (UTC); an offset is the wearer's clock against UTC in minutes,
-- east positive. `seal` is the CRC-32 of the row's other columns: a flipped bit is found whenever the row is read.

CREATE TABLE about (
    one             INTEGER PRIMARY KEY CHECK (one = 1),
    -- Identity of this file, made with it.
    log             BLOB    NOT NULL CHECK (length(log) = 16),
    made            INTEGER NOT NULL CHECK (made BETWEEN 946684800000 AND 7258118399999),
    made_offset     INTEGER NOT NULL CHECK (made_offset BETWEEN -960 AND 960),
    seal            INTEGER NOT NULL
) STRICT;

-- Names of sources, so that a reading carries a small number.
CREATE TABLE source (
    slot            INTEGER PRIMARY KEY,
    name            TEXT    NOT NULL UNIQUE CHECK (length(CAST(name AS BLOB)) BETWEEN 1 AND 80)
) STRICT;

-- Identities of imports, so that a reading carries a small number. The import itself is in `entry`, or will come there.
CREATE TABLE import (
    slot            INTEGER PRIMARY KEY,
    id              BLOB    NOT NULL UNIQUE CHECK (length(id) = 16)
) STRICT;

-- Sensor readings: nearly all of a log, so kept small and in the order they are asked for. The identity is not kept; it
-- follows from at, source and amount.
CREATE TABLE reading (
    at              INTEGER NOT NULL CHECK (at BETWEEN 946684800000 AND 7258118399999),
    source          INTEGER NOT NULL REFERENCES source (slot),
    -- In hundredths of mg/dL.
    amount          INTEGER NOT NULL CHECK (amount BETWEEN 2000 AND 60000),
    at_offset       INTEGER NOT NULL CHECK (at_offset BETWEEN -960 AND 960),
    -- How long after `at` it was recorded first.
    recorded_after  INTEGER NOT NULL CHECK (recorded_after >= -600000),
    -- NULL where it is at_offset.
    recorded_offset INTEGER CHECK (recorded_offset BETWEEN -960 AND 960),
    -- The first and, where it came again, the last import that brought it; NULL where it came on its own.
    import          INTEGER REFERENCES import (slot),
    again           INTEGER REFERENCES import (slot) CHECK (again IS NULL OR import IS NOT NULL),
    seal            INTEGER NOT NULL,
    PRIMARY KEY (at, source, amount)
) STRICT, WITHOUT ROWID;

-- Everything else, including corrections and retractions of readings.
CREATE TABLE entry (
    -- The order of arrival in this file; a clock set back does not change it.
    seq             INTEGER PRIMARY KEY,
    id              BLOB    NOT NULL UNIQUE CHECK (length(id) = 16),
    at              INTEGER NOT NULL CHECK (at BETWEEN 946684800000 AND 7258118399999),
    at_offset       INTEGER NOT NULL CHECK (at_offset BETWEEN -960 AND 960),
    recorded        INTEGER NOT NULL CHECK (recorded BETWEEN 946684800000 AND 7258118399999),
    recorded_offset INTEGER NOT NULL CHECK (recorded_offset BETWEEN -960 AND 960),
    source          INTEGER NOT NULL REFERENCES source (slot),
    -- The identity of the entry this one corrects or retracts. Not a foreign key: that entry may be a reading, or may
    -- still be on another phone.
    replaces        BLOB    CHECK (length(replaces) = 16),
    import          INTEGER REFERENCES import (slot),
    again           INTEGER REFERENCES import (slot) CHECK (again IS NULL OR import IS NOT NULL),
    -- 1 where it was said on this device, 0 where it was brought from elsewhere.
    said            INTEGER NOT NULL CHECK (said IN (0, 1)),
    -- The entry that this one was made to undo on this device. Not the same as `replaces`: undoing a correction that was
    -- itself hidden since replaces what speaks for the chain now.
    undoes          INTEGER REFERENCES entry (seq),
    -- What it says, as JSON. The ranges are those of the type it is read into.
    what            TEXT    NOT NULL CHECK (json_valid(what)) CHECK (ifnull(CASE what ->> 'kind'
        WHEN 'sensor_reading' THEN what ->> 'mg_dl' BETWEEN 20 AND 600
        WHEN 'meter_check'    THEN what ->> 'mg_dl' BETWEEN 20 AND 600
        WHEN 'insulin'        THEN what ->> 'units' > 0 AND what ->> 'units' <= 150
        WHEN 'carbohydrate'   THEN what ->> 'grams' > 0 AND what ->> 'grams' <= 500
        WHEN 'activity'       THEN what ->> 'minutes' > 0 AND what ->> 'minutes' <= 1440
        WHEN 'sleep'          THEN typeof(what ->> 'until') = 'text'
        WHEN 'pressed_spell'  THEN typeof(what ->> 'until') = 'text'
        WHEN 'sensor'         THEN what ->> 'event' IN ('inserted', 'warm_up_over', 'ended', 'fault', 'rolled_off')
        WHEN 'supply'         THEN what ->> 'amount' >= 0 AND what ->> 'amount' <= 100000
            AND what ->> 'stocked' IN ('counted', 'received', 'used', 'thrown_away', 'quoted')
            AND what ->> 'item' IN ('sensor', 'transmitter', 'battery', 'test_strip', 'rapid_insulin',
                'long_acting_insulin', 'rescue_carbohydrate')
        WHEN 'prompted'       THEN what ->> 'verdict' IN ('treat', 'check', 'hold', 'clear', 'help')
        WHEN 'symptom'        THEN what ->> 'felt' IN ('feels_low', 'feels_high', 'none', 'severe')
        WHEN 'note'           THEN length(what ->> 'text') > 0
        WHEN 'import'         THEN length(what ->> 'name') > 0
        WHEN 'retraction'     THEN replaces IS NOT NULL
        ELSE 0 END, 0)),
    seal            INTEGER NOT NULL
) STRICT;
CREATE INDEX entry_at ON entry (at);
CREATE INDEX entry_replaces ON entry (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX entry_undoes ON entry (undoes) WHERE undoes IS NOT NULL;

-- The wearer's settings, each change a row; the newest row holds.
CREATE TABLE wearer (
    seq             INTEGER PRIMARY KEY,
    at              INTEGER NOT NULL CHECK (at BETWEEN 946684800000 AND 7258118399999),
    at_offset       INTEGER NOT NULL CHECK (at_offset BETWEEN -960 AND 960),
    settings        TEXT    NOT NULL CHECK (json_valid(settings)),
    seal            INTEGER NOT NULL
) STRICT;

-- What the core has learned from the log, by name. It can be learned again, so only the newest is kept.
CREATE TABLE learned (
    name            TEXT    PRIMARY KEY CHECK (length(name) BETWEEN 1 AND 80),
    at              INTEGER NOT NULL CHECK (at BETWEEN 946684800000 AND 7258118399999),
    at_offset       INTEGER NOT NULL CHECK (at_offset BETWEEN -960 AND 960),
    -- From how much it was learned, in words.
    evidence        TEXT    NOT NULL,
    document        TEXT    NOT NULL CHECK (json_valid(document)) CHECK (length(document) <= 262144),
    seal            INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
