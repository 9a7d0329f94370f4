#include "senbetsu/store/lot_origins.h"

#include "bench.h"

static void add_spawning(struct bench *bench, const char *code, int season, const char *variety)
{
    enum saved saved;
    struct spawning spawning = {.season = season,
                                .dam = "D1",
                                .sires = "S2;S1",
                                .siring = SIRING_GROUP,
                                .eggs = NOT_COUNTED,
                                .hatched = 90000};
    snprintf(spawning.code, sizeof spawning.code, "%s", code);
    snprintf(spawning.variety, sizeof spawning.variety, "%s", variety);
    assert_ok(spawning_save(bench->ledger, &spawning, 0, "", &saved, &bench->err), &bench->err);
}

static struct round begin(struct bench *bench, const char *spawnings, const char *lot)
{
    struct round round;
    bool is_new;
    assert_ok(round_begin_as(bench->ledger, spawnings, lot, STAGE_THIRD, MANNER_REMOVE, &round,
                             &is_new, &bench->err),
              &bench->err);
    return round;
}

/* What is known of one lot; the caller gives all of them back. */
struct listed {
    struct lot_origin *all;
    size_t count;
    const struct lot_origin *one;
};

static struct listed list(struct bench *bench, int64_t lot)
{
    struct listed listed;
    assert_ok(lot_origins_list(bench->ledger, &listed.all, &listed.count, &bench->err),
              &bench->err);
    listed.one = lot_origin_find(listed.all, listed.count, lot);
    assert_non_null(listed.one);
    assert_null(lot_origin_find(listed.all, listed.count, lot + 1000));
    return listed;
}

static void give_back(struct listed *listed)
{
    lot_origins_free(listed->all, listed->count);
}

static void a_lot_is_of_its_spawning(void **state)
{
    struct bench *bench = *state;
    add_spawning(bench, "K2", 2026, "Kikusui");
    struct listed own = list(bench, begin(bench, "K2", "").lot_id);
    assert_string_equal(own.one->spawnings, "K2");
    assert_string_equal(own.one->lot, "K2");
    assert_true(own.one->own && !own.one->mixed);
    assert_int_equal(own.one->season, 2026);
    assert_int_equal(own.one->hatched, 90000);
    assert_string_equal(own.one->variety, "Kikusui");
    assert_string_equal(own.one->dam, "D1");
    assert_string_equal(own.one->sires, "S1;S2");
    struct listed west = list(bench, begin(bench, "K2", "west").lot_id);
    assert_string_equal(west.one->lot, "west");
    assert_false(west.one->own);
    assert_string_equal(west.one->sires, "S1;S2");
    give_back(&own);
    give_back(&west);
}

/* Of a mixed lot only what all its spawnings have in common is known. */
static void a_mixed_lot_is_of_nobody(void **state)
{
    struct bench *bench = *state;
    add_spawning(bench, "K2", 2026, "Kikusui");
    struct round round = begin(bench, "K2;K1", "both");
    struct listed both = list(bench, round.lot_id);
    assert_int_equal(round.spawning_id, 0);
    assert_int_equal(round.manner, MANNER_REMOVE);
    assert_string_equal(round.variety, "Kikusui");
    assert_true(both.one->mixed);
    assert_string_equal(both.one->spawnings, "K1;K2");
    assert_int_equal(both.one->season, 2026);
    assert_string_equal(both.one->variety, "Kikusui");
    assert_string_equal(both.one->dam, "");
    assert_string_equal(both.one->sires, "");
    give_back(&both);

    add_spawning(bench, "O1", 2025, "Ogon");
    round = begin(bench, "O1;K1", "odd");
    assert_string_equal(round.variety, "");
    struct listed other = list(bench, round.lot_id);
    assert_int_equal(other.one->season, 0);
    assert_string_equal(other.one->variety, "");
    give_back(&other);
    assert_int_equal(begin(bench, "K1;O1", "odd").id, round.id);
}

static void a_mixed_lot_keeps_its_spawnings(void **state)
{
    struct bench *bench = *state;
    struct round round;
    bool is_new;
    static const struct {
        const char *spawnings, *lot, *says;
    } wrong[] = {
        {"K1;K2", "all", "mixed from other spawnings"},
        {"K1;K2;K3;K4", "all", "no spawning K4"},
        {"K1;K1", "new", "named twice"},
        {"K1;", "new", "two or more spawnings"},
        {"K1;K2", "", "code is empty"},
    };
    add_spawning(bench, "K2", 2026, "Kikusui");
    add_spawning(bench, "K3", 2026, "Kikusui");
    begin(bench, "K1;K2;K3", "all");
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++)
        assert_says(round_begin_as(bench->ledger, wrong[i].spawnings, wrong[i].lot, STAGE_HARVEST,
                                   MANNER_REMOVE, &round, &is_new, &bench->err),
                    &bench->err, wrong[i].says);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM lot WHERE spawning IS NULL"), 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(a_lot_is_of_its_spawning),
        on_stocked_bench(a_mixed_lot_is_of_nobody),
        on_stocked_bench(a_mixed_lot_keeps_its_spawnings),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
