#include "senbetsu/report/rates.h"
#include "senbetsu/store/fish.h"
#include "support/import_bench.h"
#include "support/test.h"

static const struct lot_origin lots[] = {
    {.lot = "K2",
     .own = true,
     .spawnings = (char[]){"K2"},
     .season = 2026,
     .variety = "Kikusui",
     .dam = "D1",
     .sires = (char[]){"S1"}},
    {.lot = "K1",
     .own = true,
     .spawnings = (char[]){"K1"},
     .season = 2025,
     .variety = "Kikusui",
     .dam = "D1",
     .sires = (char[]){"S1"}},
    {.lot = "west",
     .spawnings = (char[]){"K2"},
     .season = 2026,
     .variety = "Kikusui",
     .dam = "D1",
     .sires = (char[]){"S1"}},
    {.lot = "west",
     .spawnings = (char[]){"K3"},
     .season = 2026,
     .dam = "D1",
     .sires = (char[]){"S1;S2"}},
    {.lot = "both",
     .mixed = true,
     .spawnings = (char[]){"K2;K3"},
     .season = 2026,
     .sires = (char[]){""}},
    {.lot = "O1",
     .own = true,
     .spawnings = (char[]){"O1"},
     .season = 2026,
     .variety = "Ogon",
     .dam = "D2",
     .sires = (char[]){""}},
};
enum { LOTS = sizeof lots / sizeof *lots };

struct expected {
    const char *keys[LOTS];
    int seasons[LOTS];
    int of[LOTS];
};

static void assert_keys(enum rates_by by, const struct expected *expected)
{
    struct rate_keys keys;
    rate_keys_init(&keys, by, NULL, lots, LOTS);
    for (size_t i = 0; i < keys.count; i++) {
        assert_string_equal(keys.list[i].text, expected->keys[i]);
        assert_int_equal(keys.list[i].season, expected->seasons[i]);
    }
    assert_true(keys.count == LOTS || expected->keys[keys.count] == NULL);
    for (size_t i = 0; i < LOTS; i++)
        assert_int_equal(keys.of[i], expected->of[i]);
    rate_keys_done(&keys);
}

/* Lots of the same name stay apart: each is of its own spawning. */
static void each_lot_is_a_key_of_its_own(void **state)
{
    (void)state;
    assert_keys(BY_LOT, &(struct expected){{"K1", "K2", "O1", "both", "west", "west"},
                                           {2025, 2026, 2026, 2026, 2026, 2026},
                                           {1, 0, 4, 5, 3, 2}});
}

static void mixed_lots_are_no_spawnings_and_no_pairs(void **state)
{
    (void)state;
    assert_keys(BY_SPAWNING, &(struct expected){{"K1", "K2", "K3", "O1"},
                                                {2025, 2026, 2026, 2026},
                                                {1, 0, 1, 2, NO_KEY, 3}});
}

/* A pair is one over all seasons, a group of sires is another; without a sire there is none. */
static void a_group_of_sires_is_no_single_sire(void **state)
{
    (void)state;
    assert_keys(BY_PAIR,
                &(struct expected){{"D1+S1", "D1+S1;S2"}, {0, 2026}, {0, 0, 0, 1, NO_KEY, NO_KEY}});
}

static void seasons_and_varieties_take_mixed_lots(void **state)
{
    (void)state;
    assert_keys(BY_SEASON, &(struct expected){{"2025", "2026"}, {2025, 2026}, {1, 0, 1, 1, 1, 1}});
    assert_keys(BY_VARIETY,
                &(struct expected){{"Kikusui", "Ogon"}, {0, 2026}, {0, 0, 0, NO_KEY, NO_KEY, 1}});
}

/* A season worked out by hand. K1 (single sire) is split after the first cull, K3 (the same dam
 * with two sires) is not; what is left of both is put together for the harvest. S1 begins with a
 * black cull. 1930 → 623 and 1000 → 368 are two third culls that a breeder published, pooled
 * 991/2930. */
