#include "senbetsu/report/comparison.h"
#include "support/import_bench.h"

#include <math.h>

/* Two pairs over four seasons. 2024 and 2025 are centres 1 and 2 of Beitler and Landis 1985
 * (tests/data/strata.csv), 2024 of pair a in two spawnings. In 2026 pair a has no black fry and b
 * nothing else; 2023 has fish of a alone. */
#define HEAD "spawning,stage,in,in_how,in_cv,kept,kept_how\n"
static const char rounds[] = HEAD "A23,third,50,counted,,10,counted\n"
                                  "A24,third,20,counted,,8,counted\n"
                                  "A24b,third,16,counted,,3,counted\n"
                                  "A25,third,20,counted,,16,counted\n"
                                  "A25,harvest,16,counted,,4,counted\n"
                                  "A26,third,70,counted,,30,counted\n"
                                  "B24,third,37,counted,,10,counted\n"
                                  "B25,third,32,counted,,22,counted\n"
                                  "B25,harvest,22,scooped,0.1,2,counted\n"
                                  "B26,black,9000,counted,,3000,counted\n"
                                  "A24,first,900,counted,,90,counted\n";

static int setup(void **state)
{
    int result = small_ledger_setup(state);
    take_text(*state, import_parents, "parent\nD1\nD2\nP1\nP2\n", 4, 0, 0);
    take_text(*state, import_spawnings,
              "spawning,season,dam,sires,siring\n"
              "A23,2023,D1,P1,single\nA24,2024,D1,P1,single\nA24b,2024,D1,P1,single\n"
              "A25,2025,D1,P1,single\nA26,2026,D1,P1,single\nB24,2024,D2,P1;P2,group\n"
              "B25,2025,D2,P1;P2,group\nB26,2026,D2,P1;P2,group\n",
              8, 0, 0);
    take_text(*state, import_rounds, rounds, 11, 0, 0);
    return result;
}

static struct comparison compare(struct small_ledger *small, int stage)
{
    struct comparison compared;
    struct err err;
    assert_ok(compare_make(small->ledger, "D1+P1", "D2+P2;P1", stage, NULL, &compared, &err), &err);
    return compared;
}

static void assert_fish(const struct two_groups *fish, int64_t in_a, int64_t kept_a, int64_t in_b,
                        int64_t kept_b)
{
    assert_int_equal(fish->in_a, in_a);
    assert_int_equal(fish->kept_a, kept_a);
    assert_int_equal(fish->in_b, in_b);
    assert_int_equal(fish->kept_b, kept_b);
}

/* The differences by hand, 11/36 − 10/37 and 16/20 − 22/32; weighted by 36·37/73 and 20·32/52. */
static void compares_season_by_season_and_together(void **state)
{
    struct comparison compared = compare(*state, STAGE_THIRD);
    const struct comparison *both = &compared;
    assert_string_equal(both->pairs[0], "D1+P1");
    assert_string_equal(both->pairs[1], "D2+P1;P2");
    assert_int_equal(both->count, 2);
    assert_int_equal(both->rows[0].season, 2024);
    assert_fish(&both->rows[0].fish, 36, 11, 37, 10);
    assert_fish(&both->rows[1].fish, 20, 16, 32, 22);
    assert_fish(&both->all.fish, 56, 27, 69, 32);
    double one = 11.0 / 36 - 10.0 / 37, two = 16.0 / 20 - 22.0 / 32;
    double weight_one = 36.0 * 37 / 73, weight_two = 20.0 * 32 / 52;
    assert_float_equal(both->rows[0].difference.value, one, 1e-14);
    assert_float_equal(both->rows[1].odds_ratio.value, 16.0 * 10 / (4 * 22), 1e-14);
    assert_float_equal(both->all.difference.value,
                       (one * weight_one + two * weight_two) / (weight_one + weight_two), 1e-14);
    double ratio = (11.0 * 27 / 73 + 16.0 * 10 / 52) / (25.0 * 10 / 73 + 4.0 * 22 / 52);
    assert_float_equal(both->all.odds_ratio.value, ratio, 1e-14);
    assert_true(both->rows[0].equal.known && both->all.equal.known);
    assert_false(both->rows[0].alike.known);
    assert_true(both->all.alike.known && both->all.alike.df == 1);
    assert_false(both->estimated);
    compare_done(&compared);
}

