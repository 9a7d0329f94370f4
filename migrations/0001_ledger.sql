-- The ledger as it begins. Conventions:
--   id        of what is born at a bowl: station number << 32 | serial, which no other station can
--             produce; of what the office enters (judges, varieties, parents, spawnings, lots,
--             rounds, standards): 2^62 + a hash of what it was when it began, so that two stations
--             that enter the same make the same row (docs/decisions/stations.md)
--   ..._ms    an instant, milliseconds since 1970-01-01 UTC
--   day, date ISO 8601 text, local
--   NULL      unknown or not said
--   words     the trade's closed lists are kept as words, never as numbers
--   revision  orders statements about one thing: 1 + the highest of it known at the time; of two
--             stations' same revision the later instant, then the higher id, comes last
--   CHECK     words are compared by OR, for SQLite builds a tree in memory for every IN (…) of every
--             row it checks
-- Rows of strokes, keys, events and statements are only ever added; a wrong one is taken back by
-- another. Whatever is derived from them says so below, and the command check rebuilds it.
-- A record that should not be there is retired, never deleted: retired_ms says since when. What is
-- below it (lots of a spawning, rounds of a lot, bowls of a round) is retired with it, at the same
-- instant, by which it is brought back. Every question goes to the live_ views
-- (docs/decisions/retiring.md).
-- The views show it all unpacked, under names that stay.

-- Views for people who query. Instants are shown in UTC. They stand before the tables: SQLite 3.40
-- looks for lost pages only where a table is what its list of tables and views begins with; this
-- hangs on which table comes last as well (tests/unit/store/test_ledger.c: an index lost).

-- Records that are not retired.
CREATE VIEW live_judge AS SELECT * FROM judge WHERE retired_ms IS NULL;
CREATE VIEW live_variety AS SELECT * FROM variety WHERE retired_ms IS NULL;
CREATE VIEW live_parent AS SELECT * FROM parent WHERE retired_ms IS NULL;
CREATE VIEW live_spawning AS SELECT * FROM spawning WHERE retired_ms IS NULL;
CREATE VIEW live_lot AS SELECT * FROM lot WHERE retired_ms IS NULL;
CREATE VIEW live_round AS SELECT * FROM round WHERE retired_ms IS NULL;
CREATE VIEW live_bowl AS SELECT * FROM bowl WHERE retired_ms IS NULL;

-- Every judge by the name that is shown: of one whose name was typed wrong, the right one's.
CREATE VIEW judge_shown AS SELECT
    j.id AS id,
    coalesce(j.same_as, j.id) AS person, -- key of judge
    coalesce((SELECT o.name FROM judge AS o WHERE o.id = j.same_as), j.name) AS name
FROM judge AS j;

-- Whatever can be retired, by the name that people know it by. A record below another goes with it
-- at the same instant: above_ms.
CREATE VIEW record AS
    SELECT 'judge' AS kind, id, retired_ms, NULL AS above_ms, 'judge ' || name AS title FROM judge
    UNION ALL SELECT 'variety', id, retired_ms, NULL, 'variety ' || name FROM variety
    UNION ALL SELECT 'parent', id, retired_ms, NULL, 'parent ' || code FROM parent
    UNION ALL SELECT 'spawning', id, retired_ms, NULL, 'spawning ' || code || ' of ' || season
    FROM spawning
    UNION ALL SELECT 'lot', l.id, l.retired_ms, s.retired_ms, 'lot ' || l.code ||
        iif(l.own, '', ' of ') || coalesce(iif(l.own, '', s.code), (SELECT group_concat(m.code, ';') FROM lot_source AS ls
            JOIN spawning AS m ON m.id = ls.spawning WHERE ls.lot = l.id))
    FROM lot AS l LEFT JOIN spawning AS s ON s.id = l.spawning
    UNION ALL SELECT 'round', r.id, r.retired_ms, l.retired_ms, r.stage || ' cull of ' ||
        iif(l.own OR l.spawning IS NULL, '', (SELECT code FROM spawning WHERE id = l.spawning) || ' ')
        || l.code
    FROM round AS r JOIN lot AS l ON l.id = r.lot
    UNION ALL SELECT 'bowl', b.id, b.retired_ms, r.retired_ms, 'bowl ' || b.number || ', ' ||
        r.stage || ' cull of ' || l.code
    FROM bowl AS b JOIN round AS r ON r.id = b.round JOIN lot AS l ON l.id = r.lot;

-- Rounds with their fish by what stands of them.
CREATE VIEW rounds AS SELECT
    r.id AS round,            -- key of round
    coalesce(s.code, (SELECT group_concat(code, ';') FROM (SELECT m.code FROM lot_source AS ls
        JOIN live_spawning AS m ON m.id = ls.spawning WHERE ls.lot = l.id ORDER BY m.code)))
        AS spawning,          -- several codes of a mixed lot
    l.code AS lot,
    r.stage AS stage,
    r.manner AS manner,       -- pick, remove or judge
    s.season AS season,       -- NULL of a mixed lot
    r.standard AS standard,   -- its name
    r.places AS places,
    r.fate AS fate,           -- of its rejects
    r.fish_open AS open,      -- fish judged one by one: not decided yet
    r.fish_keep AS keep,
    r.fish_hold AS hold,
    r.fish_reject AS reject,
    r.fish_changed AS changed, -- fish judged or corrected since the latest pass
    datetime(r.first_ms / 1000, 'unixepoch') AS first_judged,
    datetime(r.last_ms / 1000, 'unixepoch') AS last_judged
FROM live_round AS r JOIN live_lot AS l ON l.id = r.lot
LEFT JOIN live_spawning AS s ON s.id = l.spawning;

-- Fish with their verdicts.
CREATE VIEW fish_verdicts AS SELECT
    r.round AS round, r.spawning AS spawning, r.lot AS lot, r.stage AS stage,
    b.number AS bowl,
    f.number AS number,        -- of the fish in its bowl
    f.id AS fish,              -- key of fish
    f.verdict AS verdict,      -- what stands of it
    f.judged AS judged,        -- by its judgement alone, passes and places left aside
    f.changed AS changed,      -- 1 = judged or corrected since the latest pass
    round(1.0 * f.score / f.unit, 2) AS score, -- points of 100
    d.verdict AS decided,      -- by the latest pass
    (SELECT w.reason FROM decision_reason AS w WHERE w.pass = d.pass AND w.number = d.reason)
        AS reason,             -- the first rule that applied then
    d.rank AS rank,            -- 1 = best, then
    datetime(f.closed_ms / 1000, 'unixepoch') AS closed, -- when
    j.name AS closed_by        -- who
