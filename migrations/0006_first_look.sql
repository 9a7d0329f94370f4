-- First look: some fish of a lot, taken at random before a round begins, are called good or not.
-- One key is one row; rows are only ever added.
CREATE TABLE first_look_stroke (
    id     INTEGER PRIMARY KEY,
    round  INTEGER NOT NULL REFERENCES round (id) ON DELETE RESTRICT, -- the cull that is considered
    judge  INTEGER REFERENCES judge (id) ON DELETE RESTRICT, -- who looked
    good   INTEGER CHECK (good IN (0, 1)), -- 1 = worth raising; NULL = it takes another one back
    at_ms  INTEGER NOT NULL, -- when
    undoes INTEGER REFERENCES first_look_stroke (id) ON DELETE RESTRICT, -- the key it takes back
    CHECK (undoes <> id),
    CHECK ((undoes IS NULL) = (good IS NOT NULL))
) STRICT;
CREATE INDEX first_look_round ON first_look_stroke (round, judge, at_ms);
CREATE INDEX first_look_undoes ON first_look_stroke (undoes) WHERE undoes IS NOT NULL;
