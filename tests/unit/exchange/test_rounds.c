#include "senbetsu/exchange/exchange.h"
#include "senbetsu/report/rounds.h"
#include "senbetsu/store/round_counts.h"
#include "support/import_bench.h"

#define HEAD                                                                                       \
    "spawning,lot,stage,date,manner,in,in_how,in_cv,kept,kept_how,kept_cv,rejected,dead,note,"     \
    "pond_grade,passed_on,kept_apart,put_down\n"
#define FIRST                                                                                      \
    "K1,,first,2026-07-18,pick,98000,weighed,0.05,9400,counted,,88000,600,thundery,500,,40,"       \
    "87000\n"
#define WEST "K1,west,second,2026-08-20,pick,9100,scooped,0.031415,2300,counted,,,,,,,,\n"
#define MIXED "K1;K2,both,harvest,,remove,800,,,390,,,400,10,,,,,\n"

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
    assert_ok(export_rounds(small->ledger, &out, &err), &err);
    assert_string_equal(out.data, expected);
    text_done(&out);
}

/* The round K1/first is there already. */
static void test_what_was_read_is_written(void **state)
{
    struct small_ledger *small = *state;
    take_text(small, import_rounds, HEAD MIXED WEST FIRST, 2, 1, 0);
    assert_export(small, HEAD FIRST WEST MIXED);
    take_text(small, import_rounds, HEAD FIRST WEST MIXED, 0, 0, 3);
    assert_export(small, HEAD FIRST WEST MIXED);
}

static void test_only_what_differs_is_added(void **state)
{
    struct small_ledger *small = *state;
    take_text(small, import_rounds, HEAD WEST, 1, 0, 0);
    take_text(small, import_rounds, "spawning,lot,stage,kept\nK1,west,second,2310\n", 0, 1, 0);
    take_text(small, import_rounds, "spawning,lot,stage,kept\nK1,west,second,\n", 0, 0, 1);
    assert_export(small,
                  HEAD "K1,,first,,judge,,,,,,,,,,,,,\n"
                       "K1,west,second,2026-08-20,pick,9100,scooped,0.031415,2310,,,,,,,,,\n");
    take_text(small, import_rounds, "spawning,lot,stage,manner\nK1,west,second,remove\n", 0, 1, 0);
}

/* Some came back through a torn net. */
static void test_fish_found_again_are_taken(void **state)
{
    struct small_ledger *small = *state;
    struct round_summary *rounds;
    struct err err;
    size_t count;
    take_text(small, import_rounds, "spawning,stage,in,kept\nK1,first,100,104\n", 0, 1, 0);
    assert_ok(round_summary_list(small->ledger, NULL, &rounds, &count, &err), &err);
    assert_int_equal(count, 1);
    assert_int_equal(rounds[0].counts.kept.number, 104);
    free(rounds);
}

/* Early rounds pick the good ones out, later ones the bad, unless it is said. */
static void test_a_manner_that_is_not_said(void **state)
{
    struct small_ledger *small = *state;
    take_text(small, import_rounds,
              "spawning,stage\nK2,first\nK2,second\nK2,third\nK1,first\nK1,harvest\n", 4, 0, 1);
    assert_export(small, HEAD "K1,,first,,judge,,,,,,,,,,,,,\n"
                              "K1,,harvest,,remove,,,,,,,,,,,,,\n"
                              "K2,,first,,pick,,,,,,,,,,,,,\n"
                              "K2,,second,,pick,,,,,,,,,,,,,\n"
                              "K2,,third,,remove,,,,,,,,,,,,,\n");
}

/* A field that is empty, or a column that is not there, leaves what was said. */
static void test_fates_of_rejects(void **state)
{
    struct small_ledger *small = *state;
    take_text(small, import_rounds, HEAD FIRST, 0, 1, 0);
    take_text(small, import_rounds, "spawning,stage,put_down,pond_grade\nK1,first,87010,\n", 0, 1,
              0);
    take_text(small, import_rounds, "spawning,stage,kept_apart\nK1,first,0\n", 0, 1, 0);
    take_text(small, import_rounds, "spawning,stage\nK1,first\n", 0, 0, 1);
    assert_export(small, HEAD "K1,,first,2026-07-18,pick,98000,weighed,0.05,9400,counted,,88000,"
                              "600,thundery,500,,,87010\n");
    refuse_text(small, import_rounds, "spawning,stage,passed_on\nK1,first,few\n",
                "f.csv, line 2, column 3 (passed_on): a whole number");
}

static void test_all_rows_or_none(void **state)
{
    struct small_ledger *small = *state;
    refuse_text(small, import_rounds, "spawning,stage,in\nK2,first,5\nK2,first,5\n",
                "f.csv, line 3, column 2 (stage): this round is already on line 2.");
    refuse_text(small, import_rounds, "spawning,stage,in,in_cv\nK2,first,5,0.1234567\n",
                "f.csv, line 2, column 4 (in_cv): a decimal number from 0 to 1 with at most six");
    refuse_text(small, import_rounds, "spawning,stage,in,in_how,in_cv\nK2,first,5,counted,0.1\n",
                "f.csv, line 2, column 5 (in_cv): Counted fish have no error");
    refuse_text(small, import_rounds, "spawning,stage,kept_how\nK2,first,weighed\n",
                "f.csv, line 2, column 3 (kept_how): Enter the number first");
    refuse_text(small, import_rounds, "spawning,stage\nK1;K2,first\n",
                "f.csv, line 2, column 1 (spawning): name the mixed lot");
    assert_export(small, HEAD "K1,,first,,judge,,,,,,,,,,,,,\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_what_was_read_is_written, setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_only_what_differs_is_added, setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_fish_found_again_are_taken, setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_a_manner_that_is_not_said, setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_fates_of_rejects, setup, small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_all_rows_or_none, setup, small_ledger_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
