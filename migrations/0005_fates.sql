-- Where the rejects of a round went, in numbers. Statements are only ever added: of each fate the
-- last one in the order turn, instant, id is what is known. A round's `fate` says where all go of
-- whom nothing is stated. Release to open water is no fate.
CREATE TABLE reject_fate (
    round  INTEGER NOT NULL REFERENCES round (id) ON DELETE RESTRICT,
    turn   INTEGER NOT NULL CHECK (turn > 0), -- 1 + the highest of this round known at the time
    at_ms  INTEGER NOT NULL, -- when it was stated
    id     INTEGER NOT NULL,
    fate   TEXT NOT NULL CHECK (fate IN ('pond-grade', 'passed-on', 'kept-apart', 'put-down')),
    number INTEGER CHECK (number >= 0), -- fish; NULL = nothing is known any more
    how    TEXT CHECK (how IN ('counted', 'weighed', 'displaced', 'scooped', 'estimated')),
        -- how the number was made; NULL = not said
    cv     INTEGER CHECK (cv BETWEEN 0 AND 1000000), -- its relative standard error, millionths
    day    TEXT CHECK (day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'), -- when they went
    note   TEXT NOT NULL DEFAULT '', -- free text
    judge  INTEGER REFERENCES judge (id) ON DELETE RESTRICT, -- who stated it
    PRIMARY KEY (round, turn, at_ms, id),
    CHECK (number IS NOT NULL OR (how IS NULL AND cv IS NULL)),
    CHECK (how IS NOT 'counted' OR cv IS NULL)
) STRICT, WITHOUT ROWID;