static void says_what_is_left_out(void **state)
{
    struct comparison compared = compare(*state, STAGE_THIRD);
    const struct comparison *both = &compared;
    assert_int_equal(both->left_out_count, 3);
    assert_string_equal(both->left_out[0].spawning, "A23");
    assert_true(both->left_out[0].alone && both->left_out[0].pair == 0);
    assert_string_equal(both->left_out[1].spawning, "A26");
    assert_true(both->left_out[1].alone);
    assert_string_equal(both->left_out[2].spawning, "B26");
    assert_false(both->left_out[2].alone);
    assert_int_equal(both->left_out[2].pair, 1);
    compare_done(&compared);
}

/* Of pair a: 10/50, 8/20, 3/16, 16/20, 30/70; within a season only 2024 has two. */
static void tells_how_spawnings_differ(void **state)
{
    struct comparison compared = compare(*state, STAGE_THIRD);
    const struct pair_overdispersion *overdispersion = &compared.overdispersions[0];
    assert_int_equal(overdispersion->spawnings, 5);
    assert_float_equal(overdispersion->lowest, 3.0 / 16, 1e-14);
    assert_float_equal(overdispersion->highest, 0.8, 1e-14);
    assert_true(overdispersion->overall.known && overdispersion->overall.df == 4);
    assert_true(overdispersion->overall.p < 0.001 && overdispersion->tarone.p < 0.001);
    assert_true(overdispersion->beyond_chance > 0.1);
    assert_true(overdispersion->within.known && overdispersion->within.df == 1);
    assert_true(overdispersion->within.p > 0.1);
    assert_int_equal(compared.overdispersions[1].spawnings, 2);
    compare_done(&compared);
}

/* Both were counted from third to harvest in 2025 alone: 4 of 20 against 2 of 32. */
static void goes_as_far_as_both_went(void **state)
{
    struct comparison compared = compare(*state, -1);
    const struct comparison *both = &compared;
    assert_true(both->has_stages);
    assert_int_equal(both->first, STAGE_THIRD);
    assert_int_equal(both->last, STAGE_HARVEST);
    assert_int_equal(both->count, 1);
    assert_fish(&both->rows[0].fish, 20, 4, 32, 2);
    assert_fish(&both->all.fish, 20, 4, 32, 2);
    assert_true(both->estimated);
    assert_int_equal(both->left_out_count, 6);
    compare_done(&compared);
}

/* Both were at the house cull of 2026 as well: a single cull is no way. */
static void a_way_goes_before_a_later_cull_alone(void **state)
{
    take_text(*state, import_rounds,
              HEAD "A26,house,40,counted,,9,counted\nB26,house,30,counted,,8,counted\n", 2, 0, 0);
    struct comparison compared = compare(*state, -1);
    assert_int_equal(compared.first, STAGE_THIRD);
    assert_int_equal(compared.last, STAGE_HARVEST);
    compare_done(&compared);
}

static void black_fry_are_compared_where_there_is_nothing_else(void **state)
{
    take_text(*state, import_spawnings, "spawning,season,dam,sires,siring\nC26,2026,D2,P2,single\n",
              1, 0, 0);
    take_text(*state, import_rounds, HEAD "C26,black,5000,counted,,1000,counted\n", 1, 0, 0);
    struct comparison compared;
    struct err err;
    struct small_ledger *small = *state;
    assert_ok(compare_make(small->ledger, "D2+P2", "D2+P1;P2", -1, NULL, &compared, &err), &err);
    assert_int_equal(compared.first, STAGE_BLACK);
    assert_int_equal(compared.last, STAGE_BLACK);
    assert_fish(&compared.all.fish, 5000, 1000, 9000, 3000);
    compare_done(&compared);
    /* They are never taken together with later culls. */
    assert_ok(compare_make(small->ledger, "D1+P1", "D2+P2", -1, NULL, &compared, &err), &err);
    assert_false(compared.has_stages);
    assert_int_equal(compared.count, 0);
    assert_false(compared.all.difference.known || compared.all.equal.known);
    compare_done(&compared);
}

