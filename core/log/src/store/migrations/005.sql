-- Layout 5. An entry may say what ketones were measured, and how ill the wearer is.
-- SQLite cannot change a check, so the table is made anew; its rows, their order and their seals stay as they were.

CREATE TABLE entry_5 (
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
    undoes          INTEGER REFERENCES entry_5 (seq),
    -- What it says, as JSON. The ranges are those of the type it is read into.
    what            TEXT    NOT NULL CHECK (json_valid(what)) CHECK (ifnull(CASE what ->> 'kind'
        WHEN 'sensor_reading' THEN what ->> 'mg_dl' BETWEEN 20 AND 600
        WHEN 'sensor_beyond'  THEN what ->> 'mg_dl' BETWEEN 20 AND 600 AND what ->> 'beyond' IN ('below', 'above')
        WHEN 'meter_check'    THEN what ->> 'mg_dl' BETWEEN 20 AND 600
        WHEN 'meter_beyond'   THEN what ->> 'mg_dl' BETWEEN 20 AND 600 AND what ->> 'beyond' IN ('below', 'above')
        WHEN 'insulin'        THEN what ->> 'units' > 0 AND what ->> 'units' <= 150
        WHEN 'carbohydrate'   THEN what ->> 'grams' > 0 AND what ->> 'grams' <= 500
        WHEN 'alcohol'        THEN what ->> 'drinks' > 0 AND what ->> 'drinks' <= 40
        WHEN 'ketones'        THEN what ->> 'mmol_l' BETWEEN 0 AND 20
        WHEN 'illness'        THEN what ->> 'illness' IN ('ill', 'vomiting', 'over')
        WHEN 'activity'       THEN what ->> 'minutes' > 0 AND what ->> 'minutes' <= 1440
        WHEN 'sleep'          THEN typeof(what ->> 'until') = 'text'
        WHEN 'pressed_spell'  THEN typeof(what ->> 'until') = 'text'
        WHEN 'sensor'         THEN CASE what ->> 'event'
            WHEN 'device_fault' THEN what ->> 'code' IN ('sensor_type', 'sensor_malfunction', 'general')
            ELSE what ->> 'event' IN ('inserted', 'warm_up_over', 'ended', 'fault', 'rolled_off') END
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

INSERT INTO entry_5 (seq, id, at, at_offset, recorded, recorded_offset, source, replaces, import, again, said, undoes, what, seal)
SELECT seq, id, at, at_offset, recorded, recorded_offset, source, replaces, import, again, said, undoes, what, seal
FROM entry ORDER BY seq;
DROP TABLE entry;
ALTER TABLE entry_5 RENAME TO entry;
CREATE INDEX entry_at ON entry (at);
CREATE INDEX entry_replaces ON entry (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX entry_undoes ON entry (undoes) WHERE undoes IS NOT NULL;
