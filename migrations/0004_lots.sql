-- What happens to a lot outside its culls: it is counted, moved, split, put together with others;
-- fish die, are lost, are found. Rows are only ever added, a wrong one is taken back by another.
-- Their order is day, turn, instant, id; on one day a cull comes before the events of its lot.
CREATE TABLE lot_event (
    id     INTEGER PRIMARY KEY,
    lot    INTEGER NOT NULL REFERENCES lot (id) ON DELETE RESTRICT,
    turn   INTEGER NOT NULL CHECK (turn > 0), -- 1 + the highest of this lot known at the time
    day    TEXT NOT NULL CHECK (day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'), -- when
    kind   TEXT CHECK (kind IN ('count', 'dead', 'lost', 'found', 'move', 'transfer')),
        -- NULL = it takes another one back
    number INTEGER CHECK (number >= 0), -- fish; NULL = move: none is said, transfer: all there were
    how    TEXT CHECK (how IN ('counted', 'weighed', 'displaced', 'scooped', 'estimated')),
        -- how the number was made; NULL = not said
    cv     INTEGER CHECK (cv BETWEEN 0 AND 1000000), -- its relative standard error, millionths
    target INTEGER REFERENCES lot (id) ON DELETE RESTRICT, -- transfer: the lot they were put into
    pond   TEXT NOT NULL DEFAULT '' CHECK (length(pond) <= 32), -- move: where the lot is from now on
    note   TEXT NOT NULL DEFAULT '', -- free text
    judge  INTEGER REFERENCES judge (id) ON DELETE RESTRICT, -- who said it
    at_ms  INTEGER NOT NULL, -- when it was said
    undoes INTEGER REFERENCES lot_event (id) ON DELETE RESTRICT, -- the event it takes back
    CHECK (undoes <> id),
    CHECK ((undoes IS NULL) = (kind IS NOT NULL)),
    CHECK (target <> lot),
    CHECK ((kind IS 'transfer') = (target IS NOT NULL)),
    CHECK ((kind IS 'move') = (pond <> '')),
    CHECK (kind IS NULL OR kind IN ('move', 'transfer') OR number IS NOT NULL),
    CHECK (number IS NOT NULL OR (how IS NULL AND cv IS NULL)),
    CHECK (number IS NULL OR kind IS NOT 'move'),
    CHECK (how IS NOT 'counted' OR cv IS NULL)
) STRICT;
CREATE INDEX lot_event_lot ON lot_event (lot, day, turn);
CREATE INDEX lot_event_target ON lot_event (target) WHERE target IS NOT NULL;
CREATE INDEX lot_event_day ON lot_event (day);
CREATE INDEX lot_event_undoes ON lot_event (undoes) WHERE undoes IS NOT NULL;
