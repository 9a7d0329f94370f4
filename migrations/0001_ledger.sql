-- The ledger as it begins. Conventions:
--   id        station number << 32 | serial: no other station can produce it (docs/decisions/stations.md)
--   ..._ms    an instant, milliseconds since 1970-01-01 UTC
--   day, date ISO 8601 text, local
--   NULL      unknown or not said
--   words     the trade's closed lists are kept as words, never as numbers

-- Where rows are born. A ledger file that was copied becomes a station of its own.
CREATE TABLE station (
    number   INTEGER PRIMARY KEY CHECK (number BETWEEN 1 AND 2147483647), -- upper half of its ids
    identity BLOB NOT NULL UNIQUE CHECK (length(identity) = 16), -- random; the number comes from it
    name     TEXT NOT NULL,    -- for people
    host     TEXT NOT NULL,    -- machine on which its file was last seen; '' = nowhere any more
    device   INTEGER NOT NULL, -- file system of its file
    inode    INTEGER NOT NULL, -- number of its file there
    born_ms  INTEGER NOT NULL, -- when it began
    serial   INTEGER NOT NULL DEFAULT 0 CHECK (serial BETWEEN 0 AND 4294967295) -- last one given
) STRICT;

-- One row about the file itself.
CREATE TABLE ledger (
    one     INTEGER PRIMARY KEY CHECK (one = 1), -- there is only this row
    station INTEGER NOT NULL REFERENCES station (number) ON DELETE RESTRICT -- where rows are born now
) STRICT;

-- The steps this ledger went through.
CREATE TABLE migration (
    version  INTEGER PRIMARY KEY CHECK (version > 0), -- of the ledger after the step
    name     TEXT NOT NULL,    -- the step's file name
    checksum TEXT NOT NULL CHECK (length(checksum) = 64), -- SHA-256 of the step's text, hexadecimal
    at_ms    INTEGER NOT NULL, -- when it was taken
    program  TEXT NOT NULL     -- version of the program that took it
) STRICT;

CREATE TABLE judge (
    id   INTEGER PRIMARY KEY,
    name TEXT NOT NULL UNIQUE CHECK (length(name) BETWEEN 1 AND 32) -- as the judge gave it
) STRICT;

-- Brood fish.
CREATE TABLE parent (
    id      INTEGER PRIMARY KEY,
    code    TEXT NOT NULL UNIQUE CHECK (length(code) BETWEEN 1 AND 32), -- the breeder's own name for it
    sex     TEXT CHECK (sex IN ('f', 'm')),
    variety TEXT NOT NULL DEFAULT '',  -- '' = unknown
    born    INTEGER CHECK (born BETWEEN 1900 AND 2199), -- year
    dam     INTEGER REFERENCES parent (id) ON DELETE RESTRICT, -- its mother
    sire    INTEGER REFERENCES parent (id) ON DELETE RESTRICT, -- its father
    note    TEXT NOT NULL DEFAULT '',  -- free text
    CHECK (dam <> id AND sire <> id)
) STRICT;
CREATE INDEX parent_dam ON parent (dam) WHERE dam IS NOT NULL;
CREATE INDEX parent_sire ON parent (sire) WHERE sire IS NOT NULL;

