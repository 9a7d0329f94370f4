/* The texts of the registry (statements.def). Parts that several statements share are macros, so
 * that a rule such as which strokes count is written once. */
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

#define STANDARD_COLUMNS                                                                           \
    "SELECT v.id, v.version, v.origin, v.name, v.text FROM standard_version AS v "
/* The latest version of each name; of two stations' same number the later one. */
#define STANDARD_LATEST                                                                            \
    " NOT EXISTS (SELECT 1 FROM standard_version AS w WHERE w.name = v.name"                       \
    " AND (w.version, w.at_ms, w.id) > (v.version, v.at_ms, v.id)) "

/* Of a mixed lot whose spawnings are all of one variety, that one. */
#define ROUND_VARIETY                                                                              \
    " coalesce(s.variety, (SELECT iif(count(*) = count(m.variety) AND min(m.variety) ="            \
    " max(m.variety), min(m.variety), '') FROM lot_source AS ls JOIN live_spawning AS m ON m.id "  \
    "= "                                                                                           \
    "ls.spawning WHERE ls.lot = l.id))"

#define ROUND_SELECT(more)                                                                         \
    "SELECT r.id, s.id, l.id, s.code," ROUND_VARIETY                                               \
    ", l.code, l.own, s.season, r.stage, r.manner,"                                                \
    " r.waiting, r.fate, r.places, r.expected, r.standard" more                                    \
    " FROM live_round AS r JOIN live_lot AS l ON l.id = r.lot LEFT JOIN live_spawning AS s ON "    \
    "s.id = l.spawning "
#define ROUND_COLUMNS ROUND_SELECT("")
/* With its bowls (whether the last of them was counted), its fish and its latest pass. */
#define LAST_BOWL_COUNTED                                                                          \
    " r.bowls > 0 AND NOT EXISTS (SELECT 1 FROM live_bowl AS b WHERE b.round = r.id"               \
    " AND b.number = (SELECT max(number) FROM live_bowl WHERE round = r.id)"                       \
    " AND b.expected IS NULL)"
#define COUNTED_ROUND_COLUMNS                                                                      \
    ROUND_SELECT(                                                                                  \
        ", r.bowls, r.fish_held," LAST_BOWL_COUNTED                                                \
        ", EXISTS (SELECT 1 FROM round_count AS c WHERE c.round = r.id),"                          \
        " EXISTS (SELECT 1 FROM tally_stroke AS t WHERE t.round = r.id), r.fish_open, "            \
        "r.fish_keep,"                                                                             \
        " r.fish_hold, r.fish_reject, r.fish_changed, r.first_ms, r.last_ms, p.id, p.at_ms,"       \
        " p.places, p.fish_open + p.fish_keep + p.fish_hold + p.fish_reject, v.name, v.version,"   \
        " (SELECT max(w.version) FROM standard_version AS w WHERE w.name = r.standard)")           \
    "LEFT JOIN pass AS p ON p.id = r.pass LEFT JOIN standard_version AS v ON v.id = p.standard "
/* Stages in the order of the season, not of the alphabet. */
#define STAGE_ORDER " instr('black first second third fourth harvest house', r.stage) "
#define ROUND_ORDER " ORDER BY s.season DESC, s.code, " STAGE_ORDER ", l.own DESC, l.code, r.id"

#define COUNT_COLUMNS                                                                              \
    " c.in_number, c.in_method, c.in_cv, c.kept_number, c.kept_method, c.kept_cv, c.rejected, "    \
    "c.dead, c.day, c.note"

/* Of bowls and rounds: kept by triggers (migrations/0001_ledger.sql). */
#define FISH_COUNTERS                                                                              \
    " fish_open, fish_keep, fish_hold, fish_reject, fish_changed, first_ms, last_ms "
#define ROUND_COUNTERS " bowls, fish_held," FISH_COUNTERS
/* The station that set a bowl up, where two have its number; where two stations have one name, with
 * something that tells them apart. */
