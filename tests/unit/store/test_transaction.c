/* Reading as of one moment, and writing out of it. */
#include "bench.h"
#include "senbetsu/store/spawnings.h"

#include <stdlib.h>

static int season(struct bench *bench)
{
    struct spawning spawning;
    assert_ok(spawning_get(bench->ledger, "K1", &spawning, &bench->err), &bench->err);
    return spawning.season;
}

static void somebody_writes(const struct bench *bench, int year)
{
    char sql[128];
    snprintf(sql, sizeof sql, "UPDATE spawning SET date = NULL, season = %d", year);
    bench_do(bench, sql);
}

static void what_is_read_is_of_one_moment(void **state)
{
    struct bench *bench = *state;
    ledger_read_begin(bench->ledger);
    assert_int_equal(season(bench), 2026);
    somebody_writes(bench, 2027);
    ledger_read_begin(bench->ledger);
    assert_int_equal(season(bench), 2026);
    ledger_read_end(bench->ledger);
    assert_int_equal(season(bench), 2026);
    ledger_read_end(bench->ledger);
    assert_int_equal(season(bench), 2027);
    somebody_writes(bench, 2028);
    assert_int_equal(season(bench), 2028);
}

static void begin_bowl(struct bench *bench, int number)
{
    (void)bench_bowl(bench, number);
}

static void who_writes_leaves_that_moment(void **state)
{
    struct bench *bench = *state;
    (void)bench_round(bench);
    ledger_read_begin(bench->ledger);
    assert_int_equal(season(bench), 2026);
    somebody_writes(bench, 2027);
    begin_bowl(bench, 1);
    assert_int_equal(season(bench), 2027);
    somebody_writes(bench, 2028);
    assert_int_equal(season(bench), 2027); /* a moment again, the one after writing */
    begin_bowl(bench, 2);
    ledger_read_end(bench->ledger);
    assert_int_equal(season(bench), 2028);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM bowl"), 2);
}

static void a_moment_outlives_a_transaction_that_is_taken_back(void **state)
{
    struct bench *bench = *state;
    ledger_read_begin(bench->ledger);
    assert_int_equal(season(bench), 2026);
    assert_ok(transaction_begin(bench->ledger, &bench->err), &bench->err);
    ledger_read_begin(bench->ledger);
    assert_int_equal(season(bench), 2026);
    ledger_read_end(bench->ledger);
    transaction_rollback(bench->ledger);
    assert_int_equal(season(bench), 2026);
    somebody_writes(bench, 2027);
    assert_int_equal(season(bench), 2026);
    ledger_read_end(bench->ledger);
    assert_int_equal(season(bench), 2027);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(what_is_read_is_of_one_moment),
        on_stocked_bench(who_writes_leaves_that_moment),
        on_stocked_bench(a_moment_outlives_a_transaction_that_is_taken_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
