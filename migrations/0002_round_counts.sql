-- The numbers of a round as somebody stated them. Statements are only ever added: what is known is
-- the last number stated in the order turn, instant, id; the earlier ones stay as history. The key's
-- columns stand first and in its order: else SQLite 3.40's checks see NULL where there is none.
CREATE TABLE round_count (
    round       INTEGER NOT NULL REFERENCES round (id) ON DELETE RESTRICT,
    turn        INTEGER NOT NULL CHECK (turn > 0), -- 1 + the highest of this round known at the time
    at_ms       INTEGER NOT NULL, -- when it was stated
    id          INTEGER NOT NULL,
    in_number   INTEGER CHECK (in_number >= 0), -- fish that went into the round; NULL = not stated
    in_how      TEXT CHECK (in_how IN
                    ('counted', 'weighed', 'displaced', 'scooped', 'estimated')), -- NULL = not said
    in_cv       INTEGER CHECK (in_cv BETWEEN 0 AND 1000000), -- relative standard error, millionths
    kept_number INTEGER CHECK (kept_number >= 0), -- fish that went on
    kept_how    TEXT CHECK (kept_how IN
                    ('counted', 'weighed', 'displaced', 'scooped', 'estimated')),
    kept_cv     INTEGER CHECK (kept_cv BETWEEN 0 AND 1000000),
    rejected    INTEGER CHECK (rejected >= 0), -- fish taken out
    dead        INTEGER CHECK (dead >= 0),     -- fish found dead
    day         TEXT CHECK (day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'), -- of the round
    note        TEXT NOT NULL,    -- '' = none
    judge       INTEGER REFERENCES judge (id) ON DELETE RESTRICT, -- who stated it
    PRIMARY KEY (round, turn, at_ms, id),
    CHECK (in_number IS NOT NULL OR (in_how IS NULL AND in_cv IS NULL)),
    CHECK (kept_number IS NOT NULL OR (kept_how IS NULL AND kept_cv IS NULL)),
    CHECK (in_how IS NOT 'counted' OR in_cv IS NULL),
    CHECK (kept_how IS NOT 'counted' OR kept_cv IS NULL)
) STRICT, WITHOUT ROWID;