#define HEAD "spawning,lot,stage,in,in_how,in_cv,kept,kept_how,kept_cv,dead\n"
static const char rounds[] = HEAD "K1,,first,20000,counted,,1900,counted,,50\n"
                                  "K1,,second,1000,counted,,400,counted,,\n"
                                  "K1,west,second,800,counted,,240,counted,,7\n"
                                  "K3,,first,10000,counted,,1100,counted,,\n"
                                  "K3,,second,1100,counted,,330,counted,,\n"
                                  "K1;K3,both,harvest,900,counted,,450,counted,,\n"
                                  "A1,,third,1930,counted,,623,counted,,\n"
                                  "B1,,third,1000,counted,,368,counted,,\n"
                                  "S1,,black,50000,weighed,0.05,15000,scooped,0.04,\n"
                                  "S1,,first,15000,scooped,0.04,1500,counted,,\n"
                                  "S1,,second,1400,counted,,1450,counted,,\n";

static int setup(void **state)
{
    int result = small_ledger_setup(state);
    take_text(*state, import_parents, "parent\nD1\nD2\nP1\nP2\n", 4, 0, 0);
    take_text(*state, import_spawnings,
              "spawning,season,variety,dam,sires,siring,hatched\n"
              "K1,2026,Kikusui,D1,P1,single,25000\nK3,2026,Kikusui,D1,P1;P2,group,12500\n"
              "A1,2025,Kikusui,D2,P1,single,\nB1,2024,Kikusui,D2,P1,single,\n"
              "S1,2026,Showa,D2,P2,single,\n",
              4, 1, 0);
    take_text(*state, import_rounds, rounds, 10, 1, 0);
    return result;
}

static struct rates make(struct small_ledger *small, enum rates_by by, int stage)
{
    struct rates rates;
    struct err err;
    assert_ok(rates_make(small->ledger, by, stage, NULL, &rates, &err), &err);
    return rates;
}

static const struct rate_row *find(const struct rates *rates, const char *key, enum stage first,
                                   enum stage last)
{
    for (size_t i = 0; i < rates->count; i++)
        if (strcmp(rates->rows[i].key, key) == 0 && rates->rows[i].first == first &&
            rates->rows[i].last == last)
            return &rates->rows[i];
    return NULL;
}

static void assert_row(const struct rates *rates, const char *key, enum stage first,
                       enum stage last, int64_t in, int64_t kept, double rate)
{
    const struct rate_row *row = find(rates, key, first, last);
    if (row == NULL)
        fail_msg("%s has no row", key);
    assert_int_equal(row->cull.in, in);
    assert_int_equal(row->cull.kept, kept);
    assert_true(row->has_rate);
    assert_float_equal(row->rate, rate, 1e-12);
}

static void assert_stage(const struct rates *rates, const char *key, enum stage stage, int64_t in,
                         int64_t kept)
{
    assert_row(rates, key, stage, stage, in, kept, (double)kept / (double)in);
}

static void test_by_lot(void **state)
{
    struct rates rates = make(*state, BY_LOT, -1);
    assert_stage(&rates, "K1", STAGE_FIRST, 20000, 1900);
    assert_stage(&rates, "K1", STAGE_SECOND, 1000, 400);
    assert_row(&rates, "K1", STAGE_FIRST, STAGE_SECOND, 20000, 400, 0.095 * 0.4);
    assert_stage(&rates, "west", STAGE_SECOND, 800, 240);
    assert_string_equal(find(&rates, "west", STAGE_SECOND, STAGE_SECOND)->spawnings, "K1");
    assert_int_equal(find(&rates, "west", STAGE_SECOND, STAGE_SECOND)->cull.dead, 7);
    assert_stage(&rates, "both", STAGE_HARVEST, 900, 450);
    assert_string_equal(find(&rates, "both", STAGE_HARVEST, STAGE_HARVEST)->spawnings, "K1;K3");
    rates_done(&rates);
}

static void test_by_spawning(void **state)
{
    struct rates rates = make(*state, BY_SPAWNING, -1);
    assert_stage(&rates, "K1", STAGE_SECOND, 1800, 640);
    assert_row(&rates, "K1", STAGE_FIRST, STAGE_SECOND, 20000, 640, 0.095 * 640 / 1800);
    assert_row(&rates, "K3", STAGE_FIRST, STAGE_SECOND, 10000, 330, 0.11 * 0.3);
    for (size_t i = 0; i < rates.count; i++)
        assert_true(rates.rows[i].first != STAGE_HARVEST);
    rates_done(&rates);
}