FROM fish AS f JOIN live_bowl AS b ON b.id = f.bowl JOIN rounds AS r ON r.round = b.round
LEFT JOIN judge_shown AS j ON j.id = f.closed_by
LEFT JOIN decision AS d ON d.fish = f.id
    AND d.pass = (SELECT p.pass FROM round AS p WHERE p.id = b.round);

-- Every score and fault that a stroke touched and that was not taken back as a whole.
CREATE VIEW stroke_items AS SELECT
    s.id AS stroke,            -- key of stroke
    s.fish AS fish,            -- key of fish
    s.look AS look, s.seq AS seq,
    s.checking AS checking,    -- 1 = a second sorter's check
    s.judge AS judge,          -- key of judge
    s.at_ms AS at_ms,
    i.kind AS kind,            -- aspect or fault
    i.code AS code, i.label AS label,
    substr(iif(i.kind = 'aspect', s.scores, s.faults), i.position, 1) AS mark -- as stroke has it
FROM stroke AS s JOIN standard_item AS i ON i.standard = s.standard
WHERE s.undoes IS NULL AND NOT EXISTS (SELECT 1 FROM stroke AS u WHERE u.undoes = s.id)
    AND substr(iif(i.kind = 'aspect', s.scores, s.faults), i.position, 1) <> '.';

-- Of every fish, look and aspect (or fault) the last mark; of a check, each sorter's own.
CREATE VIEW latest_items AS SELECT * FROM (
    SELECT t.*, row_number() OVER (
        PARTITION BY t.fish, t.look, t.checking, iif(t.checking, t.judge, 0), t.kind, t.code
        ORDER BY t.seq DESC, t.stroke DESC) AS nth -- 1 = the last
    FROM stroke_items AS t) WHERE nth = 1 AND mark <> '-';

-- Judgements: a fish, a look and an aspect each.
CREATE VIEW judgements AS SELECT
    r.round AS round, r.spawning AS spawning, r.lot AS lot, r.stage AS stage,
    b.number AS bowl, f.number AS number, f.id AS fish, -- as in fish_verdicts
    t.look AS look,            -- 1 = the first
    t.checking AS checking,    -- 1 = a second sorter's check
    j.name AS judge,           -- who gave it
    datetime(t.at_ms / 1000, 'unixepoch') AS at, -- when
    t.code AS aspect,          -- its code
    t.label AS label,          -- its name
    iif(t.mark = 'X', 10, CAST(t.mark AS INTEGER)) AS score
FROM latest_items AS t JOIN fish AS f ON f.id = t.fish JOIN live_bowl AS b ON b.id = f.bowl
JOIN rounds AS r ON r.round = b.round LEFT JOIN judge_shown AS j ON j.id = t.judge
WHERE t.kind = 'aspect';

-- Faults seen: a fish, a look and a fault each.
CREATE VIEW faults AS SELECT
    r.round AS round, r.spawning AS spawning, r.lot AS lot, r.stage AS stage,
    b.number AS bowl, f.number AS number, f.id AS fish, t.look AS look, t.checking AS checking,
    j.name AS judge, datetime(t.at_ms / 1000, 'unixepoch') AS at, -- as in judgements
    t.code AS fault,           -- its code
    t.label AS label           -- its name
FROM latest_items AS t JOIN fish AS f ON f.id = t.fish JOIN live_bowl AS b ON b.id = f.bowl
JOIN rounds AS r ON r.round = b.round LEFT JOIN judge_shown AS j ON j.id = t.judge
WHERE t.kind = 'fault';

-- The numbers of rounds as they were stated, the last one last.
CREATE VIEW counts AS SELECT
    r.round AS round, r.spawning AS spawning, r.lot AS lot, r.stage AS stage,
    c.revision AS revision,    -- order of the statements
    c.day AS day,              -- of the round
    c.in_number AS fish_in, c.in_method AS in_method,
    c.in_cv / 1e6 AS in_cv,    -- relative standard error
    c.kept_number AS kept, c.kept_method AS kept_method,
    c.kept_cv / 1e6 AS kept_cv,
    c.rejected AS rejected, c.dead AS dead, c.note AS note,
    j.name AS judge,           -- who stated them
    datetime(c.at_ms / 1000, 'unixepoch') AS at -- when
FROM round_count AS c JOIN rounds AS r ON r.round = c.round
LEFT JOIN judge_shown AS j ON j.id = c.judge;

-- What happened to lots outside their culls, without what was taken back.
CREATE VIEW lot_events AS SELECT
    e.id AS event,             -- key of lot_event
    l.code AS lot, e.day AS day, e.kind AS kind,
    e.number AS fish,          -- transfer: NULL = all there were
    e.method AS method,
    e.cv / 1e6 AS cv,          -- relative standard error
    t.code AS into_lot,        -- transfer: where they were put
    e.pond AS pond,            -- move: where the lot is from then on
    e.note AS note,
    j.name AS judge            -- who said it
FROM lot_event AS e JOIN live_lot AS l ON l.id = e.lot LEFT JOIN live_lot AS t ON t.id = e.target
LEFT JOIN judge_shown AS j ON j.id = e.judge
WHERE e.target IS t.id AND e.undoes IS NULL
    AND NOT EXISTS (SELECT 1 FROM lot_event AS u WHERE u.undoes = e.id);

-- Where rows are born. A ledger file that was copied becomes a station of its own.
CREATE TABLE station (
    number   INTEGER PRIMARY KEY CHECK (number BETWEEN 1 AND 1073741823), -- upper half of its ids
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

-- Who judges.
CREATE TABLE judge (
    id         INTEGER PRIMARY KEY,
    name       TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 32), -- as the judge gave it
    same_as    INTEGER REFERENCES judge (id) ON DELETE RESTRICT,
        -- whose name it was meant to be; NULL = the judge's own
    retired_ms INTEGER, -- since when the name is not offered any more; NULL = it is
    CHECK (same_as <> id),
    CHECK (same_as IS NULL OR retired_ms IS NOT NULL)
) STRICT;
CREATE UNIQUE INDEX judge_name ON judge (name) WHERE retired_ms IS NULL;