-- One dam, one or more sires, one date.
CREATE TABLE spawning (
    id      INTEGER PRIMARY KEY,
    code    TEXT NOT NULL UNIQUE CHECK (length(code) BETWEEN 1 AND 32), -- the breeder's own name for it
    season  INTEGER NOT NULL CHECK (season BETWEEN 1900 AND 2199), -- calendar year
    date    TEXT CHECK (date GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'), -- when they spawned
    variety TEXT NOT NULL DEFAULT '',  -- what the young are to be; '' = unknown
    dam     INTEGER REFERENCES parent (id) ON DELETE RESTRICT,
    siring  TEXT NOT NULL CHECK (siring IN ('single', 'split', 'pooled', 'group')), -- how sure the sire is
    eggs    INTEGER CHECK (eggs >= 0),    -- number of eggs
    hatched INTEGER CHECK (hatched >= 0), -- number of fry
    note    TEXT NOT NULL DEFAULT '',     -- free text
    CHECK (date IS NULL OR CAST(substr(date, 1, 4) AS INTEGER) = season)
) STRICT;
CREATE INDEX spawning_dam ON spawning (dam) WHERE dam IS NOT NULL;

CREATE TABLE spawning_sire (
    spawning INTEGER NOT NULL REFERENCES spawning (id) ON DELETE RESTRICT,
    sire     INTEGER NOT NULL REFERENCES parent (id) ON DELETE RESTRICT, -- one of its fathers
    PRIMARY KEY (spawning, sire)
) STRICT, WITHOUT ROWID;
CREATE INDEX spawning_sire_sire ON spawning_sire (sire);

-- Fish kept together in one pond. A spawning begins as one lot, its own.
CREATE TABLE lot (
    id       INTEGER PRIMARY KEY,
    code     TEXT NOT NULL CHECK (length(code) BETWEEN 1 AND 32), -- name of the lot within its spawning
    spawning INTEGER REFERENCES spawning (id) ON DELETE RESTRICT, -- NULL = several: a mixed lot
    own      INTEGER NOT NULL CHECK (own IN (0, 1)), -- 1 = the lot its spawning began as
    UNIQUE (spawning, code),
    CHECK (own = 0 OR spawning IS NOT NULL)
) STRICT;
CREATE UNIQUE INDEX lot_own ON lot (spawning) WHERE own = 1;
CREATE UNIQUE INDEX lot_mixed ON lot (code) WHERE spawning IS NULL;

-- The spawnings whose fish are in a lot; more than one = mixed.
CREATE TABLE lot_source (
    lot      INTEGER NOT NULL REFERENCES lot (id) ON DELETE RESTRICT,
    spawning INTEGER NOT NULL REFERENCES spawning (id) ON DELETE RESTRICT, -- where its fish are from
    PRIMARY KEY (lot, spawning)
) STRICT, WITHOUT ROWID;
CREATE INDEX lot_source_spawning ON lot_source (spawning);

-- What a variety asks for at a stage. A version never changes; passes name the one they used.
CREATE TABLE standard_version (
    id      INTEGER PRIMARY KEY,
    name    TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 32), -- of the standard
    version INTEGER NOT NULL CHECK (version > 0), -- 1, 2, … of this name
    stage   TEXT NOT NULL CHECK (stage IN
                ('black', 'first', 'second', 'third', 'fourth', 'harvest', 'house')),
    origin  TEXT NOT NULL CHECK (origin IN ('shipped', 'imported', 'pass')), -- who brought it in
    text    TEXT NOT NULL,    -- the standard's own text form, in full
    saved   INTEGER NOT NULL, -- order in which versions were saved, over all names
    at_ms   INTEGER NOT NULL  -- when it was saved
) STRICT;
CREATE INDEX standard_version_name ON standard_version (name, version);

-- One culling of one lot at one stage.
CREATE TABLE round (
    id       INTEGER PRIMARY KEY,
    lot      INTEGER NOT NULL REFERENCES lot (id) ON DELETE RESTRICT,
    stage    TEXT NOT NULL CHECK (stage IN
                 ('black', 'first', 'second', 'third', 'fourth', 'harvest', 'house')),
    manner   TEXT NOT NULL CHECK (manner IN ('pick', 'remove', 'judge')), -- what hands do at the bowl
    waiting  TEXT NOT NULL CHECK (waiting IN ('basin', 'cell')), -- where judged fish wait
    fate     TEXT CHECK (fate IN ('pond-grade', 'passed-on', 'kept-apart', 'put-down')), -- of its rejects
    places   INTEGER CHECK (places >= 0),   -- how many fish the next pond can take
    expected INTEGER CHECK (expected > 0),  -- fish to judge in all; NULL = as many as its bowls expect
    standard TEXT,                          -- name of the standard its fish are judged by
    UNIQUE (lot, stage)
) STRICT;