static void test_by_pair(void **state)
{
    struct rates rates = make(*state, BY_PAIR, -1);
    assert_stage(&rates, "D1+P1", STAGE_FIRST, 20000, 1900);
    assert_stage(&rates, "D1+P1;P2", STAGE_FIRST, 10000, 1100);
    assert_stage(&rates, "D2+P1", STAGE_THIRD, 2930, 991);
    assert_int_equal(find(&rates, "D2+P1", STAGE_THIRD, STAGE_THIRD)->season, 0);
    assert_int_equal(find(&rates, "D1+P1", STAGE_FIRST, STAGE_FIRST)->season, 2026);
    rates_done(&rates);
}

/* All fish of the stage, the mixed lot's too; the black fry stay outside the chain. */
static void test_by_season_and_variety(void **state)
{
    struct rates rates = make(*state, BY_SEASON, -1);
    assert_stage(&rates, "2026", STAGE_FIRST, 45000, 4500);
    assert_stage(&rates, "2026", STAGE_SECOND, 4300, 2420);
    assert_stage(&rates, "2026", STAGE_HARVEST, 900, 450);
    assert_row(&rates, "2026", STAGE_FIRST, STAGE_HARVEST, 45000, 450, 0.1 * 2420 / 4300 * 0.5);
    rates_done(&rates);
    rates = make(*state, BY_VARIETY, -1);
    assert_stage(&rates, "Kikusui", STAGE_FIRST, 30000, 3000);
    assert_stage(&rates, "Kikusui", STAGE_SECOND, 2900, 970);
    assert_stage(&rates, "Kikusui", STAGE_THIRD, 2930, 991);
    assert_stage(&rates, "Showa", STAGE_BLACK, 50000, 15000);
    assert_null(find(&rates, "Showa", STAGE_BLACK, STAGE_SECOND));
    assert_non_null(find(&rates, "Showa", STAGE_FIRST, STAGE_SECOND));
    rates_done(&rates);
}

/* 33.82 %, not 34.54 %, the mean of the two; its interval by Wilson's formula. */
static void test_fish_are_pooled_not_rates(void **state)
{
    struct rates rates = make(*state, BY_VARIETY, STAGE_THIRD);
    assert_int_equal(rates.count, 1);
    assert_float_equal(rates.rows[0].rate, 0.3382, 5e-5);
    assert_float_equal(rates.rows[0].interval.low, 0.3213, 5e-5);
    assert_float_equal(rates.rows[0].interval.high, 0.3556, 5e-5);
    rates_done(&rates);
    rates = make(*state, BY_SPAWNING, STAGE_THIRD);
    assert_int_equal(rates.count, 2);
    assert_float_equal(rates.rows[1].interval.low, 0.3023, 5e-5);
    assert_float_equal(rates.rows[1].interval.high, 0.3440, 5e-5);
    rates_done(&rates);
}

/* More at the end than at the beginning: the rate as it is, with its flag and without interval. */
static void test_fish_found_again_are_flagged(void **state)
{
    struct rates rates = make(*state, BY_SPAWNING, -1);
    const struct rate_row *second = find(&rates, "S1", STAGE_SECOND, STAGE_SECOND);
    const struct rate_row *chain = find(&rates, "S1", STAGE_FIRST, STAGE_SECOND);
    assert_true(second->cull.recovered && !second->has_interval && second->has_rate);
    assert_float_equal(second->rate, 1450.0 / 1400, 1e-12);
    assert_true(chain->cull.recovered && !chain->has_interval);
    assert_false(find(&rates, "S1", STAGE_FIRST, STAGE_FIRST)->cull.recovered);
    rates_done(&rates);
}

/* 15000 of 50000, known to 5 % and 4 %: far wider than if they had been counted. */
static void test_an_estimate_widens_the_interval(void **state)
{
    struct rates rates = make(*state, BY_SPAWNING, STAGE_BLACK);
    const struct rate_row *row = &rates.rows[0];
    assert_int_equal(rates.count, 1);
    assert_true(row->has_interval);
    assert_true(row->interval.low < 0.28 && row->interval.high > 0.32);
    assert_true(row->cull.estimated);
    assert_false(row->cull.error_unknown);
    rates_done(&rates);
    take_text(*state, import_rounds, HEAD "B1,,harvest,500,estimated,,200,counted,,\n", 1, 0, 0);
    rates = make(*state, BY_SPAWNING, STAGE_HARVEST);
    assert_true(rates.rows[0].cull.error_unknown);
    rates_done(&rates);
}

