-- Pick and remove rounds: fish and scoops are tallied key by key. Like the strokes of the sheet
-- these rows are only ever added.

-- How many fish a scoop holds: some scoops were counted out fish by fish.
CREATE TABLE scoop (
    id      INTEGER PRIMARY KEY,
    round   INTEGER NOT NULL REFERENCES round (id) ON DELETE RESTRICT, -- its fish are of one size
    judge   INTEGER REFERENCES judge (id) ON DELETE RESTRICT, -- whose scoop it is
    samples INTEGER NOT NULL CHECK (samples BETWEEN 1 AND 20), -- scoops counted
    fish    INTEGER NOT NULL CHECK (fish >= samples),    -- in all of them
    squares INTEGER NOT NULL CHECK (squares >= fish),    -- sum of the squares of their numbers
    at_ms   INTEGER NOT NULL -- when
) STRICT;
CREATE INDEX scoop_round ON scoop (round);

-- One key at the tally.
CREATE TABLE tally_stroke (
    id     INTEGER PRIMARY KEY,
    round  INTEGER NOT NULL REFERENCES round (id) ON DELETE RESTRICT,
    judge  INTEGER REFERENCES judge (id) ON DELETE RESTRICT, -- who pressed it
    kind   TEXT CHECK (kind IN ('keep', 'reject', 'dead')), -- NULL = it takes another one back
    reason TEXT NOT NULL DEFAULT '', -- of a reject: the fault's code; '' = not said
    scoop  INTEGER REFERENCES scoop (id) ON DELETE RESTRICT, -- NULL = one fish
    at_ms  INTEGER NOT NULL, -- when
    undoes INTEGER REFERENCES tally_stroke (id) ON DELETE RESTRICT, -- the key it takes back
    CHECK (undoes <> id),
    CHECK ((undoes IS NULL) = (kind IS NOT NULL)),
    CHECK (undoes IS NULL OR (scoop IS NULL AND reason = '')),
    CHECK (reason = '' OR kind = 'reject')
) STRICT;
CREATE INDEX tally_stroke_round ON tally_stroke (round, judge, at_ms);
CREATE INDEX tally_stroke_undoes ON tally_stroke (undoes) WHERE undoes IS NOT NULL;