#define BOWL_STATION                                                                               \
    " (SELECT coalesce(nullif(n.name, ''), 'station') || iif(EXISTS (SELECT 1 FROM station AS m"   \
    " WHERE m.name = n.name AND m.number <> n.number), ' ' || hex(substr(n.identity, 1, 2)), '')"  \
    " FROM station AS n WHERE n.number = b.id >> 32 AND EXISTS (SELECT 1 FROM live_bowl AS o"      \
    " WHERE o.round = b.round AND o.number = b.number AND o.id <> b.id)) "
#define BOWL_COLUMNS                                                                               \
    "SELECT b.id, b.round, b.number, b.expected, b.day," BOWL_STATION "," FISH_COUNTERS            \
    "FROM live_bowl AS b "
/* This station's own where two stations have the same number. */
#define OWN_FIRST(id) " ORDER BY " id " >> 32 = (SELECT station FROM ledger) DESC, " id " LIMIT 1"

/* Many rows at once: to begin and end a statement takes longer than to add a row. */
#define FOUR_ROWS(row) row ", " row ", " row ", " row
#define ADD_DECISIONS                                                                              \
    "INSERT INTO decision (fish, judgement_key, pass, verdict, reason, score, rank) VALUES "
#define DECISION_ROW "(?, (SELECT judgement_key FROM fish WHERE id = ?), ?, ?, ?, ?, ?)"

/* A replay needs its rows fish by fish, each fish's strokes in their order. */
#define REPLAY_COLUMNS                                                                             \
    " f.id, b.id, b.number, f.number, f.verdict, f.changed, s.id, s.look, s.at_ms, s.standard, "   \
    "s.scores,"                                                                                    \
    " s.faults, s.verdict, s.reason, s.closes, s.length_mm, s.tag, s.note "
#define REPLAY_JOIN "LEFT JOIN stroke AS s ON s.fish = f.id AND" DECIDES
/* b.id >> 32, which changes nothing, is a column of bowl_number: so indexes have this order, and
 * nothing is sorted. */
#define REPLAY_ORDER " ORDER BY b.number, b.id >> 32, b.id, f.number, f.id," IN_ORDER

/* Grows with every stroke of fish ?1, of whatever look and whether it counts or not, and with
 * whatever is joined in: stations give their serials in order. */
#define FISH_MARK                                                                                  \
    " (WITH RECURSIVE looks (look) AS (SELECT max(look) FROM stroke WHERE fish = ?1 UNION ALL"     \
    " SELECT (SELECT max(look) FROM stroke WHERE fish = ?1 AND look < looks.look) FROM looks"      \
    " WHERE looks.look IS NOT NULL)"                                                               \
    " SELECT coalesce(sum((SELECT max(seq) FROM stroke WHERE fish = ?1 AND look = looks.look)),"   \
    " 0) FROM looks) + (SELECT coalesce(sum(serial), 0) FROM station"                              \
    " WHERE number <> (SELECT station FROM ledger)) "

#define LOOKS(where)                                                                               \
    "SELECT s.checking, j.person, j.name," REPLAY_COLUMNS "FROM live_bowl AS b JOIN fish AS f"     \
    " ON f.bowl = b.id JOIN stroke AS s ON s.fish = f.id AND" COUNTS                               \
    "LEFT JOIN judge_shown AS j ON j.id = s.judge WHERE " where " ORDER BY b.number, b.id,"        \
    " f.number, f.id, s.checking, CASE WHEN s.checking THEN j.name END,"                           \
    " CASE WHEN s.checking THEN j.person END," IN_ORDER

/* What a fish is judged to be by itself. */
#define JUDGED " judged, no_place, judgement, judgement_key, could_be_kept, score, unit "

/* What stands of `fish` (docs/decisions/standing.md), and whether it has changed since the pass:
 * the latest pass decides as long as the judgement is the one it saw. */
