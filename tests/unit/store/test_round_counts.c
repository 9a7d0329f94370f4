#include "senbetsu/store/round_counts.h"

#include "bench.h"
#include "senbetsu/core/count.h"
#include "support/check.h"

static struct fates stated(void)
{
    return (struct fates){.fish = {[FATE_POND_GRADE] = 20, [FATE_PUT_DOWN] = 35}};
}

static enum saved record(struct bench *bench, struct fates said)
{
    enum saved saved = SAVED_SAME;
    assert_ok(
        reject_fates_record(bench->ledger, bench_round(bench).id, &said, 0, &saved, &bench->err),
        &bench->err);
    return saved;
}

static void assert_known(struct bench *bench, struct fates expected)
{
    struct fates known;
    assert_ok(reject_fates_get(bench->ledger, bench_round(bench).id, &known, &bench->err),
              &bench->err);
    assert_true(fates_equal(&known, &expected));
}

static void numbers_are_given_back(void **state)
{
    struct bench *bench = *state;
    assert_known(bench, (struct fates){0});
    assert_int_equal(record(bench, stated()), SAVED_NEW);
    assert_known(bench, stated());
    bench_close(bench); /* opening looks at every page */
    bench_open(bench);
    assert_known(bench, stated());
}

/* Of each fate the last number counts; the ones before are still there. */
static void numbers_are_only_added(void **state)
{
    struct bench *bench = *state;
    struct fates fates = stated();
    record(bench, fates);
    assert_int_equal(record(bench, fates), SAVED_SAME);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM reject_fate"), 2);
    fates.fish[FATE_POND_GRADE] = 0;
    assert_int_equal(record(bench, fates), SAVED_CHANGED);
    assert_known(bench, fates);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM reject_fate"), 3);
    assert_int_equal(bench_ask(bench, "SELECT number FROM reject_fate WHERE revision = 1 AND "
                                      "fate = 'pond-grade'"),
                     20);
}

/* A number joined from another station with a higher turn stands above, one with a lower below. */
static void the_order_is_that_of_the_turns(void **state)
{
    struct bench *bench = *state;
    record(bench, stated());
    record(bench, (struct fates){.fish = {[FATE_PUT_DOWN] = 36}});
    bench_do(bench, "INSERT INTO reject_fate (round, revision, at_ms, id, fate, number) "
                    "SELECT round, 3, 0, 1, 'passed-on', 7 FROM reject_fate LIMIT 1");
    bench_do(bench, "INSERT INTO reject_fate (round, revision, at_ms, id, fate, number) "
                    "SELECT round, 1, 0, 2, 'put-down', 99 FROM reject_fate LIMIT 1");
    assert_known(bench, (struct fates){.fish = {[FATE_PASSED_ON] = 7, [FATE_PUT_DOWN] = 36}});
}

static void what_cannot_be_is_refused(void **state)
{
    struct bench *bench = *state;
    struct fates said = {.fish = {[FATE_KEPT_APART] = FISH_MOST + 1}};
    enum saved saved;
    assert_says(
        reject_fates_record(bench->ledger, bench_round(bench).id, &said, 0, &saved, &bench->err),
        &bench->err, "(kept-apart) must be from 0");
    assert_known(bench, (struct fates){0});
}

static void the_check_finds_numbers_of_no_round(void **state)
{
    struct bench *bench = *state;
    record(bench, stated());
    bench_do(bench, "PRAGMA foreign_keys = OFF; UPDATE reject_fate SET round = 12345 "
                    "WHERE fate = 'put-down'");
    assert_wrong(bench->ledger, 1, "1 fates of rejects: the cull that they belong to is missing.");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(numbers_are_given_back),
        on_stocked_bench(numbers_are_only_added),
        on_stocked_bench(the_order_is_that_of_the_turns),
        on_stocked_bench(what_cannot_be_is_refused),
        on_stocked_bench(the_check_finds_numbers_of_no_round),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
