-- Layout 2. Where the readings of a source begin: who was read first decides who is followed, and `reading` is not in the order
-- of sources. A source without a row here has no reading, or only such as layout 1 brought; then they are looked for.

CREATE TABLE beginning (
    source          INTEGER PRIMARY KEY REFERENCES source (slot),
    -- No reading of the source in `reading` lies before it.
    at              INTEGER NOT NULL CHECK (at BETWEEN 946684800000 AND 7258118399999),
    seal            INTEGER NOT NULL
) STRICT;