#define STANDING                                                                                   \
    " (SELECT coalesce(d.verdict, iif(fish.no_place, 'hold', fish.judged)),"                       \
    " r.pass IS NOT NULL AND d.pass IS NULL AND fish.judgement_key <> 0"                           \
    " FROM bowl AS b JOIN round AS r ON r.id = b.round LEFT JOIN decision AS d"                    \
    " ON d.pass = r.pass AND d.fish = fish.id AND d.judgement_key = fish.judgement_key"            \
    " WHERE b.id = fish.bowl) "
#define STANDS_OTHERWISE " (fish.verdict, fish.changed) IS NOT" STANDING
/* The latest pass of `round`. */
#define LATEST_PASS                                                                                \
    " (SELECT p.id FROM pass AS p WHERE p.round = round.id"                                        \
    " ORDER BY p.revision DESC, p.at_ms DESC, p.id DESC LIMIT 1) "

/* Of the audit log, by the parameters of SQL_AUDIT_LOG_ADD. */
#define ABOUT_FIELD " FROM audit_log WHERE record = ?3 AND field = ?4 AND kind = ?2"

/* The key of a round that its judge pressed last, on this station, and has not taken back. */
#define LAST_OWN(table)                                                                            \
    "SELECT s.id FROM " table " AS s WHERE s.round = ? AND s.judge IS ? AND"                       \
    " s.id >> 32 = (SELECT station FROM ledger) AND" COUNTS_IN(table) "ORDER BY s.id DESC LIMIT 1"

/* Keys of a round that take back one of another round, or one that is itself taking back. */
#define UNDO_ELSEWHERE(table)                                                                      \
    "SELECT" ROUND_SAID "FROM " table " AS u JOIN " table " AS s ON s.id = u.undoes "              \
    "JOIN round AS r ON r.id = u.round JOIN lot AS l ON l.id = r.lot "                             \
    "WHERE s.round <> u.round OR s.undoes IS NOT NULL ORDER BY u.id"

/* When a fish was first looked at, and when and by whom it was last closed, from its strokes. */
#define LAST_CLOSING(column)                                                                       \
    " (SELECT " column                                                                             \
    " FROM stroke AS s WHERE s.fish = fish.id AND s.closes IS NOT NULL AND" DECIDES                \
    "ORDER BY s.look DESC, s.seq DESC, s.id DESC LIMIT 1) "
#define FIRST_STROKE                                                                               \
    " (SELECT s.at_ms FROM stroke AS s WHERE s.fish = fish.id AND" DECIDES "ORDER BY" IN_ORDER     \
    "LIMIT 1) "
#define INSTANTS FIRST_STROKE "," LAST_CLOSING("s.at_ms") "," LAST_CLOSING("s.judge")
#define INSTANTS_WRONG                                                                             \
    " (fish.first_ms IS NOT" FIRST_STROKE                                                          \
    "OR (fish.closed_ms, fish.closed_by) IS NOT" LAST_CLOSING("s.at_ms, s.judge") ") "

/* The counters of a bowl (`fish` is the table) and of a round (`bowl`), counted anew. */
#define BOWL_COUNTED                                                                               \
    " (SELECT count(*) FILTER (WHERE verdict = 'open'), count(*) FILTER (WHERE verdict = 'keep')," \
    " count(*) FILTER (WHERE verdict = 'hold'), count(*) FILTER (WHERE verdict = 'reject'),"       \
    " count(*) FILTER (WHERE changed),"                                                            \
    " min(first_ms), max(max(first_ms, coalesce(closed_ms, first_ms)))"                            \
    " FROM fish WHERE fish.bowl = bowl.id) "
#define ROUND_COUNTED                                                                              \
    " (SELECT count(*), coalesce(sum(max(coalesce(bowl.expected, 0), fish_open + fish_keep"        \
    " + fish_hold + fish_reject)), 0), coalesce(sum(fish_open), 0), coalesce(sum(fish_keep), 0),"  \
    " coalesce(sum(fish_hold), 0), coalesce(sum(fish_reject), 0),"                                 \
    " coalesce(sum(fish_changed), 0), min(first_ms), max(last_ms)"                                 \
    " FROM bowl WHERE bowl.round = round.id AND bowl.retired_ms IS NULL) "