CREATE TABLE bowl (
    id       INTEGER PRIMARY KEY,
    round    INTEGER NOT NULL REFERENCES round (id) ON DELETE RESTRICT,
    number   INTEGER NOT NULL CHECK (number BETWEEN 1 AND 999999), -- painted on the bowl
    expected INTEGER CHECK (expected > 0), -- fish put into it
    day      TEXT NOT NULL CHECK (day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]') -- when it was set up
) STRICT;
-- Two stations may each have set up a bowl of this number; both stay when they are joined.
CREATE UNIQUE INDEX bowl_number ON bowl (round, number, id >> 32);
CREATE INDEX bowl_day ON bowl (day);

CREATE TABLE fish (
    id     INTEGER PRIMARY KEY,
    bowl   INTEGER NOT NULL REFERENCES bowl (id) ON DELETE RESTRICT,
    number INTEGER NOT NULL CHECK (number BETWEEN 1 AND 999999) -- of the fish in its bowl
) STRICT;
CREATE UNIQUE INDEX fish_number ON fish (bowl, number, id >> 32);

-- One key at the sheet, or one imported row. Strokes are only ever added (docs/decisions/strokes.md).
CREATE TABLE stroke (
    id         INTEGER PRIMARY KEY,
    fish       INTEGER NOT NULL REFERENCES fish (id) ON DELETE RESTRICT,
    judge      INTEGER REFERENCES judge (id) ON DELETE RESTRICT, -- who did it
    look       INTEGER NOT NULL CHECK (look > 0), -- 1 = the first look at the fish, 2 = the second, …
    seq        INTEGER NOT NULL CHECK (seq > 0),  -- 1 + the highest of this fish known at the time
    checking   INTEGER NOT NULL CHECK (checking IN (0, 1)),   -- 1 = a second sorter's check, never decides
    correction INTEGER NOT NULL CHECK (correction IN (0, 1)), -- 1 = the fish had been closed before
    at_ms      INTEGER NOT NULL, -- when
    undoes     INTEGER REFERENCES stroke (id) ON DELETE RESTRICT, -- the stroke it takes back
    CHECK (undoes <> id)
) STRICT;
CREATE INDEX stroke_order ON stroke (fish, look, seq, id);
CREATE INDEX stroke_undoes ON stroke (undoes) WHERE undoes IS NOT NULL;

-- What a stroke says.
CREATE TABLE entry (
    stroke INTEGER NOT NULL REFERENCES stroke (id) ON DELETE RESTRICT,
    n      INTEGER NOT NULL CHECK (n >= 0), -- order within the stroke
    kind   TEXT NOT NULL CHECK (kind IN
               ('score', 'fault', 'verdict', 'close', 'length', 'tag', 'note')),
    what   TEXT NOT NULL DEFAULT '', -- score: aspect code; fault: fault code; verdict, close: its word
    number INTEGER, -- score (NULL takes it away); fault: 1 seen, 0 taken away; length: mm, 0 takes it away
    text   TEXT NOT NULL DEFAULT '', -- verdict: why; tag and note: the text, '' takes it away
    PRIMARY KEY (stroke, n),
    CHECK (kind <> 'score' OR number IS NULL OR number BETWEEN 0 AND 10),
    CHECK (kind <> 'fault' OR (number IS NOT NULL AND number IN (0, 1))),
    CHECK (kind <> 'length' OR (number IS NOT NULL AND number BETWEEN 0 AND 2000)),
    CHECK (kind NOT IN ('verdict', 'close') OR what IN ('open', 'keep', 'hold', 'reject'))
) STRICT, WITHOUT ROWID;
CREATE INDEX entry_tag ON entry (text) WHERE kind = 'tag';