-- Varieties. Standards, spawnings and parents name them.
CREATE TABLE variety (
    id        INTEGER PRIMARY KEY,
    name      TEXT NOT NULL UNIQUE CHECK (length(name) BETWEEN 1 AND 32), -- by which it is kept
    japanese  TEXT NOT NULL DEFAULT '', -- its Japanese name; '' = not known
    spellings TEXT NOT NULL DEFAULT '', -- how else it is written, separated by ';'
    retired_ms INTEGER -- since when it is retired; NULL = it is not
) STRICT;
-- Those that the trade knows. No station has the number 0: they are the same rows in every ledger,
-- and nothing in the audit log says that they began.
INSERT INTO variety (id, name, japanese, spellings) VALUES
    (1, 'Kohaku', '紅白', ''),
    (2, 'Sanke', '大正三色', 'Taisho Sanke;Taisho Sanshoku;三色'),
    (3, 'Showa', '昭和三色', 'Showa Sanshoku;Showa Sanke;昭和'),
    (4, 'Tancho', '丹頂', 'Tancho Kohaku;丹頂紅白'),
    (5, 'Tancho Sanke', '丹頂三色', ''),
    (6, 'Tancho Showa', '丹頂昭和', ''),
    (7, 'Shiro Utsuri', '白写り', '白写;白うつり'),
    (8, 'Hi Utsuri', '緋写り', '緋写;緋うつり'),
    (9, 'Ki Utsuri', '黄写り', '黄写;黄うつり'),
    (10, 'Bekko', '別甲', ''),
    (11, 'Shiro Bekko', '白別甲', ''),
    (12, 'Aka Bekko', '赤別甲', ''),
    (13, 'Ki Bekko', '黄別甲', ''),
    (14, 'Asagi', '浅黄', ''),
    (15, 'Shusui', '秋翠', ''),
    (16, 'Koromo', '衣', ''),
    (17, 'Ai Goromo', '藍衣', 'Aigoromo'),
    (18, 'Budo Goromo', '葡萄衣', 'Budo'),
    (19, 'Sumi Goromo', '墨衣', ''),
    (20, 'Goshiki', '五色', ''),
    (21, 'Ogon', '黄金', ''),
    (22, 'Yamabuki Ogon', '山吹黄金', 'Yamabuki;山吹'),
    (23, 'Platinum Ogon', 'プラチナ黄金', 'Platinum;Purachina;プラチナ'),
    (24, 'Orange Ogon', 'オレンジ黄金', 'Orenji Ogon'),
    (25, 'Kujaku', '孔雀', 'Kujaku Ogon;孔雀黄金'),
    (26, 'Hariwake', '張分', '張分け;張り分け'),
    (27, 'Kikusui', '菊水', ''),
    (28, 'Yamatonishiki', '大和錦', 'Yamato'),
    (29, 'Hikari Utsuri', '光り写り', '光写り'),
    (30, 'Kin Showa', '金昭和', ''),
    (31, 'Gin Shiro', '銀白', 'Gin Shiro Utsuri;銀白写り'),
    (32, 'Kin Ki Utsuri', '金黄写り', ''),
    (33, 'Chagoi', '茶鯉', ''),
    (34, 'Karashigoi', '芥子鯉', 'Karashi;からし鯉;カラシ鯉'),
    (35, 'Soragoi', '空鯉', ''),
    (36, 'Midorigoi', '緑鯉', ''),
    (37, 'Benigoi', '紅鯉', ''),
    (38, 'Higoi', '緋鯉', ''),
    (39, 'Kigoi', '黄鯉', ''),
    (40, 'Karasugoi', '烏鯉', 'Karasu;カラス鯉'),
    (41, 'Hajiro', '羽白', ''),
    (42, 'Ochiba', '落葉', 'Ochiba Shigure;落葉しぐれ;落葉時雨'),
    (43, 'Kumonryu', '九紋竜', '九紋龍'),
    (44, 'Beni Kumonryu', '紅九紋竜', '紅九紋龍'),
    (45, 'Matsuba', '松葉', ''),
    (46, 'Aka Matsuba', '赤松葉', ''),
    (47, 'Ki Matsuba', '黄松葉', ''),
    (48, 'Kin Matsuba', '金松葉', 'Matsuba Ogon;松葉黄金'),
    (49, 'Gin Matsuba', '銀松葉', '');

