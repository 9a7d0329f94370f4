/* The registry of SQL. Every statement of the program stands here once, as a static text: what is
 * asked of the ledger can be read in one place, a test prepares all of it on a new ledger, and no
 * statement is ever put together from values. Parts that several statements share are macros. */
#include "statements.h"

/* Strokes that count: neither taken back nor taking back. `s` is the stroke. */
#define COUNTS_IN(table)                                                                           \
    " s.undoes IS NULL AND NOT EXISTS (SELECT 1 FROM " table " AS u WHERE u.undoes = s.id) "
#define COUNTS COUNTS_IN("stroke")
#define DECIDES " NOT s.checking AND" COUNTS
#define TALLY_COUNTS COUNTS_IN("tally_stroke")
#define LOT_EVENT_COUNTS                                                                           \
    " e.undoes IS NULL AND NOT EXISTS (SELECT 1 FROM lot_event AS u WHERE u.undoes = e.id) "
#define IN_ORDER " s.look, s.seq, s.id "

#define STANDARD_COLUMNS "SELECT v.id, v.version, v.origin, v.text FROM standard_version AS v "
/* The latest version of each name; of two stations' same number the later one. */
#define STANDARD_LATEST                                                                            \
    " NOT EXISTS (SELECT 1 FROM standard_version AS w WHERE w.name = v.name"                       \
    " AND (w.version, w.at_ms, w.id) > (v.version, v.at_ms, v.id)) "

/* Of a mixed lot whose spawnings are all of one variety, that one. */
#define ROUND_VARIETY                                                                              \
    " coalesce(s.variety, (SELECT iif(min(m.variety) = max(m.variety), min(m.variety), '')"        \
    "  FROM lot_source AS ls JOIN spawning AS m ON m.id = ls.spawning WHERE ls.lot = l.id))"

#define ROUND_COLUMNS                                                                              \
    "SELECT r.id, s.id, l.id, s.code," ROUND_VARIETY                                               \
    ", l.code, l.own, s.season, r.stage, r.manner,"                                                \
    " r.waiting, r.fate, r.places, r.expected, r.standard "                                        \
    "FROM round AS r JOIN lot AS l ON l.id = r.lot LEFT JOIN spawning AS s ON s.id = l.spawning "
/* Stages in the order of the season, not of the alphabet. */
#define STAGE_ORDER " instr('black first second third fourth harvest house', r.stage) "
#define ROUND_ORDER " ORDER BY s.season DESC, s.code, " STAGE_ORDER ", l.own DESC, l.code, r.id"

#define COUNT_COLUMNS                                                                              \
    " c.in_number, c.in_method, c.in_cv, c.kept_number, c.kept_method, c.kept_cv, c.rejected, "    \
    "c.dead, c.day, c.note"

/* Of bowls and rounds: kept by triggers (migrations/0001_ledger.sql). */
#define FISH_COUNTERS " fish_open, fish_keep, fish_hold, fish_reject, first_ms, last_ms "
#define BOWL_COLUMNS                                                                               \
    "SELECT b.id, b.round, b.number, b.expected, b.day," FISH_COUNTERS "FROM bowl AS b "
/* This station's own where two stations have the same number. */
#define OWN_FIRST(id) " ORDER BY " id " >> 32 = (SELECT station FROM ledger) DESC, " id " LIMIT 1"

/* A replay needs its rows fish by fish, each fish's strokes in their order. */
#define REPLAY_COLUMNS                                                                             \
    " f.id, b.id, b.number, f.number, s.look, s.at_ms, s.standard, s.scores, s.faults, s.verdict," \
    " s.reason, s.closes, s.length_mm, s.tag, s.note "
#define REPLAY_JOIN "LEFT JOIN stroke AS s ON s.fish = f.id AND" DECIDES
#define REPLAY_ORDER " ORDER BY b.number, b.id, f.number, f.id," IN_ORDER

#define FISH(t) " " t ".fish_open + " t ".fish_keep + " t ".fish_hold + " t ".fish_reject "
/* How many fish of a round `r` have one of some verdicts by its latest pass `p`. */
#define LATEST_DECISIONS(by_pass, so_far, verdicts)                                                \
    " CASE WHEN p.id IS NULL THEN r.fish_" so_far " ELSE p.fish_" by_pass                          \
    " + iif(" FISH("r") "=" FISH(                                                                  \
        "p") ", 0, (SELECT count(*) FROM bowl AS b"                                                \
             " JOIN fish AS f ON f.bowl = b.id WHERE b.round = r.id AND f.verdict " verdicts       \
             " AND NOT EXISTS (SELECT 1 FROM decision AS d WHERE d.pass = p.id AND d.fish = "      \
             "f.id))) END "

/* The key of a round that its judge pressed last, on this station, and has not taken back. */
#define LAST_OWN(table)                                                                            \
    "SELECT s.id FROM " table " AS s WHERE s.round = ? AND s.judge IS ? AND"                       \
    " s.id >> 32 = (SELECT station FROM ledger) AND" COUNTS_IN(table) "ORDER BY s.id DESC LIMIT 1"