#define UNDOABLE                                                                                   \
    "SELECT s.id, s.fish FROM live_bowl AS b JOIN fish AS f ON f.bowl = b.id "                     \
    "JOIN stroke AS s ON s.fish = f.id AND" DECIDES
/* Another station's strokes came before the two were joined; serials tell the order of our own. */
#define UNDOABLE_ORDER                                                                             \
    " ORDER BY s.id >> 32 = (SELECT station FROM ledger),"                                         \
    " CASE WHEN s.id >> 32 = (SELECT station FROM ledger) THEN 0 ELSE s.at_ms END, s.id"
#define UNDOABLE_LAST                                                                              \
    " ORDER BY s.id >> 32 = (SELECT station FROM ledger) DESC,"                                    \
    " CASE WHEN s.id >> 32 = (SELECT station FROM ledger) THEN 0 ELSE s.at_ms END DESC,"           \
    " s.id DESC "

#define PLACE_COLUMNS                                                                              \
    "SELECT p.judge, p.round, p.bowl, p.number, p.aspect, p.second_look, p.in_sheet "              \
    "FROM place AS p JOIN live_round AS r ON r.id = p.round "                                      \
    "WHERE (p.bowl IS NULL OR EXISTS (SELECT 1 FROM live_bowl AS b WHERE b.id = p.bowl)) "

/* The field ?4 of the record ?3 of the table ?2, as its column has it. Every field of a record that
 * can be changed stands here: what a join makes of the audit log goes by these values
 * (docs/decisions/stations.md). */
#define FIELDS_OF(table) " WHEN '" table "' THEN (SELECT CASE ?4"
#define IN_TABLE(table) " END FROM " table " AS t WHERE t.id = ?3)"
#define RETIRED_FIELD " WHEN 'retired' THEN iif(t.retired_ms IS NULL, NULL, 'yes')"
#define VARIETY_FIELD                                                                              \
    " WHEN 'variety' THEN (SELECT v.id FROM variety AS v WHERE v.name = t.variety)"
#define SIRES_FIELD                                                                                \
    " WHEN 'sires' THEN (SELECT group_concat(sire, ',') FROM (SELECT ss.sire"                      \
    " FROM spawning_sire AS ss WHERE ss.spawning = t.id ORDER BY ss.sire))"
#define JUDGE_VALUE                                                                                \
    FIELDS_OF("judge")                                                                             \
    " WHEN 'name' THEN t.name WHEN 'same_as' THEN t.same_as" RETIRED_FIELD IN_TABLE("judge")
#define VARIETY_VALUE                                                                              \
    FIELDS_OF("variety")                                                                           \
    " WHEN 'variety' THEN t.name WHEN 'japanese' THEN t.japanese"                                  \
    " WHEN 'spellings' THEN t.spellings" RETIRED_FIELD IN_TABLE("variety")
#define PARENT_VALUE                                                                               \
    FIELDS_OF("parent")                                                                            \
    " WHEN 'parent' THEN t.code WHEN 'sex' THEN t.sex WHEN 'born' THEN t.born"                     \
    " WHEN 'dam' THEN t.dam WHEN 'sire' THEN t.sire WHEN 'note' THEN t.note"                       \
    " WHEN 'state' THEN t.state WHEN 'since' THEN t.since" VARIETY_FIELD RETIRED_FIELD IN_TABLE(   \
        "parent")
#define SPAWNING_VALUE                                                                             \
    FIELDS_OF("spawning")                                                                          \
    " WHEN 'spawning' THEN t.code WHEN 'season' THEN t.season WHEN 'date' THEN t.date"             \
    " WHEN 'dam' THEN t.dam WHEN 'siring' THEN t.siring WHEN 'eggs' THEN t.eggs"                   \
    " WHEN 'hatched' THEN t.hatched WHEN 'note' THEN t.note" VARIETY_FIELD SIRES_FIELD             \
        RETIRED_FIELD IN_TABLE("spawning")
