#include "bench.h"

static struct spawning group_spawning(void)
{
    return (struct spawning){.code = "K2",
                             .season = 2025,
                             .date = "2025-06-03",
                             .variety = "Showa",
                             .dam = "D1",
                             .sires = "S2;S1;S2",
                             .siring = SIRING_GROUP,
                             .eggs = 200000,
                             .hatched = NOT_COUNTED,
                             .note = "warm night"};
}

static bool save(struct bench *bench, struct spawning spawning, enum saved *ret_saved)
{
    return spawning_save(bench->ledger, &spawning, 0, "", ret_saved, &bench->err);
}

static struct spawning get(struct bench *bench, const char *code)
{
    struct spawning spawning;
    assert_ok(spawning_get(bench->ledger, code, &spawning, &bench->err), &bench->err);
    return spawning;
}

static void a_spawning_is_read_as_it_was_saved(void **state)
{
    struct bench *bench = *state;
    enum saved saved;
    assert_ok(save(bench, group_spawning(), &saved), &bench->err);
    assert_int_equal(saved, SAVED_NEW);
    struct spawning read = get(bench, "K2");
    assert_int_equal(read.season, 2025);
    assert_string_equal(read.date, "2025-06-03");
    assert_string_equal(read.variety, "Showa");
    assert_string_equal(read.dam, "D1");
    assert_string_equal(read.sires, "S1;S2"); /* in order, each once */
    assert_int_equal(read.siring, SIRING_GROUP);
    assert_int_equal(read.eggs, 200000);
    assert_int_equal(read.hatched, NOT_COUNTED);
    assert_string_equal(read.note, "warm night");
    assert_ok(save(bench, group_spawning(), &saved), &bench->err);
    assert_int_equal(saved, SAVED_SAME);
}

static void a_spawning_begins_as_one_lot_of_its_code(void **state)
{
    struct bench *bench = *state;
    enum saved saved;
    assert_ok(save(bench, group_spawning(), &saved), &bench->err);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM lot AS l JOIN lot_source AS o "
                                      "ON o.lot = l.id JOIN spawning AS s ON s.id = o.spawning "
                                      "WHERE l.own AND l.code = s.code AND s.code = 'K2'"),
                     1);
}

static void a_change_leaves_its_history(void **state)
{
    struct bench *bench = *state;
    enum saved saved;
    struct spawning changed = {.code = "K1",
                               .sires = "S1;S2",
                               .siring = SIRING_POOLED,
                               .eggs = NOT_COUNTED,
                               .hatched = 5000};
    assert_ok(save(bench, changed, &saved), &bench->err);
    assert_int_equal(saved, SAVED_CHANGED);
    struct spawning read = get(bench, "K1");
    assert_string_equal(read.sires, "S1;S2");
    assert_string_equal(read.date, "2026-06-01"); /* not said, so it stays */
    assert_int_equal(read.season, 2026);
    assert_int_equal(
        bench_ask(
            bench,
            "SELECT count(*) FROM audit_log WHERE old_value IS NOT NULL AND kind = 'spawning'"),
        3);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM audit_log WHERE field = 'sires' AND "
                                      "old_value = 'S1' AND new_value = 'S1;S2'"),
                     1);
}

static void expect_refused(struct bench *bench, struct spawning spawning, const char *says)
{
    enum saved saved;
    assert_says(save(bench, spawning, &saved), &bench->err, says);
}

static void what_cannot_be_is_refused(void **state)
{
    struct bench *bench = *state;
    struct spawning spawning = group_spawning();
    spawning.siring = SIRING_SINGLE;
    expect_refused(bench, spawning, "has 2 sires, so its siring is split, pooled or group");
    spawning = group_spawning();
    spawning.season = 2026;
    expect_refused(bench, spawning, "so its season is 2025, not 2026");
    spawning = group_spawning();
    snprintf(spawning.date, sizeof spawning.date, "2025-02-30");
    expect_refused(bench, spawning, "2025-02-30 is not a date");
    spawning = group_spawning();
    spawning.date[0] = '\0';
    spawning.season = 0;
    expect_refused(bench, spawning, "needs a season");
    spawning = group_spawning();
    snprintf(spawning.dam, sizeof spawning.dam, "S1");
    expect_refused(bench, spawning, "S1 is male and cannot be a dam");
    spawning = group_spawning();
    snprintf(spawning.sires, sizeof spawning.sires, "S1;D1");
    expect_refused(bench, spawning, "D1 is female and cannot be a sire");
    spawning = group_spawning();
    snprintf(spawning.sires, sizeof spawning.sires, "S9");
    expect_refused(bench, spawning, "There is no parent S9");
    spawning = group_spawning();
    snprintf(spawning.code, sizeof spawning.code, "K+2");
    expect_refused(bench, spawning, "are not allowed");
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM spawning"), 1);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM lot"), 1);
}

static void the_latest_season_comes_first(void **state)
{
    struct bench *bench = *state;
    struct spawning *spawnings;
    size_t count;
    enum saved saved;
    assert_ok(save(bench, group_spawning(), &saved), &bench->err);
    assert_ok(spawning_list(bench->ledger, &spawnings, &count, &bench->err), &bench->err);
    assert_int_equal(count, 2);
    assert_string_equal(spawnings[0].code, "K1");
    assert_string_equal(spawnings[1].code, "K2");
    free(spawnings);
    assert_says(spawning_get(bench->ledger, "K9", &(struct spawning){.id = 0}, &bench->err),
                &bench->err, "There is no spawning K9");
    assert_int_equal(bench->err.code, ERR_ABSENT);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(a_spawning_is_read_as_it_was_saved),
        on_stocked_bench(a_spawning_begins_as_one_lot_of_its_code),
        on_stocked_bench(a_change_leaves_its_history),
        on_stocked_bench(what_cannot_be_is_refused),
        on_stocked_bench(the_latest_season_comes_first),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
