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
    " c.in_number, c.in_how, c.in_cv, c.kept_number, c.kept_how, c.kept_cv, c.rejected, c.dead"

#define BOWL_COLUMNS "SELECT b.id, b.round, b.number, b.expected, b.day FROM bowl AS b "
/* This station's own where two stations have the same number. */
#define OWN_FIRST(id) " ORDER BY " id " >> 32 = (SELECT station FROM ledger) DESC, " id " LIMIT 1"

/* A sum needs its rows fish by fish, each fish's strokes in their order. */
#define FOLD_COLUMNS                                                                               \
    "SELECT f.id, b.id, b.number, f.number, s.look, s.at_ms, e.kind, e.what, e.number, e.text "
#define FOLD_JOINS                                                                                 \
    "LEFT JOIN stroke AS s ON s.fish = f.id AND" DECIDES "LEFT JOIN entry AS e ON e.stroke = "     \
    "s.id "
#define FOLD_ORDER " ORDER BY b.number, b.id, f.number, f.id," IN_ORDER ", e.n"

#define OF_ROUND                                                                                   \
    " JOIN fish AS f ON f.id = t.fish JOIN bowl AS b ON b.id = f.bowl WHERE b.round = ?1 "
#define TALLY                                                                                      \
    "SELECT count(*) - count(t.fish) + coalesce(sum(t.verdict = 'open'), 0),"                      \
    " coalesce(sum(t.verdict = 'keep'), 0), coalesce(sum(t.verdict = 'hold'), 0),"                 \
    " coalesce(sum(t.verdict = 'reject'), 0), min(t.first_ms), max(max(t.first_ms, "               \
    " coalesce(t.closed_ms, t.first_ms))) "                                                        \
    "FROM bowl AS b JOIN fish AS f ON f.bowl = b.id LEFT JOIN standing AS t ON t.fish = f.id "

/* The key of a round that its judge pressed last, on this station, and has not taken back. */
#define LAST_OWN(table)                                                                            \
    "SELECT s.id FROM " table " AS s WHERE s.round = ? AND s.judge IS ? AND"                       \
    " s.id >> 32 = (SELECT station FROM ledger) AND" COUNTS_IN(table) "ORDER BY s.id DESC LIMIT 1"

/* Keys of a round that take back one of another round, or one that is itself taking back. */
#define UNDO_ELSEWHERE(table)                                                                      \
    "SELECT l.code, r.stage FROM " table " AS u JOIN " table " AS s ON s.id = u.undoes "           \
    "JOIN round AS r ON r.id = u.round JOIN lot AS l ON l.id = r.lot "                             \
    "WHERE s.round <> u.round OR s.undoes IS NOT NULL ORDER BY u.id"

/* When a fish was first looked at, and when and by whom it was last closed, from its strokes;
 * `fish` is its id. */
#define LAST_CLOSING(fish, column)                                                                 \
    " (SELECT " column " FROM stroke AS s JOIN entry AS e ON e.stroke = s.id AND e.kind = 'close'" \
    " WHERE s.fish = " fish " AND" DECIDES "ORDER BY s.look DESC, s.seq DESC, s.id DESC LIMIT 1) "
#define INSTANTS_OF(fish)                                                                          \
    " (SELECT s.at_ms FROM stroke AS s WHERE s.fish = " fish " AND" DECIDES "ORDER BY" IN_ORDER    \
    "LIMIT 1)," LAST_CLOSING(fish, "s.at_ms") "," LAST_CLOSING(fish, "s.judge")
