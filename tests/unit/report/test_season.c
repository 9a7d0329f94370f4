#include "senbetsu/report/season.h"
#include "senbetsu/store/tallies.h"
#include "support/import_bench.h"
#include "support/test.h"

#include <math.h>

static void assert_near(double found, double expected)
{
    if (fabs(found - expected) > 1e-12)
        fail_msg("%.15g came out, not %.15g", found, expected);
}

static void each_parent_counts_once(void **state)
{
    (void)state;
    const struct parentage spawnings[] = {
        {"D1", "P1", 600}, {"D1", "P2;P10", 200}, {"D10", "P1", 200}};
    struct season_parents parents = season_parents_sum(spawnings, 3);
    assert_int_equal(parents.dams, 2);
    assert_int_equal(parents.sires, 3);
    assert_int_equal(parents.left_out, 0);
    assert_near(parents.effective, 24.0 / 5);
    /* Dams 0.8 and 0.2, sires 0.8, 0.1 and 0.1. */
    double dams = 1 / 0.68, sires = 1 / 0.66;
    assert_near(parents.effective_by_fish, 4 * dams * sires / (dams + sires));
}

static void a_spawning_nobody_has_counted_leaves_the_shares_open(void **state)
{
    (void)state;
    const struct parentage spawnings[] = {{"D1", "P1", 600}, {"D2", "P2", NOT_COUNTED}};
    struct season_parents parents = season_parents_sum(spawnings, 2);
    assert_near(parents.effective, 4);
    assert_near(parents.effective_by_fish, 0);
}

static void spawnings_without_named_parents_are_left_out(void **state)
{
    (void)state;
    const struct parentage spawnings[] = {
        {"D1", "", 10}, {"", "P1", NOT_COUNTED}, {"D1", "P1", 5}, {"D2", "P1", 0}};
    struct season_parents parents = season_parents_sum(spawnings, 4);
    assert_int_equal(parents.left_out, 2);
    assert_near(parents.effective, 8.0 / 3);
    assert_near(parents.effective_by_fish, 2);
    parents = season_parents_sum(spawnings, 2);
    assert_int_equal(parents.dams, 0);
    assert_near(parents.effective, 0);
    assert_near(parents.effective_by_fish, 0);
}

static int setup(void **state)
{
    int result = small_ledger_setup(state);
    take_text(*state, import_parents, "parent\nD1\nP1\nP2\n", 3, 0, 0);
    take_text(*state, import_spawnings,
              "spawning,season,date,variety,dam,sires,siring,eggs,hatched,note\n"
              "K1,2026,2026-05-20,Kikusui,D1,P1,single,50000,25000,at night\n"
              "K3,2026,2026-05-18,Kikusui,D1,P1;P2,group,,,\nA1,2025,,Kikusui,,,,,,\n",
              2, 1, 0);
    take_text(*state, import_rounds,
              "spawning,lot,stage,in,in_how,in_cv,kept,kept_how,rejected,dead,put_down\n"
              "K1,west,second,800,counted,,240,counted,,,\n"
              "K1,,second,1000,counted,,400,counted,590,,580\n"
              "K1,,first,20000,weighed,0.05,1900,counted,,50,\n"
              "K1;K3,both,harvest,900,counted,,450,counted,,,\n"
              "A1,,first,1000,counted,,100,counted,,,\n",
              4, 1, 0);
    return result;
}

static void test_a_season_stands_apart(void **state)
{
    struct small_ledger *small = *state;
    struct season_book made;
    struct err err;
    assert_ok(season_book_make(small->ledger, 2025, NULL, &made, &err), &err);
    assert_int_equal(made.entry_count, 1);
    assert_string_equal(made.entries[0].title, "A1, Kikusui");
    assert_string_equal(made.entries[0].lot_origin, "");
    assert_int_equal(made.entries[0].eggs, NOT_COUNTED);
    season_book_done(&made);
    assert_says(season_book_make(small->ledger, 2024, NULL, &made, &err), &err,
                "no spawning of the season 2024");
    int season;
    assert_ok(season_current(small->ledger, "2026-11-05", &season, &err), &err);
    assert_int_equal(season, 2026);
    assert_ok(season_current(small->ledger, "2027-03-01", &season, &err), &err);
    assert_int_equal(season, 2026);
    assert_ok(season_current(small->ledger, "2025-12-31", &season, &err), &err);
    assert_int_equal(season, 2025);
    assert_ok(season_current(small->ledger, "1999-06-14", &season, &err), &err);
    assert_int_equal(season, 1999);
}

/* By date; each with all its lots' rounds in the order of the stages, and the rates' own rows. */
static void test_spawnings_have_their_rounds(void **state)
{
    struct small_ledger *small = *state;
    struct season_book made;
    struct err err;
    assert_ok(season_book_make(small->ledger, 2026, NULL, &made, &err), &err);
    assert_int_equal(made.spawning_entries, 2);
    assert_string_equal(made.entries[0].title, "K3, Kikusui, 2026-05-18");
    assert_string_equal(made.entries[0].lot_origin, "D1 × P1;P2 (group)");
    assert_int_equal(made.entries[0].round_count, 0);
    const struct book_entry *k1 = &made.entries[1];
    assert_string_equal(k1->note, "at night");
    assert_int_equal(k1->hatched, 25000);
    assert_int_equal(k1->round_count, 3);
    assert_int_equal(k1->rounds[0].summary.counts.in.method, METHOD_WEIGHED);
    assert_int_equal(k1->rounds[0].summary.counts.dead, 50);
    assert_string_equal(k1->rounds[1].lot, "");
    assert_string_equal(k1->rounds[2].lot, "west");
    assert_int_equal(k1->rounds[1].fates.fish[FATE_PUT_DOWN], 580);
    assert_int_equal(k1->rounds[1].fates.fish[FATE_UNDECIDED], 10);
    assert_int_equal(k1->row_count, 3);
    assert_int_equal(k1->rows[1].cull.in, 1800);
    assert_int_equal(k1->rows[2].cull.kept, 640);
    season_book_done(&made);
}

