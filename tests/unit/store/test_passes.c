#include "bench.h"
#include "senbetsu/store/passes.h"

static int64_t version_id(struct bench *bench)
{
    struct standard_version version;
    assert_ok(standard_named(bench->ledger, "kikusui-second", &version, &bench->err), &bench->err);
    return version.id;
}

static struct pass record(struct bench *bench, const struct pass_decision *decisions, size_t count)
{
    struct pass pass = {.round_id = bench_round(bench).id,
                        .standard_version = version_id(bench),
                        .places = 12,
                        .at_ms = bench->now};
    assert_ok(pass_record(bench->ledger, &pass, decisions, count, &bench->err), &bench->err);
    assert_true(pass.id > 0);
    return pass;
}

static void a_pass_is_read_as_it_was_recorded(void **state)
{
    struct bench *bench = *state;
    struct pass latest;
    struct pass_decision *read;
    size_t count;
    struct pass_decision decisions[] = {
        {.fish = bench_fish(bench, 2, 1), .verdict = VERDICT_OPEN, .reason = "unscored white"},
        {.fish = bench_fish(bench, 1, 2),
         .verdict = VERDICT_HOLD,
         .reason = "places",
         .reason_label = "no place left",
         .scored = true,
         .score = 0,
         .unit = 2400,
         .rank = 4},
        {.fish = bench_fish(bench, 1, 1),
         .verdict = VERDICT_KEEP,
         .reason = "score",
         .reason_label = "score",
         .scored = true,
         .score = 1800,
         .unit = 2400,
         .rank = 1},
    };
    assert_false(pass_latest(bench->ledger, bench_round(bench).id, &latest, &bench->err));
    assert_int_equal(bench->err.code, ERR_ABSENT);
    struct pass pass = record(bench, decisions, 3);
    assert_ok(pass_latest(bench->ledger, pass.round_id, &latest, &bench->err), &bench->err);
    assert_int_equal(latest.id, pass.id);
    assert_int_equal(latest.places, 12);
    assert_int_equal(latest.standard_version, pass.standard_version);
    assert_int_equal(latest.at_ms, pass.at_ms);

    assert_ok(pass_decisions(bench->ledger, pass.id, &read, &count, &bench->err), &bench->err);
    assert_int_equal(count, 3);
    for (int i = 0; i < 3; i++) {
        const struct pass_decision *expected = &decisions[2 - i]; /* in order of bowl and number */
        assert_int_equal(read[i].fish, expected->fish);
        assert_int_equal(read[i].verdict, expected->verdict);
        assert_string_equal(read[i].reason, expected->reason);
        assert_string_equal(read[i].reason_label, expected->reason_label);
        assert_int_equal(read[i].scored, expected->scored);
        assert_int_equal(read[i].score, expected->score);
        assert_int_equal(read[i].unit, expected->unit);
        assert_int_equal(read[i].rank, expected->rank);
    }
    free(read);
}

static void the_pass_recorded_last_is_the_latest(void **state)
{
    struct bench *bench = *state;
    struct pass latest;
    record(bench, NULL, 0);
    bench->now -= 3600000; /* a clock that was put back */
    struct pass second = record(bench, NULL, 0);
    assert_ok(pass_latest(bench->ledger, second.round_id, &latest, &bench->err), &bench->err);
    assert_int_equal(latest.id, second.id);
}

static void a_pass_is_recorded_whole_or_not_at_all(void **state)
{
    struct bench *bench = *state;
    struct pass pass = {.round_id = bench_round(bench).id, .standard_version = version_id(bench)};
    struct pass_decision decisions[] = {
        {.fish = bench_fish(bench, 1, 1), .verdict = VERDICT_KEEP},
        {.fish = 99, .verdict = VERDICT_KEEP},
    };
    assert_false(pass_record(bench->ledger, &pass, decisions, 2, &bench->err));
    assert_int_equal(pass.id, 0);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM pass"), 0);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM decision"), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(a_pass_is_read_as_it_was_recorded),
        on_stocked_bench(the_pass_recorded_last_is_the_latest),
        on_stocked_bench(a_pass_is_recorded_whole_or_not_at_all),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
