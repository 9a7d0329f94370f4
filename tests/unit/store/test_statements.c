#include "bench.h"
#include "query.h"
#include "senbetsu/store/lot_events.h"
#include "senbetsu/store/round_counts.h"
#include "statements.h"

#include <ctype.h>
#include <sqlite3.h>
#include <stdlib.h>

static void expect_one_statement(sqlite3 *db, int sql)
{
    sqlite3_stmt *statement = NULL;
    const char *tail = NULL;
    assert_non_null(sql_texts[sql]);
    char *text = record_sql(sql_texts[sql]);
    if (sqlite3_prepare_v2(db, text, -1, &statement, &tail) != SQLITE_OK)
        fail_msg("%s: %s", text, sqlite3_errmsg(db));
    if (statement == NULL)
        fail_msg("%s is no statement", sql_texts[sql]);
    while (isspace((unsigned char)*tail))
        tail++;
    if (*tail != '\0')
        fail_msg("%s goes on after its end: %s", text, tail);
    free(text);
    sqlite3_finalize(statement);
}

static void every_statement_fits_a_new_ledger(void **state)
{
    (void)state;
    struct bench bench;
    sqlite3 *db;
    bench_init(&bench);
    bench_open(&bench);
    assert_int_equal(sqlite3_open(bench.path, &db), SQLITE_OK);
    sqlite3_db_config(db, SQLITE_DBCONFIG_DQS_DML, 0, NULL);
    for (int sql = 0; sql < SQL_COUNT; sql++)
        expect_one_statement(db, sql);
    sqlite3_close(db);
    bench_done(&bench);
}

/* Text in, text out: no statement is built from values. */
static void no_statement_stands_twice(void **state)
{
    (void)state;
    for (int a = 0; a < SQL_COUNT; a++)
        for (int b = a + 1; b < SQL_COUNT; b++)
            assert_string_not_equal(sql_texts[a], sql_texts[b]);
}

/* Statements that look at retired records as well: the check of the whole file, the events of a
 * lot, and retiring itself.
 */
static bool sees_retired(int sql)
{
    static const enum sql those[] = {
        SQL_UNDO_ELSEWHERE,
        SQL_TALLY_UNDO_ELSEWHERE,
        SQL_FIRST_LOOK_UNDO_ELSEWHERE,
        SQL_LOT_SOURCES_WRONG,
        SQL_LOT_SOURCES_CLEAR,
        SQL_LOT_SOURCES_REBUILD,
        SQL_MIXED_SOURCES_WRONG,
        SQL_DAYS_WRONG,
        SQL_NUMBERS_WRONG,
        SQL_UNDO_TOO_EARLY,
        SQL_STROKES_OUT_OF_ORDER,
        SQL_MARKS_MISFIT,
        SQL_STANDARD_MISSING,
        SQL_DECISION_ELSEWHERE,
        SQL_SCOOP_WRONG,
        SQL_SCOOP_ELSEWHERE,
        SQL_OWN_ANCESTOR,
        SQL_WRONG_SEX,
        SQL_PARENT_TOO_YOUNG,
        SQL_CULL_BEFORE_SPAWNING,
        SQL_STROKE_BEFORE_BOWL,
        SQL_JUDGED_AFTER_RETIRED,
        SQL_JUDGE_CHAIN,
        SQL_PASSES_MISCOUNTED,
        SQL_SERIAL_BEHIND,
        SQL_SERIAL_REBUILD,
        SQL_LOT_EVENT_STRANGERS,
        SQL_LOT_UNDO_ELSEWHERE,
        SQL_LOT_UNDO_TWICE,
        SQL_LOT_EVENTS,
        SQL_WRONG_INSTANTS,
        SQL_BOWLS_MISCOUNTED,

        SQL_ROUNDS_MISCOUNTED,
        SQL_ROUNDS_RECOUNT,
        SQL_STATION_LATEST,
        SQL_JUDGE_SINCE,
        SQL_PARENT_SINCE,
        SQL_SPAWNING_SINCE,
        SQL_LOT_SINCE,
        SQL_ROUND_SINCE,
        SQL_BOWL_SINCE,
        SQL_RETIRED_LATEST,
        SQL_AUDIT_LOG_ADD,
        SQL_ID_TAKEN,
        SQL_JUDGE_RIGHT_NAME,
        SQL_LOTS_RETIRE_BELOW,
        SQL_ROUNDS_RETIRE_BELOW,
        SQL_BOWLS_RETIRE_BELOW,
        SQL_ROUNDS_RETIRED_AT,
        SQL_JUDGE_NAME_TAKEN,
        SQL_PARENT_CODE_TAKEN,
        SQL_PARENT_FOREBEAR_RETIRED,
        SQL_SPAWNING_CODE_TAKEN,
        SQL_SPAWNING_PARENT_RETIRED,
        SQL_LOT_CODE_TAKEN,
        SQL_LOT_SPAWNING_RETIRED,
        SQL_ROUND_STAGE_TAKEN,
        SQL_ROUND_LOT_RETIRED,
        SQL_BOWL_NUMBER_TAKEN,
        SQL_BOWL_ROUND_RETIRED,
        SQL_FISH_STANDS,
        SQL_ROUND_STANDS,
        SQL_FISH_IN_ROUND,
        SQL_STANDING_WRONG,
        SQL_STANDING_REBUILD,
        SQL_LATEST_PASS_WRONG,
        SQL_ROUND_COUNT,
    };
    for (size_t i = 0; i < sizeof those / sizeof *those; i++)
        if ((int)those[i] == sql)
            return true;
    return false;
}

