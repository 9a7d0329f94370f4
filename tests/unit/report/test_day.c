#include "private.h"
#include "senbetsu/base/date.h"
#include "senbetsu/report/day.h"
#include "senbetsu/store/tallies.h"
#include "support/import_bench.h"

#define HEAD "spawning,stage,bowl,fish,judge,date,faults,body,white\n"

/* Four fish over two days; a second cull of which only numbers are known.
 */
static int setup(void **state)
{
    int result = small_ledger_setup(state);
    take_text(*state, import_fish,
              HEAD "K1,first,1,1,Ines,2026-07-18,,5,5\n"
                   "K1,first,1,2,Ines,2026-07-18,,4,4\n"
                   "K1,first,1,3,Ines,2026-07-19,,4,4\n"
                   "K1,first,1,4,Ines,2026-07-19,spine,,\n",
              4, 0, 0);
    take_text(*state, import_rounds,
              "spawning,stage,date,in,kept,dead\nK1,second,2026-08-20,900,300,4\n", 1, 0, 0);
    return result;
}

static void test_a_day_of_judging(void **state)
{
    struct small_ledger *small = *state;
    struct day_sheet made;
    struct err err;
    assert_ok(day_sheet_make(small->ledger, "2026-07-19", &made, &err), &err);
    assert_int_equal(made.round_count, 1);
    assert_string_equal(made.rounds[0].spawning, "K1");
    assert_int_equal(made.rounds[0].stage, STAGE_FIRST);
    assert_int_equal(made.rounds[0].looked_at, 2);
    assert_int_equal(cull_not_judged(&made.rounds[0].by_verdict), 1);
    assert_string_equal(made.rounds[0].not_done, "not done: 4 of 5 judged");
    assert_int_equal(made.rounds[0].by_verdict.fish[VERDICT_REJECT], 1);
    assert_int_equal(made.rounds[0].judged_reason_count, 1);
    assert_int_equal(made.rounds[0].judged_reasons[0].fish, 1);
    assert_int_equal(made.rounds[0].counts.in.number, NOT_COUNTED);
    day_sheet_done(&made);
}

static void test_a_day_of_counting(void **state)
{
    struct small_ledger *small = *state;
    struct day_sheet made;
    struct err err;
    assert_ok(day_sheet_make(small->ledger, "2026-08-20", &made, &err), &err);
    assert_int_equal(made.round_count, 1);
    assert_int_equal(made.rounds[0].stage, STAGE_SECOND);
    assert_int_equal(made.rounds[0].looked_at, 0);
    assert_int_equal(made.rounds[0].counts.kept.number, 300);
    assert_int_equal(made.rounds[0].counts.dead, 4);
    day_sheet_done(&made);
}

static void press(struct small_ledger *small, const struct round *round, enum tally_kind kind,
                  const char *reason)
{
    struct tally_mark mark = {.kind = kind};
    struct err err;
    text_copy(mark.reason, sizeof mark.reason, reason);
    assert_ok(tally_record(small->ledger, round->id, 0, &mark, NULL, &err), &err);
}

/* Each day has its own keys, and the round as it stands in the end. */
static void test_days_of_tallying(void **state)
{
    struct small_ledger *small = *state;
    struct day_sheet made;
    struct round round;
    struct tally_mark undone;
    bool is_new;
    struct err err;
    char first[DATE_SIZE], second[DATE_SIZE];
    small->now += INT64_C(100) * DAY_MS;
    date_of_instant(small->now, 0, first);
    date_of_instant(small->now + DAY_MS, 0, second);
    assert_ok(
        round_begin_as(small->ledger, "K1", "", STAGE_THIRD, MANNER_REMOVE, &round, &is_new, &err),
        &err);
    round.expected = 10;
    assert_ok(round_save(small->ledger, &round, 0, &err), &err);
    press(small, &round, TALLY_KEEP, "");
    press(small, &round, TALLY_REJECT, "spine");
    small->now += DAY_MS;
    press(small, &round, TALLY_REJECT, "spine");
    press(small, &round, TALLY_REJECT, "unheard-of");
    press(small, &round, TALLY_DEAD, "");
    press(small, &round, TALLY_KEEP, "");
    assert_ok(tally_undo(small->ledger, round.id, 0, NULL, &undone, &err), &err);

    assert_ok(day_sheet_make(small->ledger, first, &made, &err), &err);
    assert_int_equal(made.round_count, 1);
    assert_int_equal(tally_handled(&made.rounds[0].on_day), 2);
    day_sheet_done(&made);
    assert_ok(day_sheet_make(small->ledger, second, &made, &err), &err);
    const struct day_round *taken = &made.rounds[0];
    assert_true(taken->is_tallied);
    assert_int_equal(taken->on_day.kept.number, 0);
    assert_int_equal(taken->on_day.rejected.number, 2);
    assert_int_equal(taken->on_day.dead.number, 1);
    assert_int_equal(taken->stands.kept.number, 1);
    assert_int_equal(taken->stands.rejected.number, 3);
    assert_int_equal(taken->left, 5);
    assert_int_equal(taken->reason_count, 2);
    assert_string_equal(taken->reasons[1].label, "unheard-of");
    day_sheet_done(&made);
}