#define INSTANTS_TO_SAVE INSTANTS_OF("?1")
#define INSTANTS_SAVED INSTANTS_OF("standing.fish")

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
    [SQL_NEW_ID] =
        "UPDATE station SET serial = serial + 1 WHERE number = (SELECT station FROM ledger) "
        "RETURNING number << 32 | serial",
    [SQL_MIGRATION_ADD] = "INSERT INTO migration (version, name, checksum, at_ms, program) "
                          "VALUES (?, ?, ?, ?, ?)",
    [SQL_MIGRATION_LIST] = "SELECT version, checksum FROM migration ORDER BY version",

    [SQL_JUDGE_NAMED] = "SELECT id FROM judge WHERE name = ?",
    [SQL_JUDGE_ADD] = "INSERT INTO judge (id, name) VALUES (?, ?)",
    [SQL_JUDGE_LIST] = "SELECT id, name FROM judge ORDER BY name",
    [SQL_AMENDMENT_ADD] =
        "INSERT INTO amendment (id, kind, record, field, was, becomes, at_ms, judge, why) "
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
    [SQL_LOTS] = "SELECT l.id, l.own, s.hatched FROM lot AS l LEFT JOIN spawning AS s ON "
                 "s.id = l.spawning ORDER BY l.id",
    [SQL_LOT_EVENTS] =
        "SELECT e.id, e.lot, l.code, t.id, t.code, e.day, e.kind, e.number, e.how, e.cv, e.pond,"
        " e.note, NOT (" LOT_EVENT_COUNTS "), e.turn FROM lot_event AS e "
        "JOIN lot AS l ON l.id = e.lot LEFT JOIN lot AS t ON t.id = e.target "
        "WHERE e.undoes IS NULL AND e.target IS t.id ORDER BY e.day, e.turn, e.at_ms, e.id",
    [SQL_LOT_EVENT_TURN] =
        "SELECT max(turn) FROM lot_event WHERE lot IN (?1, ?2) OR target IN (?1, ?2)",
    [SQL_LOT_EVENT_ADD] =
        "INSERT INTO lot_event (id, lot, turn, day, kind, number, how, cv, target, pond, note,"
        " judge, at_ms, undoes) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
    [SQL_LOT_EVENT_LAST] = "SELECT e.id FROM lot_event AS e WHERE (e.lot = ?1 OR e.target = ?1) "
                           "AND" LOT_EVENT_COUNTS "ORDER BY e.turn DESC, e.at_ms DESC, e.id DESC "
                           "LIMIT 1",
    [SQL_LOT_EVENT_LATEST] =
        "SELECT at_ms FROM lot_event WHERE id BETWEEN (SELECT station << 32 FROM ledger)"
        " AND (SELECT (station + 1 << 32) - 1 FROM ledger) ORDER BY id DESC LIMIT 1",
    /* What was recorded as one deed: all transfers of lots that were put together, and of a split
       the new lot's pond. */
    [SQL_LOT_EVENTS_TOGETHER] =
        "SELECT e.id FROM lot_event AS o JOIN lot_event AS e ON e.id = o.id OR"
        " (e.at_ms = o.at_ms AND e.id >> 32 = o.id >> 32 AND e.day = o.day AND CASE"
        "  WHEN o.kind = 'move' THEN e.target = o.lot"
        "  WHEN e.kind = 'move' THEN e.lot = o.target"
        "  ELSE e.target = o.target AND e.number IS NULL AND o.number IS NULL END) "
        "WHERE o.id = ? AND" LOT_EVENT_COUNTS "ORDER BY e.id",
    [SQL_DESCENTS] =
        "SELECT l.id, l.code, l.own, l.spawning, s.code, s.season, s.variety, s.hatched,"
        " d.code "
        "FROM lot AS l LEFT JOIN spawning AS s ON s.id = l.spawning "
        "LEFT JOIN parent AS d ON d.id = s.dam ORDER BY l.id",
    [SQL_DESCENT_SIRES] = "SELECT l.id, p.code FROM parent AS p CROSS JOIN spawning_sire AS ss ON "
                          "ss.sire = p.id CROSS JOIN lot AS l ON l.spawning = ss.spawning "
                          "ORDER BY p.code",
    [SQL_DESCENT_SOURCES] = "SELECT l.id, s.code, s.season, s.variety FROM lot AS l "
                            "JOIN lot_source AS ls ON ls.lot = l.id JOIN spawning AS s ON s.id = "
                            "ls.spawning WHERE l.spawning IS NULL ORDER BY s.code",

    [SQL_STANDARD_ADD] =
        "INSERT INTO standard_version (id, name, version, stage, origin, text, at_ms, saved) "
        "VALUES (?, ?, ?, ?, ?, ?, ?, (SELECT coalesce(max(saved), 0) + 1 FROM "
        "standard_version))",
    [SQL_STANDARD_NAMED] = STANDARD_COLUMNS
    "WHERE v.name = ? ORDER BY v.version DESC, v.at_ms DESC, v.id DESC LIMIT 1",
    [SQL_STANDARD_BY_ID] = STANDARD_COLUMNS "WHERE v.id = ?",
    [SQL_STANDARD_OF_STAGE] =
        STANDARD_COLUMNS "WHERE v.stage = ? AND" STANDARD_LATEST
                         "ORDER BY v.origin = 'shipped', v.saved DESC, v.at_ms DESC, v.id DESC",
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
    "WHERE r.id IN (SELECT round FROM bowl WHERE day = ?1 UNION SELECT b.round FROM standing "
    "AS t JOIN fish AS f ON f.id = t.fish JOIN bowl AS b ON b.id = f.bowl "
    "WHERE t.first_ms >= ?2 AND t.first_ms < ?3)" ROUND_ORDER,
    [SQL_ROUNDS_BY_STANDARD] = ROUND_COLUMNS "WHERE r.standard = ?",
    [SQL_ROUND_ADD] = "INSERT INTO round (id, lot, stage, manner, waiting) VALUES (?, ?, ?, ?, ?)",
    [SQL_ROUND_CHANGE] =
        "UPDATE round SET (waiting, fate, places, expected, standard, manner) = (?, ?, ?, ?, ?, ?) "
        "WHERE id = ?",
    /* A bowl holds what turned up in it where that is more than was counted, or nothing was; only
       of the last bowl nobody can tell yet. */
    [SQL_ROUND_BOWLS] =
        "SELECT count(*), coalesce(iif("
        " max(b.number) = max(b.number) FILTER (WHERE b.expected IS NULL), 0,"
        " sum(max(coalesce(b.expected, 0), (SELECT count(*) FROM fish WHERE bowl = b.id)))), 0) "
        "FROM bowl AS b WHERE b.round = ?",
    [SQL_ROUND_TALLY] = TALLY "WHERE b.round = ?",

    [SQL_ROUND_COUNTS] = "SELECT" COUNT_COLUMNS ", c.day, c.note, c.turn FROM round_count AS c "
                         "WHERE c.round = ? ORDER BY c.turn, c.at_ms, c.id",
    [SQL_ROUND_COUNTS_ALL] = "SELECT c.round," COUNT_COLUMNS ", c.day FROM round_count AS c "
                             "ORDER BY c.round, c.turn, c.at_ms, c.id",
    [SQL_ROUND_LOTS] = "SELECT id, lot, stage FROM round ORDER BY id",
    [SQL_ROUND_COUNT_ADD] =
        "INSERT INTO round_count (id, round, turn, in_number, in_how, in_cv, kept_number, kept_how,"
        " kept_cv, rejected, dead, day, note, judge, at_ms) "
        "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
    [SQL_REJECT_FATES] = "SELECT fate, number, turn FROM reject_fate WHERE round = ? "
                         "ORDER BY turn, at_ms, id",
    [SQL_REJECT_FATE_ADD] = "INSERT INTO reject_fate (id, round, turn, fate, number, judge, at_ms) "
                            "VALUES (?, ?, ?, ?, ?, ?, ?)",
    /* A fish's latest decision is that of the round's latest pass, else how it stands. */
    [SQL_ROUNDS_JUDGED] =
        "SELECT b.round, sum(coalesce(d.verdict, t.verdict, 'open') <> 'open'),"
        " coalesce(sum(coalesce(d.verdict, t.verdict) = 'keep'), 0),"
        " coalesce(sum(coalesce(d.verdict, t.verdict) = 'reject'), 0), min(t.first_ms),"
        " (SELECT coalesce(r.expected, (SELECT CASE WHEN count(*) = count(e.expected) "
        "   THEN sum(e.expected) END FROM bowl AS e WHERE e.round = r.id)) "
        "  FROM round AS r WHERE r.id = b.round) "
        "FROM bowl AS b JOIN fish AS f ON f.bowl = b.id LEFT JOIN standing AS t ON t.fish = f.id "
        "LEFT JOIN decision AS d ON d.fish = f.id AND d.pass = (SELECT p.id FROM pass AS p "
        " WHERE p.round = b.round ORDER BY p.turn DESC, p.at_ms DESC, p.id DESC LIMIT 1) "
        "GROUP BY b.round ORDER BY b.round",

    [SQL_BOWL_BY_ID] = BOWL_COLUMNS "WHERE b.id = ?",
    [SQL_BOWL_NUMBERED] = BOWL_COLUMNS "WHERE b.round = ? AND b.number = ?" OWN_FIRST("b.id"),
    [SQL_BOWL_LIST] = BOWL_COLUMNS "WHERE b.round = ? ORDER BY b.number, b.id",
    [SQL_BOWL_ADD] = "INSERT INTO bowl (id, round, number, expected, day) VALUES (?, ?, ?, ?, ?)",
    [SQL_BOWL_EXPECT] = "UPDATE bowl SET expected = ? WHERE id = ?",
    [SQL_BOWL_TALLY] = TALLY "WHERE b.id = ?",

    [SQL_FISH_NUMBERED] =
        "SELECT f.id FROM fish AS f WHERE f.bowl = ? AND f.number = ?" OWN_FIRST("f.id"),
    [SQL_FISH_ADD] = "INSERT INTO fish (id, bowl, number) VALUES (?, ?, ?)",
    [SQL_FISH_OF_ID] = FOLD_COLUMNS "FROM fish AS f JOIN bowl AS b ON b.id = f.bowl " FOLD_JOINS
                                    "WHERE f.id = ?" FOLD_ORDER,
    [SQL_FISH_OF_BOWL] = FOLD_COLUMNS "FROM bowl AS b JOIN fish AS f ON f.bowl = b.id " FOLD_JOINS
                                      "WHERE b.id = ?" FOLD_ORDER,
    [SQL_FISH_OF_ROUND] = FOLD_COLUMNS "FROM bowl AS b JOIN fish AS f ON f.bowl = b.id " FOLD_JOINS
                                       "WHERE b.round = ?" FOLD_ORDER,
    /* Strokes of one look add up whoever made them; a check is one sorter's own. */
    [SQL_LOOKS_OF_ROUND] =
        FOLD_COLUMNS ", s.checking, coalesce(s.judge, 0), coalesce(j.name, '') "
                     "FROM bowl AS b JOIN fish AS f ON f.bowl = b.id "
                     "JOIN stroke AS s ON s.fish = f.id AND" COUNTS
                     "JOIN entry AS e ON e.stroke = s.id LEFT JOIN judge AS j ON j.id = s.judge "
                     "WHERE b.round = ? ORDER BY b.number, b.id, f.number, f.id, s.checking,"
                     " CASE WHEN s.checking THEN s.judge END," IN_ORDER ", e.n",

    [SQL_STROKE_SEQ] = "SELECT max(seq) FROM stroke WHERE fish = ?",
    [SQL_STROKE_ADD] =
        "INSERT INTO stroke (id, fish, judge, look, seq, checking, correction, at_ms, undoes) "
        "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
    [SQL_ENTRY_ADD] =
        "INSERT INTO entry (stroke, n, kind, what, number, text) VALUES (?, ?, ?, ?, ?, ?)",
    [SQL_UNDOABLE_OF_BOWL] = UNDOABLE "WHERE b.round = ? AND b.id = ?" UNDOABLE_ORDER,
    [SQL_UNDOABLE_SECOND_LOOKS] = UNDOABLE "WHERE b.round = ? AND s.look > 1" UNDOABLE_ORDER,
    /* The tag a fish carries is the last one that counts. */
    [SQL_TAG_BEARER] =
        "SELECT b.number, f.number FROM entry AS e JOIN stroke AS s ON s.id = e.stroke "
        "AND" DECIDES
        "JOIN fish AS f ON f.id = s.fish JOIN bowl AS b ON b.id = f.bowl AND b.round = ? "
        "WHERE e.kind = 'tag' AND e.text = ? AND e.text <> '' AND (s.look, s.seq, s.id, e.n) = "
        "(SELECT s.look, s.seq, s.id, g.n FROM stroke AS s "
        " JOIN entry AS g ON g.stroke = s.id AND g.kind = 'tag' WHERE s.fish = f.id AND" DECIDES
        " ORDER BY s.look DESC, s.seq DESC, s.id DESC, g.n DESC LIMIT 1) "
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

    [SQL_STANDING_SAVE] =
        "INSERT INTO standing"
        " (fish, verdict, could_be_kept, score, unit, first_ms, closed_ms, closed_by) "
        "VALUES (?1, ?2, ?3, ?4, ?5," INSTANTS_TO_SAVE ") "
        "ON CONFLICT (fish) DO UPDATE SET"
        " (verdict, could_be_kept, score, unit, first_ms, closed_ms, closed_by) ="
        " (excluded.verdict, excluded.could_be_kept, excluded.score, excluded.unit,"
        " excluded.first_ms, excluded.closed_ms, excluded.closed_by)",
    [SQL_STANDINGS_OF_ROUND] =
        "SELECT t.verdict, t.could_be_kept, t.score, t.unit FROM bowl AS b "
        "JOIN fish AS f ON f.bowl = b.id LEFT JOIN standing AS t ON t.fish = f.id "
        "WHERE b.round = ? ORDER BY b.number, b.id, f.number, f.id",
    [SQL_STANDING_SCORES] = "SELECT t.score FROM standing AS t" OF_ROUND
                            "AND t.could_be_kept AND t.unit = ?2 ORDER BY t.score",
    [SQL_STANDING_CLOSINGS] = "SELECT t.closed_ms FROM standing AS t" OF_ROUND
                              "AND t.closed_by IS ?2 AND t.closed_ms >= ?3 AND t.verdict <> "
                              "'open' ORDER BY t.closed_ms",
    [SQL_STANDING_WRONG_INSTANTS] =
        "SELECT b.number, f.number FROM standing JOIN fish AS f ON f.id = standing.fish "
        "JOIN bowl AS b ON b.id = f.bowl "
        "WHERE (first_ms, closed_ms, closed_by) IS NOT (" INSTANTS_SAVED ") "
        "ORDER BY b.number, f.number",
    [SQL_STANDING_INSTANTS] =
        "UPDATE standing SET (first_ms, closed_ms, closed_by) = (" INSTANTS_SAVED ")",

    [SQL_PLACE_SAVE] =
        "INSERT OR REPLACE INTO place (judge, round, bowl, number, aspect, second_look, "
        "in_sheet,"
        " turn) VALUES (?, ?, ?, ?, ?, ?, ?, (SELECT coalesce(max(turn), 0) + 1 FROM place))",
    [SQL_PLACE_OF_JUDGE] = PLACE_COLUMNS "WHERE judge = ?",
    [SQL_PLACE_LATEST] = PLACE_COLUMNS "ORDER BY turn DESC LIMIT 1",

    [SQL_PASS_TURN] = "SELECT max(turn) FROM pass WHERE round = ?",
    [SQL_PASS_ADD] = "INSERT INTO pass (id, round, turn, standard, places, judge, at_ms) "
                     "VALUES (?, ?, ?, ?, ?, ?, ?)",
    [SQL_PASS_LATEST] =
        "SELECT id, round, standard, places, judge, at_ms FROM pass WHERE round = ? "
        "ORDER BY turn DESC, at_ms DESC, id DESC LIMIT 1",
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
    [SQL_INTEGRITY_CHECK] = "PRAGMA integrity_check",
    [SQL_FOREIGN_KEY_CHECK] = "PRAGMA foreign_key_check",
    [SQL_ROWS_IN_ALL] =
        "SELECT (SELECT count(*) FROM parent) + (SELECT count(*) FROM spawning) +"
        " (SELECT count(*) FROM fish) + (SELECT count(*) FROM stroke) +"
        " (SELECT count(*) FROM entry) + (SELECT count(*) FROM decision) +"
        " (SELECT count(*) FROM amendment) + (SELECT count(*) FROM standard_version) +"
        " (SELECT count(*) FROM round_count) + (SELECT count(*) FROM reject_fate) +"
        " (SELECT count(*) FROM scoop) + (SELECT count(*) FROM tally_stroke) +"
        " (SELECT count(*) FROM first_look_stroke) +"
        " (SELECT count(*) FROM lot_event)",
};
