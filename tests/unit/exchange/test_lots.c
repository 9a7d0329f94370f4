#include "senbetsu/exchange/exchange.h"
#include "senbetsu/report/lots.h"
#include "support/import_bench.h"

#define HEAD "spawning,lot,date,event,number,how,cv,into_spawning,into_lot,pond,note\n"
static const char season[] = HEAD "K1,,2026-07-01,count,9400,counted,,,,,\n"
                                  "K1,,2026-07-01,dead,3,,,,,,\n"
                                  "K1,,2026-07-01,dead,3,,,,,,\n"
                                  "K1,,2026-07-02,transfer,4000,scooped,0.04,K1,west,,\n"
                                  "K1,west,2026-07-02,move,,,,,,North 3,\"mud, clean\"\n"
                                  "K2,,2026-07-05,count,500,,,,,,\n"
                                  "K1,,2026-07-09,transfer,,,,K1;K2,both,,\n"
                                  "K2,,2026-07-09,transfer,,,,K1;K2,both,,\n"
                                  "K1;K2,both,2026-07-10,lost,40,estimated,,,,,heron\n"
                                  "K1;K2,both,2026-07-11,transfer,10,counted,,K1;K2,shade,,\n";

static int setup(void **state)
{
    int result = small_ledger_setup(state);
    take_text(*state, import_spawnings, "spawning,season,variety\nK2,2026,Plain\n", 1, 0, 0);
    return result;
}

static void assert_export(struct small_ledger *small, const char *expected)
{
    struct text out;
    struct err err;
    text_init(&out);
    assert_ok(export_lots(small->ledger, &out, &err), &err);
    assert_string_equal(out.data, expected);
    text_done(&out);
}

static int64_t now_in(struct small_ledger *small, const char *code)
{
    struct lot_line *lines;
    struct err err;
    size_t count;
    int64_t number = 0;
    assert_ok(lot_lines_list(small->ledger, &lines, &count, &err), &err);
    for (size_t i = 0; i < count; i++)
        if (strcmp(lines[i].of.lot, code) == 0)
            number = lines[i].book.now.number;
    lot_lines_free(lines, count);
    return number;
}

static void test_what_was_read_is_written(void **state)
{
    struct small_ledger *small = *state;
    take_text(small, import_lots, season, 10, 0, 0);
    assert_export(small, season);
    assert_int_equal(now_in(small, "west"), 4000);
    assert_int_equal(now_in(small, "both"), 9400 - 6 - 4000 + 500 - 40 - 10);
    assert_int_equal(now_in(small, "shade"), 10);
    assert_int_equal(now_in(small, "K2"), 0);
}

/* Rows that are alike are so many events, in the file as in the ledger. */
static void test_a_second_time_changes_nothing(void **state)
{
    struct small_ledger *small = *state;
    take_text(small, import_lots, season, 10, 0, 0);
    take_text(small, import_lots, season, 0, 0, 10);
    take_text(small, import_lots,
              "spawning,date,event,number\nK1,2026-07-01,dead,3\nK1,2026-07-01,dead,3\n"
              "K1,2026-07-01,dead,3\n",
              1, 0, 2);
    assert_int_equal(now_in(small, "both"), 9400 - 9 - 4000 + 500 - 40 - 10);
}

/* The rows of a file may stand in any order; those of one day keep theirs. */
static void test_the_days_order_the_rows(void **state)
{
    struct small_ledger *small = *state;
    take_text(small, import_lots,
              "spawning,lot,date,event,number,into_lot\nK1,west,2026-07-03,dead,10,\n"
              "K1,,2026-07-02,transfer,60,west\nK1,,2026-07-01,count,100,\n",
              3, 0, 0);
    assert_int_equal(now_in(small, "K1"), 40);
    assert_int_equal(now_in(small, "west"), 50);
}

static void test_what_was_taken_back_can_be_said_again(void **state)
{
    struct small_ledger *small = *state;
    struct lot_event taken;
    struct err err;
    int64_t lot;
    take_text(small, import_lots, "spawning,date,event,number\nK1,2026-07-01,count,9\n", 1, 0, 0);
    assert_ok(lot_begin(small->ledger, "K1", "", &lot, &err), &err);
    assert_ok(lot_last_event(small->ledger, lot, &taken, &err), &err);
    assert_ok(lot_undo(small->ledger, lot, taken.id, 0, &taken, &err), &err);
    assert_export(small, HEAD);
    take_text(small, import_lots, "spawning,date,event,number\nK1,2026-07-01,count,9\n", 1, 0, 0);
    assert_int_equal(now_in(small, "K1"), 9);
}

/* All kinds of bad rows: tests/e2e/bad_input.py. */
static void test_all_rows_or_none(void **state)
{
    struct small_ledger *small = *state;
    refuse_text(small, import_lots,
                HEAD "K1,,2026-07-01,count,9,,,,,,\nK1,,2026-07-01,move,,,,,,,\n",
                "f.csv, line 3, column 10 (pond): name the pond the lot was moved to.");
    refuse_text(small, import_lots, HEAD "K1,,2026-07-01,dead,9,,,,west,,\n",
                "f.csv, line 2, column 9 (into_lot): leave this field empty: dead has none.");
    assert_export(small, HEAD);
}

#define on_season(test) cmocka_unit_test_setup_teardown(test, setup, small_ledger_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_season(test_what_was_read_is_written),
        on_season(test_a_second_time_changes_nothing),
        on_season(test_the_days_order_the_rows),
        on_season(test_what_was_taken_back_can_be_said_again),
        on_season(test_all_rows_or_none),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
