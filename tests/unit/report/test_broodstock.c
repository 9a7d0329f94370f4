#include "senbetsu/report/broodstock.h"
#include "support/import_bench.h"

#include <math.h>

static int setup(void **state)
{
    int result = small_ledger_setup(state);
    take_text(*state, import_parents,
              "parent,sex,dam,sire,state\nD1,f,,,\nP1,m,,,sold\nD2,f,D1,P1,\nP2,m,D1,P1,\n"
              "I,,D2,P2,\n",
              5, 0, 0);
    take_text(*state, import_spawnings,
              "spawning,season,dam,sires\nA24,2024,D1,P1;P2\nA25,2025,D1,P2\nA26,2026,,P2\n", 3, 0,
              0);
    return result;
}

static const struct brood_fish *find(const struct broodstock *stock, const char *code)
{
    return &stock->fish[pedigree_place(&stock->pedigree, code)];
}

static void a_fish_knows_what_came_of_it(void **state)
{
    struct small_ledger *small = *state;
    struct broodstock stock;
    struct err err;
    assert_ok(broodstock_read(small->ledger, &stock, &err), &err);
    assert_int_equal(find(&stock, "D1")->spawnings, 2);
    assert_int_equal(find(&stock, "D1")->last_season, 2025);
    assert_int_equal(find(&stock, "D1")->young, 2);
    assert_int_equal(find(&stock, "P2")->spawnings, 3);
    assert_int_equal(find(&stock, "P2")->last_season, 2026);
    assert_int_equal(find(&stock, "P1")->spawnings, 1);
    assert_false(find(&stock, "P1")->available.as_sire);
    assert_true(find(&stock, "P2")->available.as_sire);
    assert_int_equal(find(&stock, "I")->spawnings, 0);
    assert_int_equal(find(&stock, "I")->last_season, 0);
    broodstock_done(&stock);
}

static void the_young_of_full_sibs_are_inbred(void **state)
{
    struct small_ledger *small = *state;
    struct broodstock stock;
    struct err err;
    double inbreeding = -1;
    assert_ok(broodstock_read(small->ledger, &stock, &err), &err);
    assert_ok(
        broodstock_inbreeding(&stock, pedigree_place(&stock.pedigree, "I"), &inbreeding, &err),
        &err);
    assert_true(fabs(inbreeding - 0.25) < 1e-12);
    assert_ok(
        broodstock_inbreeding(&stock, pedigree_place(&stock.pedigree, "D2"), &inbreeding, &err),
        &err);
    assert_true(inbreeding == 0);
    broodstock_done(&stock);
}

#define on_ledger(test) cmocka_unit_test_setup_teardown(test, setup, small_ledger_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_ledger(a_fish_knows_what_came_of_it),
        on_ledger(the_young_of_full_sibs_are_inbred),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