/* Keys of a round that take back one of another round, or one that is itself taking back. */
#define UNDO_ELSEWHERE(table)                                                                      \
    "SELECT l.code, r.stage FROM " table " AS u JOIN " table " AS s ON s.id = u.undoes "           \
    "JOIN round AS r ON r.id = u.round JOIN lot AS l ON l.id = r.lot "                             \
    "WHERE s.round <> u.round OR s.undoes IS NOT NULL ORDER BY u.id"

/* When a fish was first looked at, and when and by whom it was last closed, from its strokes. */
#define LAST_CLOSING(column)                                                                       \
    " (SELECT " column                                                                             \
    " FROM stroke AS s WHERE s.fish = fish.id AND s.closes IS NOT NULL AND" DECIDES                \
    "ORDER BY s.look DESC, s.seq DESC, s.id DESC LIMIT 1) "
#define INSTANTS                                                                                   \
    " (SELECT s.at_ms FROM stroke AS s WHERE s.fish = fish.id AND" DECIDES "ORDER BY" IN_ORDER     \
    "LIMIT 1)," LAST_CLOSING("s.at_ms") "," LAST_CLOSING("s.judge")

/* The counters of a bowl (`fish` is the table) and of a round (`bowl`), counted anew. */
#define BOWL_COUNTED                                                                               \
    " (SELECT count(*) FILTER (WHERE verdict = 'open'), count(*) FILTER (WHERE verdict = 'keep')," \
    " count(*) FILTER (WHERE verdict = 'hold'), count(*) FILTER (WHERE verdict = 'reject'),"       \
    " min(first_ms), max(max(first_ms, coalesce(closed_ms, first_ms)))"                            \
    " FROM fish WHERE fish.bowl = bowl.id) "
#define ROUND_COUNTED                                                                              \
    " (SELECT coalesce(sum(fish_open), 0), coalesce(sum(fish_keep), 0),"                           \
    " coalesce(sum(fish_hold), 0), coalesce(sum(fish_reject), 0), min(first_ms), max(last_ms)"     \
    " FROM bowl WHERE bowl.round = round.id) "

#define UNDOABLE                                                                                   \
    "SELECT s.id, s.fish FROM bowl AS b JOIN fish AS f ON f.bowl = b.id "                          \
    "JOIN stroke AS s ON s.fish = f.id AND" DECIDES
/* Another station's strokes came before the two were joined; serials tell the order of our own. */
#define UNDOABLE_ORDER                                                                             \
    " ORDER BY s.id >> 32 = (SELECT station FROM ledger),"                                         \
    " CASE WHEN s.id >> 32 = (SELECT station FROM ledger) THEN 0 ELSE s.at_ms END, s.id"

#define PLACE_COLUMNS "SELECT judge, round, bowl, number, aspect, second_look, in_sheet FROM place "