/* A round that was only looked at is on the sheet of that day alone. */
static void test_a_day_of_a_first_look(void **state)
{
    struct small_ledger *small = *state;
    struct day_sheet made;
    struct round second;
    struct err err;
    char day[DATE_SIZE];
    small->now += INT64_C(100) * DAY_MS;
    date_of_instant(small->now, 0, day);
    assert_ok(round_begin(small->ledger, "K1", "", STAGE_SECOND, &second, &err), &err);
    assert_ok(first_look_record(small->ledger, second.id, 0, true, NULL, &err), &err);
    assert_ok(first_look_record(small->ledger, second.id, 0, false, NULL, &err), &err);
    assert_ok(day_sheet_make(small->ledger, day, &made, &err), &err);
    assert_int_equal(made.round_count, 1);
    assert_int_equal(made.rounds[0].stage, STAGE_SECOND);
    assert_int_equal(made.rounds[0].first_look.looked_at, 2);
    assert_int_equal(made.rounds[0].first_look.good, 1);
    day_sheet_done(&made);
    assert_ok(day_sheet_make(small->ledger, "2026-07-19", &made, &err), &err);
    assert_int_equal(made.rounds[0].first_look.looked_at, 0);
    day_sheet_done(&made);
}

static void test_a_day_of_rest(void **state)
{
    struct small_ledger *small = *state;
    struct day_sheet made;
    struct err err;
    assert_says(day_sheet_make(small->ledger, "2026-07-20", &made, &err), &err,
                "Nothing was culled on 2026-07-20, and nothing happened to a lot.");
}

#define on_days(test) cmocka_unit_test_setup_teardown(test, setup, small_ledger_teardown)

/* A day on which nobody culled. */
static void test_a_day_of_lots(void **state)
{
    struct small_ledger *small = *state;
    struct day_sheet made;
    struct err err;
    take_text(small, import_lots,
              "spawning,lot,date,event,number,into_lot\nK1,,2026-08-22,dead,7,\n"
              "K1,,2026-08-22,transfer,100,west\nK1,west,2026-08-23,dead,1,\n",
              3, 0, 0);
    assert_ok(day_sheet_make(small->ledger, "2026-08-22", &made, &err), &err);
    assert_int_equal(made.round_count, 0);
    assert_int_equal(made.news_count, 2);
    assert_int_equal(made.news[0].kind, EVENT_DEAD);
    assert_int_equal(made.news[0].fish.number, 7);
    assert_string_equal(made.news[1].target, "west");
    assert_string_equal(made.news[1].spawning, "K1");
    day_sheet_done(&made);
}

static int64_t count_strokes(struct small_ledger *small)
{
    sqlite3_stmt *statement;
    assert_int_equal(
        sqlite3_prepare_v2(small->ledger->db, "SELECT count(*) FROM stroke", -1, &statement, NULL),
        SQLITE_OK);
    assert_int_equal(sqlite3_step(statement), SQLITE_ROW);
    int64_t strokes = sqlite3_column_int64(statement, 0);
    sqlite3_finalize(statement);
    return strokes;
}

static int64_t steps_of_day(struct small_ledger *small, const char *day)
{
    struct day_sheet made;
    struct err err;
    int64_t steps = 0;
    sqlite3 *db = small->ledger->db;
    for (sqlite3_stmt *each = NULL; (each = sqlite3_next_stmt(db, each)) != NULL;)
        sqlite3_stmt_status(each, SQLITE_STMTSTATUS_VM_STEP, 1);
    assert_ok(day_sheet_make(small->ledger, day, &made, &err), &err);
    day_sheet_done(&made);
    for (sqlite3_stmt *each = NULL; (each = sqlite3_next_stmt(db, each)) != NULL;)
        steps += sqlite3_stmt_status(each, SQLITE_STMTSTATUS_VM_STEP, 1);
    return steps;
}

/* What was corrected over and over does not make the sheet of its day slower. */
static void test_a_day_looks_at_no_stroke(void **state)
{
    enum { TIMES = 10 };
    struct small_ledger *small = *state;
    const char *const scores[] = {"5,4", "5,5"};
    int64_t before = count_strokes(small);
    steps_of_day(small, "2026-07-18");
    int64_t few = steps_of_day(small, "2026-07-18");
    for (int i = 0; i < TIMES; i++) {
        char text[256];
        snprintf(text, sizeof text, HEAD "K1,first,1,1,Ines,2026-07-18,,%s\n", scores[i % 2]);
        take_text(small, import_fish, text, 0, 1, 0);
    }
    assert_int_equal(count_strokes(small), before + TIMES);
    assert_int_equal(steps_of_day(small, "2026-07-18"), few);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_a_day_of_lots, setup, small_ledger_teardown),
        on_days(test_a_day_of_judging),
        on_days(test_a_day_of_counting),
        on_days(test_days_of_tallying),
        on_days(test_a_day_of_a_first_look),
        on_days(test_a_day_of_rest),
        on_days(test_a_day_looks_at_no_stroke),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