static bool reads(const char *text, const char *table)
{
    static const char *const words[] = {"FROM ", "JOIN "};
    char clause[64];
    for (int word = 0; word < 2; word++) {
        snprintf(clause, sizeof clause, "%s%s", words[word], table);
        for (const char *at = text; (at = strstr(at, clause)) != NULL; at++)
            if (strchr(" ,)", at[strlen(clause)]) != NULL)
                return true;
    }
    return false;
}

static void whatever_asks_sees_only_what_is_live(void **state)
{
    static const char *const tables[] = {"judge", "parent", "spawning", "lot", "round", "bowl"};
    (void)state;
    for (int sql = 0; sql < SQL_COUNT; sql++) {
        if (sql >= SQL_DEFER_FOREIGN_KEYS && sql <= SQL_CLASH_STANDARDS)
            continue; /* a join is about all records */
        char *text = record_sql(sql_texts[sql]);
        bool bare = false;
        for (size_t i = 0; i < sizeof tables / sizeof *tables; i++)
            bare = bare || reads(text, tables[i]);
        if (bare != sees_retired(sql))
            fail_msg("%s reads %s", text, bare ? "a bare table" : "no bare table any more");
        free(text);
    }
}

/* What people query: scores by aspect, as they are now, of each look and each check. */
static void views_show_strokes_unpacked(void **state)
{
    struct bench *bench = *state;
    int64_t fish = bench_fish(bench, 1, 4);
    bench_stroke(bench, fish, 1, bench_score("white", 2));
    bench_stroke(bench, fish, 1, bench_score("body", 5));
    bench_stroke(bench, fish, 1, bench_score("white", 4));
    bench_stroke(bench, fish, 1, bench_fault("eye", 1));
    bench_stroke(bench, fish, 1, bench_fault("spine", 1));
    bench_stroke(bench, fish, 1, bench_fault("spine", 0));
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM judgements"), 2);
    assert_int_equal(bench_ask(bench, "SELECT score FROM judgements WHERE spawning = 'K1' AND "
                                      "lot = 'K1' AND stage = 'second' AND bowl = 1 AND "
                                      "number = 4 AND look = 1 AND label = 'White ground'"),
                     4);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM faults WHERE fault = 'eye'"), 1);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM faults"), 1);
    /* 100 · (4 · 3 + 2 · 4)/4/6 − 10 points */
    assert_int_equal(bench_ask(bench,
                               "SELECT score * 100 FROM fish_verdicts WHERE verdict = 'keep' "
                               "AND bowl = 1 AND number = 4"),
                     7333);
    assert_int_equal(bench_ask(bench, "SELECT keep FROM rounds WHERE spawning = 'K1'"), 1);
}

static void views_show_counts_and_events(void **state)
{
    struct bench *bench = *state;
    struct round_counts counts;
    struct lot_event event;
    enum saved saved;
    round_counts_init(&counts);
    counts.in = (struct count){500, METHOD_SCOOPED, 60000};
    assert_ok(
        round_counts_record(bench->ledger, bench_round(bench).id, &counts, 0, &saved, &bench->err),
        &bench->err);
    assert_int_equal(bench_ask(bench, "SELECT fish_in FROM counts WHERE spawning = 'K1' AND "
                                      "in_method = 'scooped' AND in_cv = 0.06"),
                     500);
    lot_event_init(&event);
    event.lot_id = bench_round(bench).lot_id;
    event.kind = EVENT_LOST;
    event.fish.number = 7;
    snprintf(event.day, sizeof event.day, "2026-07-20");
    assert_ok(lot_event_record(bench->ledger, &event, 0, &bench->err), &bench->err);
    assert_int_equal(bench_ask(bench, "SELECT fish FROM lot_events WHERE lot = 'K1' AND "
                                      "kind = 'lost' AND day = '2026-07-20'"),
                     7);
}

/* A round's fish are read in the order that indexes have, however many there are. */
static void reading_a_round_sorts_nothing(void **state)
{
    static const enum sql those[] = {SQL_FISH_OF_ROUND, SQL_JUDGED_OF_ROUND};
    struct bench *bench = *state;
    for (int bowl = 1; bowl <= 3; bowl++)
        for (int number = 1; number <= 4; number++)
            bench_stroke(bench, bench_fish(bench, bowl, number), 1, bench_score("white", number));
    for (size_t i = 0; i < sizeof those / sizeof *those; i++) {
        struct query query = query_with(bench->ledger, those[i], bench_round(bench).id);
        int rows = 0;
        while (query_step(&query))
            rows++;
        assert_int_equal(rows, 12);
        assert_int_equal(sqlite3_stmt_status(query.statement, SQLITE_STMTSTATUS_SORT, 0), 0);
        assert_ok(query_end(&query, &bench->err), &bench->err);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_statement_fits_a_new_ledger),
        cmocka_unit_test(no_statement_stands_twice),
        cmocka_unit_test(whatever_asks_sees_only_what_is_live),
        on_stocked_bench(views_show_strokes_unpacked),
        on_stocked_bench(views_show_counts_and_events),
        on_stocked_bench(reading_a_round_sorts_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