/* A look is told with the round that it was before, also where nothing else is known of it. */
static void test_a_first_look_is_told(void **state)
{
    struct small_ledger *small = *state;
    struct season_book made;
    struct round round;
    struct err err;
    assert_ok(round_begin(small->ledger, "K3", "", STAGE_FIRST, &round, &err), &err);
    assert_ok(first_look_record(small->ledger, round.id, 0, true, NULL, &err), &err);
    assert_ok(season_book_make(small->ledger, 2026, NULL, &made, &err), &err);
    assert_int_equal(made.entries[0].round_count, 1);
    assert_int_equal(made.entries[0].rounds[0].first_look.good, 1);
    assert_int_equal(made.entries[1].rounds[0].first_look.looked_at, 0);
    season_book_done(&made);
}

static void test_mixed_lots_and_the_season_follow(void **state)
{
    struct small_ledger *small = *state;
    struct season_book made;
    struct err err;
    assert_ok(season_book_make(small->ledger, 2026, NULL, &made, &err), &err);
    assert_int_equal(made.entry_count, 3);
    const struct book_entry *both = &made.entries[2];
    assert_string_equal(both->title, "both, Kikusui");
    assert_string_equal(both->lot_origin, "mixed from K1;K3; credited to none of them");
    assert_int_equal(both->round_count, 1);
    assert_int_equal(both->rows[0].cull.kept, 450);
    assert_int_equal(made.season_row_count, 4);
    assert_int_equal(made.season_rows[0].cull.in, 20000);
    assert_int_equal(made.season_rows[3].cull.kept, 450);
    season_book_done(&made);
}

/* One dam and both sires; K3, whose fish only the mixed lot counts, leaves the shares open. */
static void test_parents_of_the_season_are_counted(void **state)
{
    struct small_ledger *small = *state;
    struct season_book made;
    struct err err;
    assert_ok(season_book_make(small->ledger, 2026, NULL, &made, &err), &err);
    assert_int_equal(made.parents.dams, 1);
    assert_int_equal(made.parents.sires, 2);
    assert_true(made.parents.effective_by_fish == 0);
    season_book_done(&made);
    take_text(small, import_rounds,
              "spawning,stage,in,in_how,kept,kept_how\nK3,second,900,counted,200,counted\n", 1, 0,
              0);
    assert_ok(season_book_make(small->ledger, 2026, NULL, &made, &err), &err);
    /* K1 kept 640 at the second cull, not 1900 at the first: P1 has 740 of 840, P2 has 100. */
    double sires = 840.0 * 840 / (740.0 * 740 + 100.0 * 100);
    double expected = 4 * sires / (1 + sires);
    assert_true(made.parents.effective_by_fish > expected - 1e-12 &&
                made.parents.effective_by_fish < expected + 1e-12);
    season_book_done(&made);
    assert_ok(season_book_make(small->ledger, 2025, NULL, &made, &err), &err);
    assert_int_equal(made.parents.left_out, 1);
    assert_int_equal(made.parents.dams, 0);
    season_book_done(&made);
}

#define on_season(test) cmocka_unit_test_setup_teardown(test, setup, small_ledger_teardown)

/* Lots to which something happened, with where their fish went. */
static void test_lots_are_told(void **state)
{
    struct small_ledger *small = *state;
    struct season_book made;
    struct err err;
    take_text(small, import_lots,
              "spawning,lot,date,event,number,into_spawning,into_lot,pond\n"
              "K1,,2026-07-01,count,1000,,,\nK1,,2026-07-02,dead,12,,,\n"
              "K1,,2026-07-03,transfer,300,,east,\nK1,east,2026-07-03,move,,,,North 3\n"
              "K1,east,2026-07-20,transfer,,K1;K3,both,\n",
              5, 0, 0);
    assert_ok(season_book_make(small->ledger, 2026, NULL, &made, &err), &err);
    assert_int_equal(made.entries[0].lot_count, 0);
    const struct book_entry *k1 = &made.entries[1], *both = &made.entries[2];
    assert_int_equal(k1->lot_count, 2);
    assert_string_equal(k1->lots[0].lot, "");
    assert_int_equal(k1->lots[0].book.dead, 12);
    assert_int_equal(k1->lots[0].transfer_count, 1);
    assert_string_equal(k1->lots[0].transfers[0].target, "east");
    assert_string_equal(k1->lots[1].lot, "east");
    assert_string_equal(k1->lots[1].pond, "North 3");
    assert_int_equal(k1->lots[1].transfers[0].fish.number, 300);
    assert_int_equal(both->lot_count, 1);
    assert_int_equal(both->lots[0].book.moved_in, 300);
    season_book_done(&made);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_parent_counts_once),
        cmocka_unit_test(a_spawning_nobody_has_counted_leaves_the_shares_open),
        cmocka_unit_test(spawnings_without_named_parents_are_left_out),

        cmocka_unit_test_setup_teardown(test_lots_are_told, setup, small_ledger_teardown),
        on_season(test_a_season_stands_apart),
        on_season(test_spawnings_have_their_rounds),
        on_season(test_a_first_look_is_told),
        on_season(test_mixed_lots_and_the_season_follow),
        on_season(test_parents_of_the_season_are_counted),

    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