-- What the strokes of a fish add up to. Derived: kept for quick totals, rebuilt by the check.
CREATE TABLE standing (
    fish          INTEGER PRIMARY KEY REFERENCES fish (id) ON DELETE CASCADE,
    verdict       TEXT NOT NULL CHECK (verdict IN ('open', 'keep', 'hold', 'reject')),
    could_be_kept INTEGER NOT NULL CHECK (could_be_kept IN (0, 1)), -- 1 = decided by its score alone
    score         INTEGER CHECK (score >= 0), -- in 1/unit points
    unit          INTEGER CHECK (unit > 0),   -- the standard's denominator
    first_ms      INTEGER, -- its first stroke
    closed_ms     INTEGER, -- when it was last closed
    closed_by     INTEGER REFERENCES judge (id) ON DELETE RESTRICT, -- who closed it then
    CHECK ((score IS NULL) = (unit IS NULL))
) STRICT;
CREATE INDEX standing_closed ON standing (closed_by, closed_ms);
CREATE INDEX standing_first ON standing (first_ms);

-- Where each judge's hand is; what a broken-off session comes back to.
CREATE TABLE place (
    judge       INTEGER PRIMARY KEY, -- 0 = a judge who gave no name
    round       INTEGER NOT NULL REFERENCES round (id) ON DELETE CASCADE,
    bowl        INTEGER REFERENCES bowl (id) ON DELETE CASCADE,
    number      INTEGER NOT NULL, -- of the fish in its bowl; it need not be there yet
    aspect      TEXT NOT NULL,    -- code of the aspect in front, '' = the first open one
    second_look INTEGER NOT NULL CHECK (second_look IN (0, 1)), -- 1 = among the round's held fish
    in_sheet    INTEGER NOT NULL CHECK (in_sheet IN (0, 1)),    -- 1 = the sheet was open
    turn        INTEGER NOT NULL  -- highest = written last
) STRICT;

-- One application of a standard to a round.
CREATE TABLE pass (
    id       INTEGER PRIMARY KEY,
    round    INTEGER NOT NULL REFERENCES round (id) ON DELETE RESTRICT,
    turn     INTEGER NOT NULL CHECK (turn > 0), -- 1 + the highest of this round known at the time
    standard INTEGER NOT NULL REFERENCES standard_version (id) ON DELETE RESTRICT, -- version used
    places   INTEGER CHECK (places >= 0), -- NULL = no limit
    judge    INTEGER REFERENCES judge (id) ON DELETE RESTRICT, -- who ran it
    at_ms    INTEGER NOT NULL -- when
) STRICT;
CREATE INDEX pass_round ON pass (round, turn);

-- What a pass decided; readable without the standard.
CREATE TABLE decision (
    pass    INTEGER NOT NULL REFERENCES pass (id) ON DELETE RESTRICT,
    fish    INTEGER NOT NULL REFERENCES fish (id) ON DELETE RESTRICT,
    verdict TEXT NOT NULL CHECK (verdict IN ('open', 'keep', 'hold', 'reject')),
    reason  TEXT NOT NULL, -- first rule that applied, as files have it
    label   TEXT NOT NULL, -- the same for people
    score   INTEGER CHECK (score >= 0), -- in 1/unit points
    unit    INTEGER CHECK (unit > 0),   -- the standard's denominator
    rank    INTEGER CHECK (rank > 0),   -- 1 = best
    PRIMARY KEY (pass, fish),
    CHECK ((score IS NULL) = (unit IS NULL) AND (score IS NULL) = (rank IS NULL))
) STRICT, WITHOUT ROWID;

-- Changes of office records: what a field was before.
CREATE TABLE amendment (
    id      INTEGER PRIMARY KEY,
    kind    TEXT NOT NULL CHECK (kind IN ('parent', 'spawning', 'round', 'bowl')), -- which table
    record  INTEGER NOT NULL, -- id of the row there
    field   TEXT NOT NULL,    -- name of the field
    was     TEXT NOT NULL,    -- before; '' = unknown
    becomes TEXT NOT NULL,    -- after
    at_ms   INTEGER NOT NULL, -- when
    judge   INTEGER REFERENCES judge (id) ON DELETE RESTRICT, -- who
    why     TEXT NOT NULL     -- '' = not said
) STRICT;
CREATE INDEX amendment_record ON amendment (record);