#define LOT_VALUE                                                                                  \
    FIELDS_OF("lot")                                                                               \
    " WHEN 'lot' THEN t.code" RETIRED_FIELD IN_TABLE("lot")
#define ROUND_VALUE                                                                                \
    FIELDS_OF("round")                                                                             \
    " WHEN 'stage' THEN t.stage WHEN 'lot' THEN t.lot WHEN 'manner' THEN t.manner"                 \
    " WHEN 'standard' THEN t.standard WHEN 'places' THEN t.places"                                 \
    " WHEN 'expected' THEN t.expected WHEN 'waiting' THEN t.waiting"                               \
    " WHEN 'fate' THEN t.fate" RETIRED_FIELD IN_TABLE("round")
#define BOWL_VALUE                                                                                 \
    FIELDS_OF("bowl")                                                                              \
    " WHEN 'number' THEN t.number WHEN 'expected' THEN t.expected WHEN 'day' THEN "                \
    "t.day" RETIRED_FIELD IN_TABLE("bowl")
#define FISH_VALUE                                                                                 \
    FIELDS_OF("fish")                                                                              \
    " WHEN 'bowl' THEN t.bowl WHEN 'number' THEN t.number" IN_TABLE("fish")
#define RECORDED_VALUE                                                                             \
    " CASE ?2" JUDGE_VALUE VARIETY_VALUE PARENT_VALUE SPAWNING_VALUE LOT_VALUE ROUND_VALUE         \
        BOWL_VALUE FISH_VALUE                                                                      \
    " WHEN 'station' THEN (SELECT name FROM station WHERE number = ?3) END "

/* The last entry of the log about a field of the record `t`, and what it says; NULL where there is
 * none. */
#define LATEST(table, field, what)                                                                 \
    " (SELECT " what " FROM audit_log AS a WHERE a.record = t.id AND a.field = '" field            \
    "' AND a.kind = '" table "' ORDER BY a.at_ms DESC, a.id DESC LIMIT 1) "
#define STANDS(table, field) LATEST(table, field, "a.value")
/* Since when the record is retired by itself, not with what is above it. */
#define OWN_RETIREMENT(table) LATEST(table, "retired", "iif(a.value IS NULL, NULL, a.at_ms)")
/* When a round got its lot and stage. */
#define PLACED(round)                                                                              \
    "(SELECT max(a.at_ms) FROM audit_log AS a WHERE a.record = " round                             \
    ".id AND a.field IN ('lot', 'stage') AND a.kind = 'round')"

/* What is retired with it is told by the same instant; so is what comes back with it. */
#define RETIRED_SINCE(table) "SELECT retired_ms, id FROM " table " WHERE id = ?"
#define RETIRE(table) "UPDATE " table " SET retired_ms = ?2 WHERE id = ?1"
#define RETIRE_BELOW(table, above)                                                                 \
    "UPDATE " table " SET retired_ms = ?1 WHERE retired_ms IS NULL AND " above                     \
    " IN (SELECT id FROM " above " WHERE retired_ms = ?1)"
/* ?1 the instant, ?2 the record. What is below comes along unless it was retired by itself: two
 * stations may have retired two records at one instant. */
#define BRING_BACK(table) "UPDATE " table " SET retired_ms = NULL WHERE retired_ms = ?1 AND id = ?2"
#define BRING_BACK_BELOW(table, above)                                                             \
    "UPDATE " table " AS t SET retired_ms = NULL WHERE retired_ms = ?1 AND (id = ?2 OR EXISTS"     \
    " (SELECT 1 FROM live_" above " AS a WHERE a.id = t." above                                    \
    ") AND" OWN_RETIREMENT(table) "IS NULL)"
