#include "senbetsu/store/spawnings.h"
#include "support/import_bench.h"

static int setup(void **state)
{
    int result = small_ledger_setup(state);
    take_text(*state, import_parents, "parent,sex\nK7,f\nP1,m\nP2,m\n", 3, 0, 0);
    return result;
}

static struct spawning get(struct small_ledger *small, const char *code)
{
    struct spawning spawning;
    struct err err;
    assert_ok(spawning_get(small->ledger, code, &spawning, &err), &err);
    return spawning;
}

static void test_a_whole_row(void **state)
{
    struct small_ledger *small = *state;
    take_text(small, import_spawnings,
              "spawning,season,date,variety,dam,sires,siring,eggs,hatched,note\n"
              "S9,2026,2026-06-02,Plain,K7,P2;P1,pooled,200000,150000,warm night\n",
              1, 0, 0);
    struct spawning spawning = get(small, "S9");
    assert_int_equal(spawning.season, 2026);
    assert_string_equal(spawning.date, "2026-06-02");
    assert_string_equal(spawning.dam, "K7");
    assert_string_equal(spawning.sires, "P1;P2");
    assert_int_equal(spawning.siring, SIRING_POOLED);
    assert_int_equal(spawning.eggs, 200000);
    assert_int_equal(spawning.hatched, 150000);
    assert_string_equal(spawning.note, "warm night");
}

static void test_the_season_follows_from_the_date(void **state)
{
    struct small_ledger *small = *state;
    take_text(small, import_spawnings, "spawning,date\nS9,2025-05-30\n", 1, 0, 0);
    assert_int_equal(get(small, "S9").season, 2025);
    assert_int_equal(get(small, "S9").eggs, NOT_COUNTED);
}

/* Nobody said how sure the sire is: of several, none is certain. */
static void test_siring_that_is_not_said(void **state)
{
    struct small_ledger *small = *state;
    take_text(small, import_spawnings, "spawning,season,sires\nS1,2026,P1\nS2,2026,P1;P2\n", 2, 0,
              0);
    assert_int_equal(get(small, "S1").siring, SIRING_SINGLE);
    assert_int_equal(get(small, "S2").siring, SIRING_GROUP);
    take_text(small, import_spawnings, "spawning,season,siring\nS2,2026,split\n", 0, 1, 0);
    take_text(small, import_spawnings, "spawning,season,sires\nS2,2026,P2;P1\n", 0, 0, 1);
    assert_int_equal(get(small, "S2").siring, SIRING_SPLIT);
}

static void test_sires_are_checked_one_by_one(void **state)
{
    struct small_ledger *small = *state;
    refuse_text(small, import_spawnings, "spawning,season,sires\nS1,2026,P1;P9\n",
                "f.csv, line 2, column 3 (sires): There is no parent P9");
    refuse_text(small, import_spawnings, "spawning,season,sires\nS1,2026,P1;;P2\n",
                "f.csv, line 2, column 3 (sires): a sire's code is empty.");
    refuse_text(small, import_spawnings, "spawning,season,sires\nS1,2026,P1;P2;P1\n",
                "f.csv, line 2, column 3 (sires): P1 is named twice.");
    refuse_text(
        small, import_spawnings, "spawning,season,sires,siring\nS1,2026,P1;P2,single\n",
        "f.csv, line 2, column 4 (siring): Spawning S1 has 2 sires, so its siring is split");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_a_whole_row, setup, small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_the_season_follows_from_the_date, setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_siring_that_is_not_said, setup, small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_sires_are_checked_one_by_one, setup,
                                        small_ledger_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