-- Brood fish.
CREATE TABLE parent (
    id      INTEGER PRIMARY KEY,
    code    TEXT NOT NULL CHECK (length(code) BETWEEN 1 AND 32), -- the breeder's own name for it
    sex     TEXT CHECK (sex = 'f' OR sex = 'm'), -- female or male
    variety TEXT REFERENCES variety (name) ON UPDATE CASCADE ON DELETE RESTRICT, -- NULL = unknown
    born    INTEGER CHECK (born BETWEEN 1900 AND 2199), -- year
    dam     INTEGER REFERENCES parent (id) ON DELETE RESTRICT, -- its mother
    sire    INTEGER REFERENCES parent (id) ON DELETE RESTRICT, -- its father
    note    TEXT NOT NULL DEFAULT '',  -- free text
    state   TEXT CHECK (state = 'available' OR state = 'resting' OR state = 'sold'
                OR state = 'dead'),    -- whether it can be set; NULL = not said
    since   TEXT CHECK (since GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'), -- of the state
    retired_ms INTEGER, -- since when it is retired; NULL = it is not
    CHECK (dam <> id AND sire <> id)
) STRICT;
CREATE UNIQUE INDEX parent_code ON parent (code) WHERE retired_ms IS NULL;
CREATE INDEX parent_variety ON parent (variety) WHERE variety IS NOT NULL;
CREATE INDEX parent_dam ON parent (dam) WHERE dam IS NOT NULL;
CREATE INDEX parent_sire ON parent (sire) WHERE sire IS NOT NULL;

-- One dam, one or more sires, one date.
CREATE TABLE spawning (
    id      INTEGER PRIMARY KEY,
    code    TEXT NOT NULL CHECK (length(code) BETWEEN 1 AND 32), -- the breeder's own name for it
    season  INTEGER NOT NULL CHECK (season BETWEEN 1900 AND 2199), -- calendar year
    date    TEXT CHECK (date GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'), -- when they spawned
    variety TEXT REFERENCES variety (name) ON UPDATE CASCADE ON DELETE RESTRICT,
        -- what the young are to be; NULL = unknown
    dam     INTEGER REFERENCES parent (id) ON DELETE RESTRICT, -- its mother
    siring  TEXT NOT NULL CHECK (siring = 'single' OR siring = 'split' OR siring = 'pooled'
                OR siring = 'group'),     -- how sure the sire is
    eggs    INTEGER CHECK (eggs >= 0),    -- number of eggs
    hatched INTEGER CHECK (hatched >= 0), -- number of fry
    note    TEXT NOT NULL DEFAULT '',     -- free text
    retired_ms INTEGER, -- since when it is retired; NULL = it is not
    CHECK (date IS NULL OR CAST(substr(date, 1, 4) AS INTEGER) = season)
) STRICT;
CREATE UNIQUE INDEX spawning_code ON spawning (code) WHERE retired_ms IS NULL;
CREATE INDEX spawning_variety ON spawning (variety) WHERE variety IS NOT NULL;
CREATE INDEX spawning_dam ON spawning (dam) WHERE dam IS NOT NULL;

CREATE TABLE spawning_sire (
    spawning INTEGER NOT NULL REFERENCES spawning (id) ON DELETE RESTRICT, -- of which
    sire     INTEGER NOT NULL REFERENCES parent (id) ON DELETE RESTRICT, -- one of its fathers
    PRIMARY KEY (spawning, sire)
) STRICT, WITHOUT ROWID;
CREATE INDEX spawning_sire_sire ON spawning_sire (sire);

-- Fish kept together in one pond. A spawning begins as one lot, its own.
CREATE TABLE lot (
    id       INTEGER PRIMARY KEY,
    code     TEXT NOT NULL CHECK (length(code) BETWEEN 1 AND 32), -- name of the lot within its spawning
    spawning INTEGER REFERENCES spawning (id) ON DELETE RESTRICT, -- NULL = several: a mixed lot
    own      INTEGER NOT NULL CHECK (own = 0 OR own = 1), -- 1 = the lot its spawning began as
    retired_ms INTEGER, -- since when it is retired; NULL = it is not
    CHECK (own = 0 OR spawning IS NOT NULL)
) STRICT;
CREATE UNIQUE INDEX lot_code ON lot (spawning, code) WHERE retired_ms IS NULL;
CREATE UNIQUE INDEX lot_own ON lot (spawning) WHERE own = 1;
CREATE UNIQUE INDEX lot_mixed ON lot (code) WHERE spawning IS NULL AND retired_ms IS NULL;

-- The spawnings whose fish are in a lot; more than one = mixed.
CREATE TABLE lot_source (
    lot      INTEGER NOT NULL REFERENCES lot (id) ON DELETE RESTRICT, -- of which
    spawning INTEGER NOT NULL REFERENCES spawning (id) ON DELETE RESTRICT, -- where its fish are from
    PRIMARY KEY (lot, spawning)
) STRICT, WITHOUT ROWID;
CREATE INDEX lot_source_spawning ON lot_source (spawning);

-- What a variety asks for at a stage. A version never changes; passes name the one they used.
CREATE TABLE standard_version (
    id       INTEGER PRIMARY KEY,
    name     TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 32), -- of the standard
    version  INTEGER NOT NULL CHECK (version > 0), -- 1, 2, … of this name
    stage    TEXT NOT NULL CHECK (stage = 'black' OR stage = 'first' OR stage = 'second'
                 OR stage = 'third' OR stage = 'fourth' OR stage = 'harvest' OR stage = 'house'),
    origin   TEXT NOT NULL CHECK (origin = 'shipped' OR origin = 'imported' OR origin = 'pass'),
        -- who brought it in
    text     TEXT NOT NULL,    -- the standard's own text form, in full
    revision INTEGER NOT NULL, -- order in which versions were saved, over all names
    at_ms    INTEGER NOT NULL  -- when it was saved
) STRICT;
CREATE INDEX standard_version_name ON standard_version (name, version);

-- The aspects and faults of a version in its order: what the characters of stroke.scores and
-- stroke.faults stand for. Derived from its text, so that plain SQL can unpack them.
CREATE TABLE standard_item (
    standard INTEGER NOT NULL REFERENCES standard_version (id) ON DELETE RESTRICT, -- the version
    kind     TEXT NOT NULL CHECK (kind = 'aspect' OR kind = 'fault'),
    position INTEGER NOT NULL CHECK (position > 0), -- 1, 2, … among those of its kind
    code     TEXT NOT NULL, -- as files have it
    label    TEXT NOT NULL, -- for people
    PRIMARY KEY (standard, kind, position)
) STRICT, WITHOUT ROWID;

-- One culling of one lot at one stage.
CREATE TABLE round (
    id        INTEGER PRIMARY KEY,
    lot       INTEGER NOT NULL REFERENCES lot (id) ON DELETE RESTRICT, -- of which
    stage     TEXT NOT NULL CHECK (stage = 'black' OR stage = 'first' OR stage = 'second'
                  OR stage = 'third' OR stage = 'fourth' OR stage = 'harvest' OR stage = 'house'),
    manner    TEXT NOT NULL CHECK (manner = 'pick' OR manner = 'remove' OR manner = 'judge'),
        -- what is done at the bowl
    waiting   TEXT NOT NULL CHECK (waiting = 'basin' OR waiting = 'cell'), -- where judged fish wait
    fate      TEXT CHECK (fate = 'pond-grade' OR fate = 'passed-on' OR fate = 'kept-apart'
                  OR fate = 'put-down'),    -- of its rejects
    places    INTEGER CHECK (places >= 0),  -- how many fish the next pond can take
    expected  INTEGER CHECK (expected > 0), -- fish to judge in all; NULL = as many as its bowls expect
    standard  TEXT,                         -- name of the standard its fish are judged by
    -- Derived:
    twin      INTEGER NOT NULL DEFAULT 0 CHECK (twin >= 0), -- of two live rounds of a lot and stage,
        -- which a join may bring, 0 = the first that was so, 1 = the next
    pass      INTEGER REFERENCES pass (id) ON DELETE RESTRICT, -- its latest
    -- Derived, from its bowls:
    bowls     INTEGER NOT NULL DEFAULT 0,   -- how many
    fish_held INTEGER NOT NULL DEFAULT 0,   -- of each bowl the fish expected, or in it if they are more
    fish_open INTEGER NOT NULL DEFAULT 0,   -- fish by what stands of them
    fish_keep INTEGER NOT NULL DEFAULT 0,
    fish_hold INTEGER NOT NULL DEFAULT 0,
    fish_reject INTEGER NOT NULL DEFAULT 0,
    fish_changed INTEGER NOT NULL DEFAULT 0, -- fish judged or corrected since the latest pass
    first_ms  INTEGER,                      -- when the first of them was first looked at
    last_ms   INTEGER,                      -- when one was last begun or closed
    retired_ms INTEGER -- since when it is retired; NULL = it is not
) STRICT;
CREATE UNIQUE INDEX round_stage ON round (lot, stage, twin) WHERE retired_ms IS NULL;

CREATE TABLE bowl (
    id        INTEGER PRIMARY KEY,
    round     INTEGER NOT NULL REFERENCES round (id) ON DELETE RESTRICT, -- of which
    number    INTEGER NOT NULL CHECK (number BETWEEN 1 AND 999999), -- painted on the bowl
    expected  INTEGER CHECK (expected > 0), -- fish put into it
    day       TEXT NOT NULL CHECK (day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'), -- set up
    -- Derived, from its fish, as in round:
    fish_open INTEGER NOT NULL DEFAULT 0,
    fish_keep INTEGER NOT NULL DEFAULT 0,
    fish_hold INTEGER NOT NULL DEFAULT 0,
    fish_reject INTEGER NOT NULL DEFAULT 0,
    fish_changed INTEGER NOT NULL DEFAULT 0,
    first_ms  INTEGER,
    last_ms   INTEGER,
    retired_ms INTEGER -- since when it is retired; NULL = it is not
) STRICT;
-- Two stations may each have set up a bowl of this number; both stay when they are joined.
CREATE UNIQUE INDEX bowl_number ON bowl (round, number, id >> 32) WHERE retired_ms IS NULL;
CREATE INDEX bowl_day ON bowl (day);
CREATE INDEX bowl_last ON bowl (round, last_ms) WHERE retired_ms IS NULL;

CREATE TABLE fish (
    id            INTEGER PRIMARY KEY,
    bowl          INTEGER NOT NULL REFERENCES bowl (id) ON DELETE RESTRICT, -- in which it is
    number        INTEGER NOT NULL CHECK (number BETWEEN 1 AND 999999), -- of the fish in its bowl
    -- Derived, what stands of it (docs/decisions/standing.md), from what follows and the round's
    -- latest pass:
    verdict       TEXT NOT NULL DEFAULT 'open' CHECK (verdict = 'open' OR verdict = 'keep'
                      OR verdict = 'hold' OR verdict = 'reject'),
    changed       INTEGER NOT NULL DEFAULT 0 CHECK (changed = 0 OR changed = 1),
        -- 1 = judged or corrected since that pass
    -- Derived, from its strokes and the latest version of its round's standard:
    judged        TEXT NOT NULL DEFAULT 'open' CHECK (judged = 'open' OR judged = 'keep'
                      OR judged = 'hold' OR judged = 'reject'), -- passes and places left aside
    no_place      INTEGER NOT NULL DEFAULT 0 CHECK (no_place = 0 OR no_place = 1),
        -- 1 = judged keep, but put on hold for want of a place
    judgement     TEXT NOT NULL DEFAULT '', -- what decides, in the order of that version: a character
        -- an aspect as in stroke ('.' = none); then, if there are any, a character a fault; then the
        -- verdict by hand. '' = nothing was seen
    judgement_key INTEGER NOT NULL DEFAULT 0, -- the same as a number that knows codes, not their
        -- order; 0 = nothing was seen
    could_be_kept INTEGER NOT NULL DEFAULT 0, -- 1 = decided by its score alone
    score         INTEGER CHECK (score >= 0), -- in 1/unit points
    unit          INTEGER CHECK (unit > 0),   -- the standard's denominator
    first_ms      INTEGER, -- its first stroke
    closed_ms     INTEGER, -- when it was last closed
    closed_by     INTEGER REFERENCES judge (id) ON DELETE RESTRICT, -- who closed it then
    CHECK ((score IS NULL) = (unit IS NULL))
) STRICT;
-- Two stations may have moved fish to one number: a join tells them apart.
CREATE INDEX fish_number ON fish (bowl, number);

-- The counters of bowls and rounds follow their fish, whoever writes them.
CREATE TRIGGER fish_added AFTER INSERT ON fish BEGIN
    UPDATE bowl SET fish_open = fish_open + 1 WHERE id = NEW.bowl;
END;
CREATE TRIGGER fish_decided AFTER UPDATE OF verdict, changed ON fish
WHEN NEW.bowl = OLD.bowl AND (NEW.verdict <> OLD.verdict OR NEW.changed <> OLD.changed) BEGIN
    UPDATE bowl SET
        fish_open = fish_open + (NEW.verdict = 'open') - (OLD.verdict = 'open'),
        fish_keep = fish_keep + (NEW.verdict = 'keep') - (OLD.verdict = 'keep'),
        fish_hold = fish_hold + (NEW.verdict = 'hold') - (OLD.verdict = 'hold'),
        fish_reject = fish_reject + (NEW.verdict = 'reject') - (OLD.verdict = 'reject'),
        fish_changed = fish_changed + NEW.changed - OLD.changed
    WHERE id = NEW.bowl;
END;
CREATE TRIGGER bowl_added AFTER INSERT ON bowl WHEN NEW.retired_ms IS NULL BEGIN
    UPDATE round SET bowls = bowls + 1, fish_held = fish_held + coalesce(NEW.expected, 0)
    WHERE id = NEW.round;
END;
CREATE TRIGGER bowl_decided
AFTER UPDATE OF expected, fish_open, fish_keep, fish_hold, fish_reject, fish_changed ON bowl
WHEN NEW.retired_ms IS NULL BEGIN
    UPDATE round SET
        fish_held = fish_held
            + max(coalesce(NEW.expected, 0),
                NEW.fish_open + NEW.fish_keep + NEW.fish_hold + NEW.fish_reject)
            - max(coalesce(OLD.expected, 0),
                OLD.fish_open + OLD.fish_keep + OLD.fish_hold + OLD.fish_reject),
        fish_open = fish_open + NEW.fish_open - OLD.fish_open,
        fish_keep = fish_keep + NEW.fish_keep - OLD.fish_keep,
        fish_hold = fish_hold + NEW.fish_hold - OLD.fish_hold,
        fish_reject = fish_reject + NEW.fish_reject - OLD.fish_reject,
        fish_changed = fish_changed + NEW.fish_changed - OLD.fish_changed
    WHERE id = NEW.round;
END;
CREATE TRIGGER fish_moved AFTER UPDATE OF bowl ON fish WHEN NEW.bowl <> OLD.bowl BEGIN
    UPDATE bowl SET
        (fish_open, fish_keep, fish_hold, fish_reject, fish_changed, first_ms, last_ms) =
        (SELECT count(*) FILTER (WHERE verdict = 'open'), count(*) FILTER (WHERE verdict = 'keep'),
            count(*) FILTER (WHERE verdict = 'hold'), count(*) FILTER (WHERE verdict = 'reject'),
            count(*) FILTER (WHERE changed), min(first_ms),
            max(max(first_ms, coalesce(closed_ms, first_ms)))
         FROM fish WHERE fish.bowl = bowl.id)
    WHERE id IN (NEW.bowl, OLD.bowl);
END;
-- Instants only move apart, but where a stroke is taken back: then they are looked for anew.
CREATE TRIGGER fish_dated AFTER UPDATE OF first_ms, closed_ms ON fish
WHEN NEW.first_ms < coalesce(OLD.first_ms, NEW.first_ms + 1)
    OR NEW.closed_ms > coalesce(OLD.closed_ms, 0) BEGIN
    UPDATE bowl SET
        first_ms = min(coalesce(first_ms, NEW.first_ms), NEW.first_ms),
        last_ms = max(coalesce(last_ms, NEW.first_ms), NEW.first_ms,
            coalesce(NEW.closed_ms, NEW.first_ms))
    WHERE id = NEW.bowl;
END;
CREATE TRIGGER fish_dated_anew AFTER UPDATE OF first_ms, closed_ms ON fish
WHEN OLD.first_ms IS NOT NULL AND (NEW.first_ms IS NULL OR NEW.first_ms > OLD.first_ms
    OR coalesce(NEW.closed_ms, 0) < coalesce(OLD.closed_ms, 0)) BEGIN
    UPDATE bowl SET (first_ms, last_ms) =
        (SELECT min(first_ms), max(max(first_ms, coalesce(closed_ms, first_ms)))
         FROM fish WHERE bowl = NEW.bowl)
    WHERE id = NEW.bowl;
END;
CREATE TRIGGER bowl_dated AFTER UPDATE OF first_ms, last_ms ON bowl
WHEN NEW.retired_ms IS NULL AND (NEW.first_ms < coalesce(OLD.first_ms, NEW.first_ms + 1)
    OR NEW.last_ms > coalesce(OLD.last_ms, 0)) BEGIN
    UPDATE round SET
        first_ms = min(coalesce(first_ms, NEW.first_ms), NEW.first_ms),
        last_ms = max(coalesce(last_ms, NEW.last_ms), NEW.last_ms)
    WHERE id = NEW.round;
END;
CREATE TRIGGER bowl_dated_anew AFTER UPDATE OF first_ms, last_ms ON bowl
WHEN OLD.first_ms IS NOT NULL AND (NEW.first_ms IS NULL OR NEW.first_ms > OLD.first_ms
    OR NEW.last_ms < OLD.last_ms) BEGIN
    UPDATE round SET
        first_ms = iif(NEW.first_ms IS OLD.first_ms OR first_ms < OLD.first_ms, first_ms,
            (SELECT min(first_ms) FROM bowl WHERE round = NEW.round AND retired_ms IS NULL)),
        last_ms = iif(NEW.last_ms IS OLD.last_ms OR last_ms > OLD.last_ms, last_ms,
            (SELECT max(last_ms) FROM bowl WHERE round = NEW.round AND retired_ms IS NULL))
    WHERE id = NEW.round;
END;
-- A round counts its live bowls.
CREATE TRIGGER bowl_retired AFTER UPDATE OF retired_ms, round ON bowl BEGIN
    UPDATE round SET
        (bowls, fish_held, fish_open, fish_keep, fish_hold, fish_reject, fish_changed, first_ms,
            last_ms) =
        (SELECT count(*), coalesce(sum(max(coalesce(bowl.expected, 0),
                fish_open + fish_keep + fish_hold + fish_reject)), 0),
            coalesce(sum(fish_open), 0), coalesce(sum(fish_keep), 0),
            coalesce(sum(fish_hold), 0), coalesce(sum(fish_reject), 0),
            coalesce(sum(fish_changed), 0), min(first_ms), max(last_ms)
         FROM bowl WHERE bowl.round = round.id AND retired_ms IS NULL)
    WHERE id IN (NEW.round, OLD.round);
END;

-- One key at the sheet, or one imported row (docs/decisions/strokes.md). NULL in the columns from
-- `scores` on says nothing; all that a key says is one row, for a key must be quick and a round small.
CREATE TABLE stroke (
    id         INTEGER PRIMARY KEY,
    fish       INTEGER NOT NULL REFERENCES fish (id) ON DELETE RESTRICT, -- of which
    judge      INTEGER REFERENCES judge (id) ON DELETE RESTRICT, -- who did it
    look       INTEGER NOT NULL CHECK (look > 0), -- 1 = the first look at the fish, 2 = the second, …
    seq        INTEGER NOT NULL CHECK (seq > 0),  -- 1 + the highest of this look known at the time
    checking   INTEGER NOT NULL CHECK (checking = 0 OR checking = 1),
        -- 1 = a second sorter's check, never decides
    correction INTEGER NOT NULL CHECK (correction = 0 OR correction = 1),
        -- 1 = the fish had been closed before
    at_ms      INTEGER NOT NULL, -- when
    undoes     INTEGER REFERENCES stroke (id) ON DELETE RESTRICT, -- the stroke it takes back
    standard   INTEGER REFERENCES standard_version (id) ON DELETE RESTRICT,
        -- the version that gives scores and faults their order
    scores     TEXT, -- a character an aspect: '0'-'9', 'X' = 10, '-' = taken away, '.' = not touched
    faults     TEXT, -- a character a fault: '+' = seen, '-' = taken away, '.' = not touched; whoever
        -- reads a stroke looks at each character of both, so that writing one need not
    verdict    TEXT CHECK (verdict = 'open' OR verdict = 'keep' OR verdict = 'hold'
                   OR verdict = 'reject'), -- given by hand; 'open' takes it away
    reason     TEXT, -- why by hand
    closes     TEXT CHECK (closes = 'open' OR closes = 'keep' OR closes = 'hold'
                   OR closes = 'reject' OR closes = 'places'),
        -- the fish was put away; the verdict shown then, 'places' = hold, since no place was left
    length_mm  INTEGER CHECK (length_mm BETWEEN 0 AND 2000), -- 0 takes it away
    tag        TEXT, -- '' takes it away
    note       TEXT, -- free text; '' takes it away
    CHECK (undoes <> id),
    CHECK (standard IS NOT NULL OR (scores IS NULL AND faults IS NULL))
) STRICT;
CREATE INDEX stroke_order ON stroke (fish, look, seq);
CREATE INDEX stroke_undoes ON stroke (undoes) WHERE undoes IS NOT NULL;
CREATE INDEX stroke_tag ON stroke (tag) WHERE tag IS NOT NULL;

-- Where each judge's cursor is; what an interrupted session comes back to.
CREATE TABLE place (
    judge       INTEGER PRIMARY KEY, -- 0 = a judge who gave no name
    round       INTEGER NOT NULL REFERENCES round (id) ON DELETE CASCADE, -- in which
    bowl        INTEGER REFERENCES bowl (id) ON DELETE CASCADE, -- in which; NULL = none yet
    number      INTEGER NOT NULL, -- of the fish in its bowl; it need not be there yet
    aspect      TEXT NOT NULL,    -- code of the selected aspect, '' = the first open one
    second_look INTEGER NOT NULL CHECK (second_look = 0 OR second_look = 1), -- 1 = held fish
    in_sheet    INTEGER NOT NULL CHECK (in_sheet = 0 OR in_sheet = 1), -- 1 = the sheet was open
    revision    INTEGER NOT NULL  -- highest = written last
) STRICT;

-- One application of a standard to a round.
CREATE TABLE pass (
    id          INTEGER PRIMARY KEY,
    round       INTEGER NOT NULL REFERENCES round (id) ON DELETE RESTRICT, -- to which
    revision    INTEGER NOT NULL CHECK (revision > 0), -- among the passes of the round
    standard    INTEGER NOT NULL REFERENCES standard_version (id) ON DELETE RESTRICT, -- version used
    places      INTEGER CHECK (places >= 0), -- NULL = no limit
    unit        INTEGER NOT NULL CHECK (unit > 0), -- the standard's denominator
    judge       INTEGER REFERENCES judge (id) ON DELETE RESTRICT, -- who ran it
    at_ms       INTEGER NOT NULL, -- when
    fish_open   INTEGER NOT NULL, -- fish by what was decided of them
    fish_keep   INTEGER NOT NULL,
    fish_hold   INTEGER NOT NULL,
    fish_reject INTEGER NOT NULL
) STRICT;
CREATE INDEX pass_round ON pass (round, revision);

-- What a pass decided; readable without the standard. Its reasons stand once each, for thousands of
-- fish share a few.
CREATE TABLE decision_reason (
    pass    INTEGER NOT NULL REFERENCES pass (id) ON DELETE RESTRICT, -- which
    number  INTEGER NOT NULL CHECK (number > 0), -- among the reasons of the pass
    reason  TEXT NOT NULL, -- first rule that applied, as files have it
    label   TEXT NOT NULL, -- the same for people
    PRIMARY KEY (pass, number)
) STRICT, WITHOUT ROWID;
CREATE TABLE decision (
    pass    INTEGER NOT NULL, -- which
    fish    INTEGER NOT NULL REFERENCES fish (id) ON DELETE RESTRICT, -- of which
    verdict TEXT NOT NULL CHECK (verdict = 'open' OR verdict = 'keep' OR verdict = 'hold'
                OR verdict = 'reject'),
    reason  INTEGER NOT NULL, -- number among the pass's reasons
    score   INTEGER CHECK (score >= 0), -- in 1/unit points
    rank    INTEGER CHECK (rank > 0),   -- 1 = best
    judgement_key INTEGER NOT NULL, -- what was decided on, as fish has it: it stands as long as that does
    PRIMARY KEY (pass, fish),
    CHECK ((score IS NULL) = (rank IS NULL)),
    FOREIGN KEY (pass, reason) REFERENCES decision_reason (pass, number) ON DELETE RESTRICT
) STRICT, WITHOUT ROWID;

-- The numbers of a round as somebody stated them: what is known is the last number stated. The
-- key's columns stand first and in its order: else SQLite 3.40's checks see NULL where there is none.
CREATE TABLE round_count (
    round       INTEGER NOT NULL REFERENCES round (id) ON DELETE RESTRICT, -- of which
    revision    INTEGER NOT NULL CHECK (revision > 0), -- among the statements about the round
    at_ms       INTEGER NOT NULL, -- when it was stated
    id          INTEGER NOT NULL,
    in_number   INTEGER CHECK (in_number >= 0), -- fish that went into the round; NULL = not stated
    in_method   TEXT CHECK (in_method = 'counted' OR in_method = 'weighed'
                    OR in_method = 'displaced' OR in_method = 'scooped' OR in_method = 'estimated'),
        -- how the number was made; NULL = not said
    in_cv       INTEGER CHECK (in_cv BETWEEN 0 AND 1000000), -- relative standard error, millionths
    kept_number INTEGER CHECK (kept_number >= 0), -- fish that went on
    kept_method TEXT CHECK (kept_method = 'counted' OR kept_method = 'weighed'
                    OR kept_method = 'displaced' OR kept_method = 'scooped'
                    OR kept_method = 'estimated'),
    kept_cv     INTEGER CHECK (kept_cv BETWEEN 0 AND 1000000),
    rejected    INTEGER CHECK (rejected >= 0), -- fish taken out
    dead        INTEGER CHECK (dead >= 0),     -- fish found dead
    day         TEXT CHECK (day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'), -- of the round
    note        TEXT NOT NULL,    -- '' = none
    judge       INTEGER REFERENCES judge (id) ON DELETE RESTRICT, -- who stated it
    PRIMARY KEY (round, revision, at_ms, id),
    CHECK (in_number IS NOT NULL OR (in_method IS NULL AND in_cv IS NULL)),
    CHECK (kept_number IS NOT NULL OR (kept_method IS NULL AND kept_cv IS NULL)),
    CHECK (in_method IS NOT 'counted' OR in_cv IS NULL),
    CHECK (kept_method IS NOT 'counted' OR kept_cv IS NULL)
) STRICT, WITHOUT ROWID;

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

-- Pick and remove rounds: one key at the tally.
CREATE TABLE tally_stroke (
    id     INTEGER PRIMARY KEY,
    round  INTEGER NOT NULL REFERENCES round (id) ON DELETE RESTRICT, -- of which
    judge  INTEGER REFERENCES judge (id) ON DELETE RESTRICT, -- who pressed it
    kind   TEXT CHECK (kind = 'keep' OR kind = 'reject' OR kind = 'dead'),
        -- NULL = it takes another one back
    reason TEXT NOT NULL DEFAULT '', -- of a reject: the fault's code; '' = not said; of a fish kept
        -- in a closer look at basins: 'stays' = it lies in the keep basin already
    scoop  INTEGER REFERENCES scoop (id) ON DELETE RESTRICT, -- NULL = one fish
    at_ms  INTEGER NOT NULL, -- when
    undoes INTEGER REFERENCES tally_stroke (id) ON DELETE RESTRICT, -- the key it takes back
    CHECK (undoes <> id),
    CHECK ((undoes IS NULL) = (kind IS NOT NULL)),
    CHECK (undoes IS NULL OR (scoop IS NULL AND reason = '')),
    CHECK (reason = '' OR kind = 'reject' OR (kind = 'keep' AND reason = 'stays'))
) STRICT;
CREATE INDEX tally_stroke_round ON tally_stroke (round, judge, at_ms);
CREATE INDEX tally_stroke_undoes ON tally_stroke (undoes) WHERE undoes IS NOT NULL;

-- First look: some fish of a lot, taken at random before a round begins, are called good or not.
CREATE TABLE first_look_stroke (
    id     INTEGER PRIMARY KEY,
    round  INTEGER NOT NULL REFERENCES round (id) ON DELETE RESTRICT, -- the cull that is considered
    judge  INTEGER REFERENCES judge (id) ON DELETE RESTRICT, -- who looked
    good   INTEGER CHECK (good = 0 OR good = 1), -- 1 = worth raising; NULL = it takes another one back
    at_ms  INTEGER NOT NULL, -- when
    undoes INTEGER REFERENCES first_look_stroke (id) ON DELETE RESTRICT, -- the key it takes back
    CHECK (undoes <> id),
    CHECK ((undoes IS NULL) = (good IS NOT NULL))
) STRICT;
CREATE INDEX first_look_round ON first_look_stroke (round, judge, at_ms);
CREATE INDEX first_look_undoes ON first_look_stroke (undoes) WHERE undoes IS NOT NULL;

-- What happens to a lot outside its culls: it is counted, moved, split, put together with others;
-- fish die, are lost, are found. Their order is day, revision, instant, id; on one day a cull comes
-- before the events of its lot.
CREATE TABLE lot_event (
    id       INTEGER PRIMARY KEY,
    lot      INTEGER NOT NULL REFERENCES lot (id) ON DELETE RESTRICT, -- to which
    revision INTEGER NOT NULL CHECK (revision > 0), -- among the events of its lots
    day      TEXT NOT NULL CHECK (day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'), -- when
    kind     TEXT CHECK (kind = 'count' OR kind = 'dead' OR kind = 'lost' OR kind = 'found'
                 OR kind = 'move' OR kind = 'transfer'), -- NULL = it takes another one back
    number   INTEGER CHECK (number >= 0), -- fish; NULL = move: none is said, transfer: all there were
    method   TEXT CHECK (method = 'counted' OR method = 'weighed' OR method = 'displaced'
                 OR method = 'scooped' OR method = 'estimated'),
        -- how the number was made; NULL = not said
    cv       INTEGER CHECK (cv BETWEEN 0 AND 1000000), -- its relative standard error, millionths
    target   INTEGER REFERENCES lot (id) ON DELETE RESTRICT, -- transfer: the lot they were put into
    pond     TEXT NOT NULL DEFAULT '' CHECK (length(pond) <= 32), -- move: where the lot is from now on
    note     TEXT NOT NULL DEFAULT '', -- free text
    judge    INTEGER REFERENCES judge (id) ON DELETE RESTRICT, -- who said it
    at_ms    INTEGER NOT NULL, -- when it was said
    undoes   INTEGER REFERENCES lot_event (id) ON DELETE RESTRICT, -- the event it takes back
    corrects INTEGER REFERENCES lot_event (id) ON DELETE RESTRICT, -- one taken back, said again
    CHECK (undoes <> id),
    CHECK (corrects <> id),
    CHECK (undoes IS NULL OR corrects IS NULL),
    CHECK ((undoes IS NULL) = (kind IS NOT NULL)),
    CHECK (target <> lot),
    CHECK ((kind IS 'transfer') = (target IS NOT NULL)),
    CHECK ((kind IS 'move') = (pond <> '')),
    CHECK (kind IS NULL OR kind = 'move' OR kind = 'transfer' OR number IS NOT NULL),
    CHECK (number IS NOT NULL OR (method IS NULL AND cv IS NULL)),
    CHECK (number IS NULL OR kind IS NOT 'move'),
    CHECK (method IS NOT 'counted' OR cv IS NULL)
) STRICT;
CREATE INDEX lot_event_lot ON lot_event (lot, day, revision);
CREATE INDEX lot_event_target ON lot_event (target) WHERE target IS NOT NULL;
CREATE INDEX lot_event_day ON lot_event (day);
CREATE INDEX lot_event_undoes ON lot_event (undoes) WHERE undoes IS NOT NULL;

-- What a record began with, and every change of it. The last entry about a field is what stands: a
-- join works the records out anew from this log.
CREATE TABLE audit_log (
    id        INTEGER PRIMARY KEY,
    kind      TEXT NOT NULL CHECK (kind = 'judge' OR kind = 'variety' OR kind = 'parent'
                  OR kind = 'spawning' OR kind = 'lot' OR kind = 'round' OR kind = 'bowl'
                  OR kind = 'fish' OR kind = 'station'), -- which table
    record    INTEGER NOT NULL, -- id of the row there
    field     TEXT NOT NULL,    -- name of the field
    old_value TEXT,             -- before; '' = unknown, NULL = the record began with it
    new_value TEXT NOT NULL,    -- after
    value     ANY,              -- after, as its column has it: a key where it names a record
    revision  INTEGER NOT NULL CHECK (revision > 0), -- 1 + entries about the field known at the time
    at_ms     INTEGER NOT NULL, -- when; after all that was known of the field at the time
    judge     INTEGER REFERENCES judge (id) ON DELETE RESTRICT, -- who
    why       TEXT NOT NULL     -- '' = not said
) STRICT;
CREATE INDEX audit_log_record ON audit_log (record, field, at_ms);

-- Where the rejects of a round went, in numbers: of each fate the last statement is what is known. A
-- round's `fate` says where all go of whom nothing is stated. Release to open water is no fate.
CREATE TABLE reject_fate (
    round    INTEGER NOT NULL REFERENCES round (id) ON DELETE RESTRICT, -- of which
    revision INTEGER NOT NULL CHECK (revision > 0), -- among the statements about the round
    at_ms    INTEGER NOT NULL, -- when it was stated
    id       INTEGER NOT NULL,
    fate     TEXT NOT NULL CHECK (fate = 'pond-grade' OR fate = 'passed-on' OR fate = 'kept-apart'
                 OR fate = 'put-down'),
    number   INTEGER CHECK (number >= 0), -- fish; NULL = nothing is known any more
    method   TEXT CHECK (method = 'counted' OR method = 'weighed' OR method = 'displaced'
                 OR method = 'scooped' OR method = 'estimated'),
        -- how the number was made; NULL = not said
    cv       INTEGER CHECK (cv BETWEEN 0 AND 1000000), -- its relative standard error, millionths
    day      TEXT CHECK (day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'), -- when they went
    note     TEXT NOT NULL DEFAULT '', -- free text
    judge    INTEGER REFERENCES judge (id) ON DELETE RESTRICT, -- who stated it
    PRIMARY KEY (round, revision, at_ms, id),
    CHECK (number IS NOT NULL OR (method IS NULL AND cv IS NULL)),
    CHECK (method IS NOT 'counted' OR cv IS NULL)
) STRICT, WITHOUT ROWID;