const char *const sql_texts[SQL_COUNT] = {
    [SQL_BEGIN] = "BEGIN IMMEDIATE",
    [SQL_COMMIT] = "COMMIT",
    [SQL_ROLLBACK] = "ROLLBACK",

    [SQL_STATION_NOW] = "SELECT n.number, n.host, n.device, n.inode FROM ledger AS l "
                        "JOIN station AS n ON n.number = l.station",
    [SQL_STATION_TAKEN] = "SELECT 1 FROM station WHERE number = ?",
    [SQL_STATION_ADD] =
        "INSERT INTO station (number, identity, name, host, device, inode, born_ms) "
        "VALUES (?, ?, ?, ?, ?, ?, ?)",
    [SQL_STATION_CHOOSE] = "INSERT INTO ledger (one, station) VALUES (1, ?) "
                           "ON CONFLICT (one) DO UPDATE SET station = excluded.station",
    [SQL_LAST_ID] = "SELECT number << 32 | serial FROM station"
                    " WHERE number = (SELECT station FROM ledger)",
    [SQL_LAST_ID_SAVE] = "UPDATE station SET serial = ?1 - (number << 32)"
                         " WHERE number = (SELECT station FROM ledger)",
    [SQL_MIGRATION_ADD] = "INSERT INTO migration (version, name, checksum, at_ms, program) "
                          "VALUES (?, ?, ?, ?, ?)",
    [SQL_MIGRATION_LIST] = "SELECT version, checksum FROM migration ORDER BY version",

    [SQL_JUDGE_NAMED] = "SELECT id FROM judge WHERE name = ?",
    [SQL_JUDGE_ADD] = "INSERT INTO judge (id, name) VALUES (?, ?)",
    [SQL_JUDGE_LIST] = "SELECT id, name FROM judge ORDER BY name",
    [SQL_AUDIT_LOG_ADD] =
        "INSERT INTO audit_log (id, kind, record, field, old_value, new_value, at_ms, judge, why) "
        "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",

    /* {…} is written out from the record's table of columns: record_sql. */
    [SQL_PARENT_NAMED] = "SELECT id, {parent} FROM parent WHERE code = ?",
    [SQL_PARENT_LIST] = "SELECT id, {parent} FROM parent ORDER BY code",
    [SQL_PARENT_ADD] = "INSERT INTO parent (id, {parent names}) VALUES (?, {parent values})",
    [SQL_PARENT_CHANGE] =
        "UPDATE parent SET (id, {parent names}) = (?, {parent values}) WHERE id = ?1",
    /* Whether a fish is somewhere a dam (?2 = 1) or a sire (?2 = 0), and of what. */
    [SQL_PARENT_ROLE] =
        "SELECT code FROM parent WHERE CASE WHEN ?2 THEN dam ELSE sire END = ?1 "
        "UNION ALL SELECT code FROM spawning WHERE ?2 AND dam = ?1 "
        "UNION ALL SELECT s.code FROM spawning AS s JOIN spawning_sire AS ss ON ss.spawning = "
        "s.id "
        "WHERE NOT ?2 AND ss.sire = ?1 LIMIT 1",
    /* Whether ?1 is ?2 or one of its ancestors. */
    [SQL_PARENT_IS_ANCESTOR] = "WITH RECURSIVE line (code, dam, sire) AS ("
                               " SELECT code, dam, sire FROM parent WHERE code = ?2 UNION"
                               " SELECT p.code, p.dam, p.sire FROM line AS l JOIN parent AS p "
                               "ON p.id IN (l.dam, l.sire)) "
                               "SELECT 1 FROM line WHERE code = ?1 LIMIT 1",

    [SQL_SPAWNING_NAMED] = "SELECT id, {spawning} FROM spawning WHERE code = ?",
    [SQL_SPAWNING_LIST] = "SELECT id, {spawning} FROM spawning ORDER BY season DESC, date, code",
    [SQL_SPAWNING_ADD] =
        "INSERT INTO spawning (id, {spawning names}) VALUES (?, {spawning values})",
    [SQL_SPAWNING_CHANGE] =
        "UPDATE spawning SET (id, {spawning names}) = (?, {spawning values}) WHERE id = ?1",
    [SQL_SIRES_CLEAR] = "DELETE FROM spawning_sire WHERE spawning = ?",
    [SQL_SIRE_ADD] = "INSERT INTO spawning_sire (spawning, sire) "
                     "SELECT ?, id FROM parent WHERE code = ? ON CONFLICT DO NOTHING",
    [SQL_LOT_NAMED] = "SELECT id FROM lot WHERE spawning = ?1 AND CASE WHEN ?2 = '' THEN own "
                      "ELSE code = ?2 END",
    [SQL_LOT_MIXED] = "SELECT id FROM lot WHERE spawning IS NULL AND code = ?",
    [SQL_LOT_ADD] = "INSERT INTO lot (id, code, spawning, own) VALUES (?, ?, ?, ?)",
    [SQL_LOT_SOURCE_ADD] = "INSERT INTO lot_source (lot, spawning) VALUES (?, ?)",

    [SQL_LOT_SOURCES] = "SELECT spawning FROM lot_source WHERE lot = ?",
    [SQL_LOT_SOURCE_CODES] = "SELECT s.code FROM lot_source AS ls JOIN spawning AS s ON "
                             "s.id = ls.spawning WHERE ls.lot = ? ORDER BY s.code",
    /* Fish of which spawning do not belong in the lot ?2, though they are in ?1. */
    [SQL_LOT_STRANGERS] = "SELECT s.code FROM lot_source AS ls JOIN spawning AS s ON "
                          "s.id = ls.spawning WHERE ls.lot = ?1 AND ls.spawning NOT IN"
                          " (SELECT spawning FROM lot_source WHERE lot = ?2) ORDER BY s.code",
    [SQL_LOT_EVENTS] =
        "SELECT e.id, e.lot, l.code, t.id, t.code, e.day, e.kind, e.number, e.method, e.cv, e.pond,"
        " e.note, NOT (" LOT_EVENT_COUNTS "), e.revision FROM lot_event AS e "
        "JOIN lot AS l ON l.id = e.lot LEFT JOIN lot AS t ON t.id = e.target "
        "WHERE e.undoes IS NULL AND e.target IS t.id ORDER BY e.day, e.revision, e.at_ms, e.id",
    [SQL_LOT_EVENT_REVISION] =
        "SELECT max(revision) FROM lot_event WHERE lot IN (?1, ?2) OR target IN (?1, ?2)",
    [SQL_LOT_EVENT_ADD] =
        "INSERT INTO lot_event (id, lot, revision, day, kind, number, method, cv, target, pond, "
        "note,"
        " judge, at_ms, undoes) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
    [SQL_LOT_EVENT_LAST] =
        "SELECT e.id FROM lot_event AS e WHERE (e.lot = ?1 OR e.target = ?1) "
        "AND" LOT_EVENT_COUNTS "ORDER BY e.revision DESC, e.at_ms DESC, e.id DESC "
        "LIMIT 1",
    [SQL_LOT_EVENT_LATEST] =
        "SELECT at_ms FROM lot_event WHERE id BETWEEN (SELECT station << 32 FROM ledger)"
        " AND (SELECT (station + 1 << 32) - 1 FROM ledger) ORDER BY id DESC LIMIT 1",
    /* What was recorded as one batch: all transfers of lots that were put together, and of a split
       the new lot's pond. */
    [SQL_LOT_EVENTS_TOGETHER] =
        "SELECT e.id FROM lot_event AS o JOIN lot_event AS e ON e.id = o.id OR"
        " (e.at_ms = o.at_ms AND e.id >> 32 = o.id >> 32 AND e.day = o.day AND CASE"
        "  WHEN o.kind = 'move' THEN e.target = o.lot"
        "  WHEN e.kind = 'move' THEN e.lot = o.target"
        "  ELSE e.target = o.target AND e.number IS NULL AND o.number IS NULL END) "
        "WHERE o.id = ? AND" LOT_EVENT_COUNTS "ORDER BY e.id",
    [SQL_LOT_ORIGINS] =
        "SELECT l.id, l.code, l.own, l.spawning, s.code, s.season, s.variety, s.hatched,"
        " d.code "
        "FROM lot AS l LEFT JOIN spawning AS s ON s.id = l.spawning "
        "LEFT JOIN parent AS d ON d.id = s.dam ORDER BY l.id",
    [SQL_LOT_ORIGIN_SIRES] =
        "SELECT l.id, p.code FROM parent AS p CROSS JOIN spawning_sire AS ss ON "
        "ss.sire = p.id CROSS JOIN lot AS l ON l.spawning = ss.spawning "
        "ORDER BY p.code",
    [SQL_LOT_ORIGIN_SOURCES] =
        "SELECT l.id, s.code, s.season, s.variety FROM lot AS l "
        "JOIN lot_source AS ls ON ls.lot = l.id JOIN spawning AS s ON s.id = "
        "ls.spawning WHERE l.spawning IS NULL ORDER BY s.code",

    [SQL_STANDARD_ADD] =
        "INSERT INTO standard_version (id, name, version, stage, origin, text, at_ms, revision) "
        "VALUES (?, ?, ?, ?, ?, ?, ?, (SELECT coalesce(max(revision), 0) + 1 FROM "
        "standard_version))",
    [SQL_STANDARD_ITEM_ADD] = "INSERT INTO standard_item (standard, kind, position, code, label) "
                              "VALUES (?, ?, ?, ?, ?)",
    [SQL_STANDARD_ITEMS] = "SELECT kind, code FROM standard_item WHERE standard = ? "
                           "ORDER BY kind, position",
    [SQL_STANDARD_NAMED] = STANDARD_COLUMNS
    "WHERE v.name = ? ORDER BY v.version DESC, v.at_ms DESC, v.id DESC LIMIT 1",
    [SQL_STANDARD_BY_ID] = STANDARD_COLUMNS "WHERE v.id = ?",
    [SQL_STANDARD_OF_STAGE] =
        STANDARD_COLUMNS "WHERE v.stage = ? AND" STANDARD_LATEST
                         "ORDER BY v.origin = 'shipped', v.revision DESC, v.at_ms DESC, v.id DESC",
    [SQL_STANDARD_LIST] = STANDARD_COLUMNS "WHERE" STANDARD_LATEST "ORDER BY v.name",

    [SQL_ROUND_BY_ID] = ROUND_COLUMNS "WHERE r.id = ?",
    [SQL_ROUND_OF_LOT] = ROUND_COLUMNS "WHERE r.lot = ? AND r.stage = ?",
    [SQL_ROUNDS_AT_STAGE] =
        ROUND_COLUMNS "JOIN lot_source AS ls ON ls.lot = l.id JOIN spawning AS o ON "
                      "o.id = ls.spawning WHERE o.code = ? AND r.stage = ?" ROUND_ORDER,
    [SQL_ROUNDS_OF_SPAWNING] =
        ROUND_COLUMNS "JOIN lot_source AS ls ON ls.lot = l.id JOIN spawning AS o ON "
                      "o.id = ls.spawning WHERE o.code = ?" ROUND_ORDER,
    [SQL_ROUNDS_ALL] = ROUND_COLUMNS ROUND_ORDER,
    /* ?1 the day, ?2 and ?3 its first instant and the next day's. */
    [SQL_ROUNDS_OF_DAY] = ROUND_COLUMNS
    "WHERE r.id IN (SELECT b.round FROM bowl AS b WHERE b.day = ?1 OR (b.first_ms < ?3"
    " AND b.last_ms >= ?2 AND EXISTS (SELECT 1 FROM fish AS f WHERE f.bowl = b.id"
    " AND f.first_ms >= ?2 AND f.first_ms < ?3)))" ROUND_ORDER,
    [SQL_ROUNDS_BY_STANDARD] = "SELECT id FROM round WHERE standard = ?",
    [SQL_ROUND_ADD] = "INSERT INTO round (id, lot, stage, manner, waiting) VALUES (?, ?, ?, ?, ?)",
    [SQL_ROUND_CHANGE] =
        "UPDATE round SET (waiting, fate, places, expected, standard, manner) = (?, ?, ?, ?, ?, ?) "
        "WHERE id = ?",
    /* A bowl holds what turned up in it where that is more than was counted, or nothing was; only
       of the last bowl nobody can tell yet. */
    [SQL_ROUND_BOWLS] =
        "SELECT count(*), coalesce(iif("
        " max(b.number) = max(b.number) FILTER (WHERE b.expected IS NULL), 0,"
        " sum(max(coalesce(b.expected, 0), fish_open + fish_keep + fish_hold + fish_reject))), 0) "
        "FROM bowl AS b WHERE b.round = ?",
    [SQL_ROUND_FISH] = "SELECT" FISH_COUNTERS "FROM round WHERE id = ?",

    [SQL_ROUND_MANNER] = "SELECT manner, expected FROM round WHERE id = ?",
    [SQL_ROUND_COUNTS] = "SELECT" COUNT_COLUMNS ", c.revision FROM round_count AS c "
                         "WHERE c.round = ? ORDER BY c.revision, c.at_ms, c.id",
    [SQL_ROUND_COUNTS_ALL] = "SELECT c.round," COUNT_COLUMNS " FROM round_count AS c "
                             "ORDER BY c.round, c.revision, c.at_ms, c.id",
    [SQL_ROUND_LOTS] = "SELECT id, lot, stage FROM round ORDER BY id",
    [SQL_ROUND_COUNT_ADD] = "INSERT INTO round_count (id, round, revision, in_number, in_method, "
                            "in_cv, kept_number, kept_method,"
                            " kept_cv, rejected, dead, day, note, judge, at_ms) "
                            "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
    [SQL_REJECT_FATES] = "SELECT fate, number, revision FROM reject_fate WHERE round = ? "
                         "ORDER BY revision, at_ms, id",
    [SQL_REJECT_FATE_ADD] =
        "INSERT INTO reject_fate (id, round, revision, fate, number, judge, at_ms) "
        "VALUES (?, ?, ?, ?, ?, ?, ?)",
    /* A fish's latest decision is that of the round's latest pass, else its verdict so far. A pass
       knows how many fish it decided; only where fish came later are they looked at one by one. */
    [SQL_ROUNDS_JUDGED] = "SELECT r.id," LATEST_DECISIONS(
        "keep + p.fish_hold + p.fish_reject", "keep + r.fish_hold + r.fish_reject",
        "<> 'open'") "," LATEST_DECISIONS("keep", "keep",
                                          "= 'keep'") "," LATEST_DECISIONS("reject", "reject",
                                                                           "= 'reject'") ", "
                                                                                         "r.first_"
                                                                                         "ms,"
                                                                                         " coalesce"
                                                                                         "(r."
                                                                                         "expected,"
                                                                                         " (SELECT "
                                                                                         "CASE "
                                                                                         "WHEN "
                                                                                         "count(*) "
                                                                                         "= "
                                                                                         "count(e."
                                                                                         "expected)"
                                                                                         " "
                                                                                         "  THEN "
                                                                                         "sum(e."
                                                                                         "expected)"
                                                                                         " END "
                                                                                         "FROM "
                                                                                         "bowl AS "
                                                                                         "e WHERE "
                                                                                         "e.round "
                                                                                         "= r.id)) "
                                                                                         "FROM "
                                                                                         "round AS "
                                                                                         "r LEFT "
                                                                                         "JOIN "
                                                                                         "pass AS "
                                                                                         "p ON "
                                                                                         "p.id = "
                                                                                         "(SELECT "
                                                                                         "q.id "
                                                                                         "FROM "
                                                                                         "pass AS q"
                                                                                         " WHERE "
                                                                                         "q.round "
                                                                                         "= r.id "
                                                                                         "ORDER BY "
                                                                                         "q."
                                                                                         "revision "
                                                                                         "DESC, "
                                                                                         "q.at_ms "
                                                                                         "DESC, "
                                                                                         "q.id "
                                                                                         "DESC "
                                                                                         "LIMIT 1) "
                                                                                         "WHER"
                                                                                         "E" FISH(
                                                                                             "r") "> 0 ORDER BY r.id",

    [SQL_BOWL_BY_ID] = BOWL_COLUMNS "WHERE b.id = ?",
    [SQL_BOWL_NUMBERED] = BOWL_COLUMNS "WHERE b.round = ? AND b.number = ?" OWN_FIRST("b.id"),
    [SQL_BOWL_LIST] = BOWL_COLUMNS "WHERE b.round = ? ORDER BY b.number, b.id",
    [SQL_BOWL_ADD] = "INSERT INTO bowl (id, round, number, expected, day) VALUES (?, ?, ?, ?, ?)",
    [SQL_BOWL_EXPECT] = "UPDATE bowl SET expected = ? WHERE id = ?",

    [SQL_FISH_NUMBERED] =
        "SELECT f.id FROM fish AS f WHERE f.bowl = ? AND f.number = ?" OWN_FIRST("f.id"),
    [SQL_FISH_ADD] = "INSERT INTO fish (id, bowl, number) VALUES (?, ?, ?)",
    [SQL_FISH_OF_ID] =
        "SELECT" REPLAY_COLUMNS "FROM fish AS f JOIN bowl AS b ON b.id = f.bowl " REPLAY_JOIN
        "WHERE f.id = ?" REPLAY_ORDER,
    [SQL_FISH_OF_BOWL] =
        "SELECT" REPLAY_COLUMNS "FROM bowl AS b JOIN fish AS f ON f.bowl = b.id " REPLAY_JOIN
        "WHERE b.id = ?" REPLAY_ORDER,
    [SQL_FISH_OF_ROUND] =
        "SELECT" REPLAY_COLUMNS "FROM bowl AS b JOIN fish AS f ON f.bowl = b.id " REPLAY_JOIN
        "WHERE b.round = ?" REPLAY_ORDER,
    /* Strokes of one look add up whoever made them; a check is one sorter's own. */
    [SQL_LOOKS_OF_ROUND] =
        "SELECT s.checking, s.judge, j.name," REPLAY_COLUMNS
        "FROM bowl AS b JOIN fish AS f ON f.bowl = b.id "
        "JOIN stroke AS s ON s.fish = f.id AND" COUNTS "LEFT JOIN judge AS j ON j.id = s.judge "
        "WHERE b.round = ? ORDER BY b.number, b.id, f.number, f.id, s.checking,"
        " CASE WHEN s.checking THEN s.judge END," IN_ORDER,

    [SQL_STROKE_SEQ] = "SELECT max(seq) FROM stroke WHERE fish = ? AND look = ?",
    [SQL_STROKE_ADD] =
        "INSERT INTO stroke (id, fish, judge, look, seq, checking, correction, at_ms, undoes,"
        " standard, scores, faults, verdict, reason, closes, length_mm, tag, note) "
        "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
    [SQL_UNDOABLE_OF_BOWL] = UNDOABLE "WHERE b.round = ? AND b.id = ?" UNDOABLE_ORDER,
    [SQL_UNDOABLE_SECOND_LOOKS] = UNDOABLE "WHERE b.round = ? AND s.look > 1" UNDOABLE_ORDER,
    /* The tag a fish carries is the last one that counts. */
    [SQL_TAG_BEARER] =
        "SELECT b.number, f.number FROM stroke AS t JOIN fish AS f ON f.id = t.fish "
        "JOIN bowl AS b ON b.id = f.bowl AND b.round = ? WHERE t.tag = ? AND t.tag <> ''"
        " AND t.id = (SELECT s.id FROM stroke AS s WHERE s.fish = f.id AND s.tag IS NOT NULL"
        " AND" DECIDES "ORDER BY s.look DESC, s.seq DESC, s.id DESC LIMIT 1) "
        "ORDER BY b.number, f.number LIMIT 1",

    [SQL_SCOOP_ADD] = "INSERT INTO scoop (id, round, judge, samples, fish, squares, at_ms) "
                      "VALUES (?, ?, ?, ?, ?, ?, ?)",
    /* A judge's own scoop before anybody else's. */
    [SQL_SCOOP_LATEST] = "SELECT id, samples, fish, squares FROM scoop WHERE round = ? "
                         "ORDER BY judge IS ? DESC, at_ms DESC, id DESC LIMIT 1",
    [SQL_TALLY_ADD] =
        "INSERT INTO tally_stroke (id, round, judge, kind, reason, scoop, at_ms, undoes) "
        "VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
    [SQL_TALLY_LAST] = LAST_OWN("tally_stroke"),
    [SQL_TALLY_MARK] = "SELECT s.kind, s.reason, c.id, c.samples, c.fish, c.squares "
                       "FROM tally_stroke AS s LEFT JOIN scoop AS c ON c.id = s.scoop "
                       "WHERE s.id = ?",
    [SQL_TALLY_LINES] = "SELECT s.kind, s.reason, c.id, c.samples, c.fish, c.squares, count(*) "
                        "FROM tally_stroke AS s LEFT JOIN scoop AS c ON c.id = s.scoop "
                        "WHERE s.round = ? AND s.at_ms >= ? AND s.at_ms < ? AND" TALLY_COUNTS
                        "GROUP BY s.kind, s.reason, c.id "
                        "ORDER BY s.kind, s.reason, c.id",
    [SQL_TALLY_DAYS] = "SELECT min(s.at_ms), max(s.at_ms) FROM tally_stroke AS s "
                       "WHERE s.round = ? AND" TALLY_COUNTS,
    [SQL_TALLY_ROUNDS] =
        "SELECT DISTINCT s.round FROM tally_stroke AS s WHERE" TALLY_COUNTS "ORDER BY s.round",
    [SQL_TALLY_PACE] = "SELECT s.at_ms, c.id, c.samples, c.fish, c.squares "
                       "FROM tally_stroke AS s LEFT JOIN scoop AS c ON c.id = s.scoop "
                       "WHERE s.round = ? AND s.judge IS ? AND s.at_ms >= ? AND" TALLY_COUNTS
                       "ORDER BY s.at_ms, s.id",

    [SQL_FIRST_LOOK_ADD] = "INSERT INTO first_look_stroke (id, round, judge, good, at_ms, undoes) "
                           "VALUES (?, ?, ?, ?, ?, ?)",
    [SQL_FIRST_LOOK_LAST] = LAST_OWN("first_look_stroke"),
    [SQL_FIRST_LOOK_FISH] =
        "SELECT s.good, s.at_ms FROM first_look_stroke AS s "
        "WHERE s.round = ? AND" COUNTS_IN("first_look_stroke") "ORDER BY s.at_ms, s.id",

    /* Writes nothing where nothing changes. ?6 the stroke's instant, ?7 the same where it closes.
     */
    [SQL_VERDICT_SAVE] =
        "UPDATE fish SET (verdict, could_be_kept, score, unit, first_ms, closed_ms, closed_by) ="
        " (?2, ?3, ?4, ?5, coalesce(first_ms, ?6), coalesce(?7, closed_ms),"
        "  iif(?7 IS NULL, closed_by, ?8)) "
        "WHERE id = ?1 AND ((first_ms IS NULL AND ?6 IS NOT NULL) OR ?7 IS NOT NULL OR"
        " (verdict, could_be_kept, score, unit) IS NOT (?2, ?3, ?4, ?5))",
    [SQL_INSTANTS_SAVE] = "UPDATE fish SET (first_ms, closed_ms, closed_by) = (" INSTANTS ") "
                          "WHERE id = ?",
    [SQL_VERDICT_SCORES] = "SELECT f.score FROM bowl AS b JOIN fish AS f ON f.bowl = b.id "
                           "WHERE b.round = ?1 AND f.could_be_kept AND f.unit = ?2 "
                           "ORDER BY f.score",
    [SQL_CLOSINGS] = "SELECT f.closed_ms FROM bowl AS b JOIN fish AS f ON f.bowl = b.id "
                     "WHERE b.round = ?1 AND b.last_ms >= ?3 AND f.closed_by IS ?2"
                     " AND f.closed_ms >= ?3 AND f.verdict <> 'open' ORDER BY f.closed_ms",
    [SQL_WRONG_INSTANTS] =
        "SELECT b.number, fish.number FROM fish JOIN bowl AS b ON b.id = fish.bowl WHERE"
        " (fish.first_ms, fish.closed_ms, fish.closed_by) IS NOT (" INSTANTS ") "
        "ORDER BY b.number, fish.number",
    [SQL_INSTANTS_REBUILD] = "UPDATE fish SET (first_ms, closed_ms, closed_by) = (" INSTANTS ") "
                             "WHERE (first_ms, closed_ms, closed_by) IS NOT (" INSTANTS ")",
    [SQL_BOWLS_MISCOUNTED] =
        "SELECT l.code, r.stage, bowl.number FROM bowl JOIN round AS r ON r.id = bowl.round "
        "JOIN lot AS l ON l.id = r.lot WHERE (bowl.fish_open, bowl.fish_keep, bowl.fish_hold,"
        " bowl.fish_reject, bowl.first_ms, bowl.last_ms) IS NOT" BOWL_COUNTED
        "ORDER BY l.code, r.id, bowl.number",
    [SQL_BOWLS_RECOUNT] = "UPDATE bowl SET (" FISH_COUNTERS ") =" BOWL_COUNTED
                          "WHERE (" FISH_COUNTERS ") IS NOT" BOWL_COUNTED,
    [SQL_ROUNDS_MISCOUNTED] =
        "SELECT l.code, round.stage FROM round JOIN lot AS l ON l.id = round.lot "
        "WHERE (round.fish_open, round.fish_keep, round.fish_hold, round.fish_reject,"
        " round.first_ms, round.last_ms) IS NOT" ROUND_COUNTED "ORDER BY l.code, round.id",
    [SQL_ROUNDS_RECOUNT] = "UPDATE round SET (" FISH_COUNTERS ") =" ROUND_COUNTED
                           "WHERE (" FISH_COUNTERS ") IS NOT" ROUND_COUNTED,

    [SQL_PLACE_SAVE] =
        "INSERT OR REPLACE INTO place (judge, round, bowl, number, aspect, second_look, in_sheet,"
        " revision) VALUES (?, ?, ?, ?, ?, ?, ?,"
        " (SELECT coalesce(max(revision), 0) + 1 FROM place))",
    [SQL_PLACE_OF_JUDGE] = PLACE_COLUMNS "WHERE judge = ?",
    [SQL_PLACE_LATEST] = PLACE_COLUMNS "ORDER BY revision DESC LIMIT 1",

    [SQL_PASS_REVISION] = "SELECT max(revision) FROM pass WHERE round = ?",
    [SQL_PASS_ADD] = "INSERT INTO pass (id, round, revision, standard, places, judge, at_ms,"
                     " fish_open, fish_keep, fish_hold, fish_reject) "
                     "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
    [SQL_PASS_LATEST] =
        "SELECT id, round, standard, places, judge, at_ms FROM pass WHERE round = ? "
        "ORDER BY revision DESC, at_ms DESC, id DESC LIMIT 1",
    [SQL_DECISION_ADD] =
        "INSERT INTO decision (pass, fish, verdict, reason, label, score, unit, rank) "
        "VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
    [SQL_DECISION_LIST] = "SELECT d.fish, d.verdict, d.reason, d.label, d.score, d.unit, "
                          "d.rank FROM decision AS d "
                          "JOIN fish AS f ON f.id = d.fish JOIN bowl AS b ON b.id = f.bowl "
                          "WHERE d.pass = ? ORDER BY b.number, b.id, f.number, f.id",

    [SQL_UNDO_ELSEWHERE] =
        "SELECT b.number, f.number FROM stroke AS u JOIN stroke AS s ON s.id = u.undoes "
        "JOIN fish AS f ON f.id = u.fish JOIN bowl AS b ON b.id = f.bowl "
        "WHERE s.fish <> u.fish OR s.undoes IS NOT NULL ORDER BY u.id",
    [SQL_TALLY_UNDO_ELSEWHERE] = UNDO_ELSEWHERE("tally_stroke"),
    [SQL_FIRST_LOOK_UNDO_ELSEWHERE] = UNDO_ELSEWHERE("first_look_stroke"),
    [SQL_LOT_SOURCES_WRONG] =
        "SELECT l.code FROM lot AS l LEFT JOIN lot_source AS ls ON ls.lot = l.id GROUP BY l.id "
        "HAVING CASE WHEN l.spawning IS NULL THEN count(ls.spawning) < 2"
        " ELSE count(ls.spawning) <> 1 OR min(ls.spawning) <> l.spawning END ORDER BY l.id",
    [SQL_LOT_EVENT_STRANGERS] =
        "SELECT DISTINCT t.code FROM lot_event AS e JOIN lot AS t ON t.id = e.target "
        "JOIN lot_source AS ls ON ls.lot = e.lot WHERE NOT EXISTS"
        " (SELECT 1 FROM lot_source AS m WHERE m.lot = e.target AND m.spawning = ls.spawning) "
        "ORDER BY t.id",
    [SQL_LOT_UNDO_ELSEWHERE] =
        "SELECT l.code FROM lot_event AS u JOIN lot_event AS e ON e.id = u.undoes "
        "JOIN lot AS l ON l.id = u.lot WHERE e.lot <> u.lot OR e.undoes IS NOT NULL ORDER BY u.id",
    /* Two stations may each have taken it back before they were joined. */
    [SQL_LOT_UNDO_TWICE] = "SELECT l.code FROM lot_event AS u JOIN lot AS l ON l.id = u.lot "
                           "WHERE u.undoes IS NOT NULL GROUP BY u.undoes, u.id >> 32 "
                           "HAVING count(*) > 1 ORDER BY u.undoes",
    [SQL_INTEGRITY_CHECK] =
        "SELECT integrity_check FROM pragma_integrity_check WHERE integrity_check <> 'ok'",
    [SQL_DANGLING_RECORDS] =
        "SELECT \"table\", ifnull(rowid, 0), parent FROM pragma_foreign_key_check",
    [SQL_ROWS_IN_ALL] = "SELECT (SELECT count(*) FROM parent) + (SELECT count(*) FROM spawning) +"
                        " (SELECT count(*) FROM fish) + (SELECT count(*) FROM stroke) +"
                        " (SELECT count(*) FROM decision) + (SELECT count(*) FROM audit_log) +"
                        " (SELECT count(*) FROM standard_version) +"
                        " (SELECT count(*) FROM round_count) + (SELECT count(*) FROM reject_fate) +"
                        " (SELECT count(*) FROM scoop) + (SELECT count(*) FROM tally_stroke) +"
                        " (SELECT count(*) FROM first_look_stroke) +"
                        " (SELECT count(*) FROM lot_event)",
};