/* Those that were there, of those kept before or hatched; not where fish went on elsewhere. */
static void test_survival_stands_apart(void **state)
{
    struct rates rates = make(*state, BY_SPAWNING, -1);
    const struct rate_row *black = find(&rates, "S1", STAGE_BLACK, STAGE_BLACK);
    const struct rate_row *second = find(&rates, "S1", STAGE_SECOND, STAGE_SECOND);
    assert_true(black->survival < 0);
    assert_float_equal(second->survival, 1400.0 / 1500, 1e-12);
    assert_int_equal(second->after, STAGE_FIRST);
    assert_true(find(&rates, "K1", STAGE_SECOND, STAGE_SECOND)->survival < 0);
    rates_done(&rates);
}

static void test_what_is_unusual_is_told(void **state)
{
    struct rates rates = make(*state, BY_SPAWNING, -1);
    assert_true(rate_row_untypical(find(&rates, "K1", STAGE_FIRST, STAGE_FIRST)));
    assert_false(rate_row_untypical(find(&rates, "K1", STAGE_SECOND, STAGE_SECOND)));
    assert_false(rate_row_untypical(find(&rates, "S1", STAGE_BLACK, STAGE_BLACK)));
    rates_done(&rates);
    rates = make(*state, BY_SEASON, -1);
    assert_null(find(&rates, "2026", STAGE_FIRST, STAGE_FIRST)->typical);
    assert_non_null(find(&rates, "2025", STAGE_THIRD, STAGE_THIRD)->typical);
    rates_done(&rates);
}

/* 4 of 100 fish are judged: shown, but no reason to warn, and no part of a chain. */
static void test_a_cull_at_work_is_no_part_of_a_chain(void **state)
{
    struct small_ledger *small = *state;
    struct round round;
    struct bowl bowl;
    bool is_new;
    struct err err;
    assert_ok(
        round_begin_as(small->ledger, "K1", "", STAGE_THIRD, MANNER_JUDGE, &round, &is_new, &err),
        &err);
    assert_ok(bowl_begin(small->ledger, round.id, 1, 100, "2026-08-18", &bowl, &err), &err);
    for (int number = 1; number <= 4; number++) {
        struct cached_verdict cached = {.verdict = VERDICT_REJECT};
        struct stroke stroke = {.look = 1, .at_ms = INT64_C(1787000000000), .entry_count = 1};
        stroke.entries[0] = (struct entry){.kind = ENTRY_CLOSE, .number = VERDICT_REJECT};
        assert_ok(fish_begin(small->ledger, bowl.id, number, &stroke.fish, &err), &err);
        assert_ok(stroke_record(small->ledger, &stroke, &cached, NULL, &err), &err);
    }
    struct rates rates = make(small, BY_SPAWNING, -1);
    const struct rate_row *third = find(&rates, "K1", STAGE_THIRD, STAGE_THIRD);
    assert_int_equal(third->cull.in, 4);
    assert_int_equal(third->cull.done, 4);
    assert_int_equal(third->cull.whole, 100);
    assert_false(rate_row_untypical(third));
    assert_null(find(&rates, "K1", STAGE_FIRST, STAGE_THIRD));
    assert_non_null(find(&rates, "K1", STAGE_FIRST, STAGE_SECOND));
    rates_done(&rates);
}

/* A spawning that others of its pair outran makes the chain uneven; one still on its way does not.
 */
static void test_uneven_chains_are_told(void **state)
{
    struct rates rates = make(*state, BY_VARIETY, -1);
    assert_false(find(&rates, "Showa", STAGE_FIRST, STAGE_SECOND)->uneven);
    assert_true(find(&rates, "Kikusui", STAGE_FIRST, STAGE_HARVEST)->uneven);
    rates_done(&rates);
    take_text(*state, import_rounds, HEAD "K1,,fourth,300,,,100,,,\n", 1, 0, 0);
    rates = make(*state, BY_SEASON, -1);
    assert_false(find(&rates, "2026", STAGE_FIRST, STAGE_HARVEST)->uneven);
    rates_done(&rates);
    take_text(*state, import_rounds, HEAD "S1,,harvest,90,,,30,,,\n", 1, 0, 0);
    rates = make(*state, BY_SEASON, -1);
    assert_true(find(&rates, "2026", STAGE_FIRST, STAGE_HARVEST)->uneven);
    rates_done(&rates);
}