#define RETIRED_FOREBEAR(children)                                                                 \
    "SELECT c.code, p.code, p.code FROM " children " JOIN parent AS p ON p.id IN (c.dam, c.sire) " \
    "WHERE c.id = ? AND p.retired_ms IS NOT NULL LIMIT 1"

/* What findings of the check call a lot, and a round of it. */
#define LOT_SAID(l)                                                                                \
    " iif(" l ".own OR " l ".spawning IS NULL, " l ".code, (SELECT said.code FROM spawning AS "    \
    "said WHERE said.id = " l ".spawning) || ' ' || " l ".code) "
#define ROUND_SAID LOT_SAID("l") ", r.stage "
#define OF_ROUND(round) " JOIN round AS r ON r.id = " round " JOIN lot AS l ON l.id = r.lot "

/* One station gave the id of the one before that of the other. */
#define BEFORE(one, other) " " one ".id < " other ".id AND " one ".id >> 32 = " other ".id >> 32 "

/* Every dam and sire of a parent or a spawning, with the year of the young. */
#define BRED                                                                                       \
    "SELECT 'Parent ' || code AS what, 'dam' AS role, dam AS forebear, born AS year FROM parent "  \
    "UNION ALL SELECT 'Parent ' || code, 'sire', sire, born FROM parent "                          \
    "UNION ALL SELECT 'Spawning ' || code, 'dam', dam, season FROM spawning "                      \
    "UNION ALL SELECT 'Spawning ' || s.code, 'sire', ss.sire, s.season FROM spawning AS s "        \
    "JOIN spawning_sire AS ss ON ss.spawning = s.id"

/* When rows were recorded. */
#define RECORDED_AT                                                                                \
    "SELECT 'Strokes' AS what, id, at_ms FROM stroke "                                             \
    "UNION ALL SELECT 'Keys of tallies', id, at_ms FROM tally_stroke "                             \
    "UNION ALL SELECT 'Keys of first looks', id, at_ms FROM first_look_stroke "                    \
    "UNION ALL SELECT 'Scoops', id, at_ms FROM scoop "                                             \
    "UNION ALL SELECT 'Passes', id, at_ms FROM pass "                                              \
    "UNION ALL SELECT 'Numbers of culls', id, at_ms FROM round_count "                             \
    "UNION ALL SELECT 'Fates of rejects', id, at_ms FROM reject_fate "                             \
    "UNION ALL SELECT 'Events of lots', id, at_ms FROM lot_event "                                 \
    "UNION ALL SELECT 'Logged changes', id, at_ms FROM audit_log"

/* The counters of a pass, counted anew. */
#define PASS_COUNTED                                                                               \
    " (SELECT count(*) FILTER (WHERE verdict = 'open'), count(*) FILTER (WHERE verdict = 'keep')," \
    " count(*) FILTER (WHERE verdict = 'hold'), count(*) FILTER (WHERE verdict = 'reject')"        \
    " FROM decision WHERE decision.pass = pass.id) "

/* The last serial that a station has given to a row. */
#define LAST_OF(table)                                                                             \
    "SELECT max(id) AS id FROM " table                                                             \
    " WHERE id BETWEEN station.number << 32 AND (station.number << 32) + 4294967295 "
#define OR_OF(table) "UNION ALL " LAST_OF(table)
#define SERIAL_GIVEN                                                                               \
    " (SELECT coalesce(max(id) & 4294967295, 0) FROM (" LAST_OF("stroke") OR_OF("fish")            \
        OR_OF("bowl") OR_OF("pass") OR_OF("scoop") OR_OF("tally_stroke")                           \
            OR_OF("first_look_stroke") OR_OF("round_count") OR_OF("reject_fate")                   \
                OR_OF("lot_event") OR_OF("audit_log") ")) "

const char *const sql_texts[SQL_COUNT] = {
#define STATEMENT(name, text) [name] = (text),
#include "statements.def"
#undef STATEMENT
};