/* Black fry are taken together with no later cull even where both pairs have both. Of the way, its
 * beginning alone is an estimate. */
static void the_way_begins_after_the_black_fry(void **state)
{
    take_text(*state, import_spawnings,
              "spawning,season,dam,sires,siring\nC26,2026,D2,P2,single\nE26,2026,D1,P2,single\n", 2,
              0, 0);
    take_text(*state, import_rounds,
              HEAD "C26,black,5000,counted,,1000,counted\nC26,third,90,scooped,0.1,40,counted\n"
                   "E26,black,6000,counted,,2000,counted\nE26,third,80,counted,,30,counted\n"
                   "C26,harvest,40,counted,,20,counted\nE26,harvest,30,counted,,10,counted\n",
              6, 0, 0);
    struct comparison compared;
    struct err err;
    struct small_ledger *small = *state;
    assert_ok(compare_make(small->ledger, "D2+P2", "D1+P2", -1, NULL, &compared, &err), &err);
    assert_int_equal(compared.first, STAGE_THIRD);
    assert_int_equal(compared.last, STAGE_HARVEST);
    assert_fish(&compared.all.fish, 90, 20, 80, 10);
    assert_true(compared.estimated);
    compare_done(&compared);
}

/* The variety of a pair is that of its latest spawning. */
static void names_the_varieties(void **state)
{
    take_text(*state, import_spawnings,
              "spawning,season,variety,dam,sires,siring\nA27,2027,Kikusui,D1,P1,single\n"
              "B22,2022,Kohaku,D2,P1;P2,group\n",
              2, 0, 0);
    struct comparison compared;
    struct err err;
    struct small_ledger *small = *state;
    take_text(*state, import_rounds,
              HEAD "A27,third,50,counted,,10,counted\nB22,third,50,counted,,10,counted\n", 2, 0, 0);
    assert_ok(compare_make(small->ledger, "D1+P1", "D2+P1;P2", -1, NULL, &compared, &err), &err);
    assert_string_equal(compared.varieties[0], "Kikusui");
    assert_string_equal(compared.varieties[1], "");
    compare_done(&compared);
}

/* The row shows them; the sum of seasons does without. */
static void more_kept_than_went_in_cannot_be_compared(void **state)
{
    take_text(*state, import_rounds, HEAD "B24,third,37,counted,,40,counted\n", 0, 1, 0);
    struct comparison compared = compare(*state, STAGE_THIRD);
    const struct comparison *both = &compared;
    assert_int_equal(both->count, 2);
    assert_true(both->rows[0].recovered && both->rows[0].difference.known);
    assert_false(both->rows[0].difference.has_interval || both->rows[0].equal.known);
    assert_false(both->rows[0].odds_ratio.known);
    assert_fish(&both->all.fish, 20, 16, 32, 22);
    assert_int_equal(both->overdispersions[1].spawnings, 1);
    compare_done(&compared);
}

static void a_pair_is_not_compared_with_itself(void **state)
{
    struct small_ledger *small = *state;
    struct comparison compared;
    struct err err;
    assert_says(compare_make(small->ledger, "D2+P1;P2", "D2+P2;P1", -1, NULL, &compared, &err),
                &err, "Name two different pairs");
    assert_int_equal(err.code, ERR_USAGE);
    assert_says(compare_make(small->ledger, "D1+P1", "D1+P2", -1, NULL, &compared, &err), &err,
                "nearest: D1+P1");
}

#define on_farm(test) cmocka_unit_test_setup_teardown(test, setup, small_ledger_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_farm(compares_season_by_season_and_together),
        on_farm(says_what_is_left_out),
        on_farm(tells_how_spawnings_differ),
        on_farm(goes_as_far_as_both_went),
        on_farm(a_way_goes_before_a_later_cull_alone),
        on_farm(black_fry_are_compared_where_there_is_nothing_else),
        on_farm(the_way_begins_after_the_black_fry),
        on_farm(names_the_varieties),
        on_farm(more_kept_than_went_in_cannot_be_compared),
        on_farm(a_pair_is_not_compared_with_itself),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