/* K1 and west are split and both put together with K3 as the ledger tells it: who is where is
 * known, so survival is as well, and the spawning's chain is not uneven for having been split. */
static void test_fish_are_followed_through_transfers(void **state)
{
    take_text(*state, import_rounds,
              "spawning,lot,stage,date\nK1,,first,2026-07-10\nK1,,second,2026-08-10\n"
              "K1,west,second,2026-08-12\nK3,,first,2026-07-12\nK3,,second,2026-08-12\n"
              "K1;K3,both,harvest,2026-10-01\n",
              0, 6, 0);
    take_text(*state, import_lots,
              "spawning,lot,date,event,number,into_spawning,into_lot\n"
              "K1,,2026-07-20,transfer,850,,west\nK1,west,2026-08-01,dead,30,,\n"
              "K1,,2026-09-01,transfer,,K1;K3,both\nK1,west,2026-09-01,transfer,,K1;K3,both\n"
              "K3,,2026-09-01,transfer,,K1;K3,both\nK1;K3,both,2026-09-20,dead,11,,\n",
              6, 0, 0);
    struct rates rates = make(*state, BY_SPAWNING, -1);
    assert_stage(&rates, "K1", STAGE_SECOND, 1800, 640);
    const struct rate_row *second = find(&rates, "K1", STAGE_SECOND, STAGE_SECOND);
    assert_float_equal(second->survival, 1800.0 / 1900, 1e-12);
    assert_int_equal(second->cull.dead, 37);
    assert_false(find(&rates, "K1", STAGE_FIRST, STAGE_SECOND)->uneven);
    assert_null(find(&rates, "K1", STAGE_HARVEST, STAGE_HARVEST));
    rates_done(&rates);
    rates = make(*state, BY_LOT, -1);
    assert_float_equal(find(&rates, "K1", STAGE_SECOND, STAGE_SECOND)->survival, 1000.0 / 1050,
                       1e-12);
    assert_float_equal(find(&rates, "west", STAGE_SECOND, STAGE_SECOND)->survival, 800.0 / 850,
                       1e-12);
    const struct rate_row *both = find(&rates, "both", STAGE_HARVEST, STAGE_HARVEST);
    assert_float_equal(both->survival, 900.0 / (400 + 240 + 330), 1e-12);
    assert_int_equal(both->after, STAGE_SECOND);
    assert_int_equal(both->cull.dead, 11);
    rates_done(&rates);
    rates = make(*state, BY_SEASON, -1);
    assert_stage(&rates, "2026", STAGE_HARVEST, 900, 450);
    rates_done(&rates);
}

/* A round whose fish went in uncounted has no rate; one that none went into neither. */
static void test_rounds_without_both_numbers_do_not_count(void **state)
{
    take_text(*state, import_rounds, HEAD "A1,,first,,,,70,,,\nA1,,house,0,,,0,,,\n", 2, 0, 0);
    struct rates rates = make(*state, BY_SPAWNING, -1);
    const struct rate_row *house = find(&rates, "A1", STAGE_HOUSE, STAGE_HOUSE);
    assert_null(find(&rates, "A1", STAGE_FIRST, STAGE_FIRST));
    assert_non_null(house);
    assert_false(house->has_rate || house->has_interval);
    assert_false(find(&rates, "A1", STAGE_THIRD, STAGE_HOUSE)->has_rate);
    rates_done(&rates);
}

#define on_season(test) cmocka_unit_test_setup_teardown(test, setup, small_ledger_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_lot_is_a_key_of_its_own),
        cmocka_unit_test(mixed_lots_are_no_spawnings_and_no_pairs),
        cmocka_unit_test(a_group_of_sires_is_no_single_sire),
        cmocka_unit_test(seasons_and_varieties_take_mixed_lots),

        on_season(test_by_lot),
        on_season(test_by_spawning),
        on_season(test_by_pair),
        on_season(test_by_season_and_variety),
        on_season(test_fish_are_pooled_not_rates),
        on_season(test_fish_found_again_are_flagged),
        on_season(test_an_estimate_widens_the_interval),
        on_season(test_survival_stands_apart),
        on_season(test_what_is_unusual_is_told),
        on_season(test_a_cull_at_work_is_no_part_of_a_chain),
        on_season(test_uneven_chains_are_told),
        on_season(test_fish_are_followed_through_transfers),
        on_season(test_rounds_without_both_numbers_do_not_count),

    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
