#include "bench.h"

static struct standard_version save(struct bench *bench, struct standard standard,
                                    enum origin origin, enum saved expected)
{
    struct standard_version version;
    enum saved saved;
    assert_ok(standard_save(bench->ledger, &standard, origin, &version, &saved, &bench->err),
              &bench->err);
    assert_int_equal(saved, expected);
    return version;
}

static struct standard named(const char *name)
{
    struct standard standard = *bench_standard();
    snprintf(standard.name, sizeof standard.name, "%s", name);
    return standard;
}

static void a_version_is_read_back_exactly(void **state)
{
    struct bench *bench = *state;
    struct standard_version read;
    struct standard full = named("full");
    snprintf(full.note, sizeof full.note, "a note; with # marks = and 白");
    full.keep_at = 6250;
    full.hold_at = 1;
    full.aspects[0].key = 'W';
    full.faults[1].key = 'e';
    full.aspects[1].floor = 3;
    full.aspects[1].below_floor = VERDICT_HOLD;
    struct standard_version saved = save(bench, full, ORIGIN_IMPORTED, SAVED_NEW);
    assert_ok(standard_version_get(bench->ledger, saved.id, &read, &bench->err), &bench->err);
    assert_true(standard_equal(&read.standard, &full));
    assert_string_equal(read.standard.name, "full");
    assert_int_equal(read.version, 1);
    assert_int_equal(read.origin, ORIGIN_IMPORTED);
}

static void a_change_makes_a_version_and_the_old_one_stays(void **state)
{
    struct bench *bench = *state;
    struct standard_version read;
    struct standard standard = named("mine");
    struct standard_version first = save(bench, standard, ORIGIN_IMPORTED, SAVED_NEW);
    assert_int_equal(save(bench, standard, ORIGIN_IMPORTED, SAVED_SAME).id, first.id);
    standard.keep_at = 7000;
    struct standard_version second = save(bench, standard, ORIGIN_PASS_SCREEN, SAVED_CHANGED);
    assert_int_equal(second.version, 2);
    assert_ok(standard_named(bench->ledger, "mine", &read, &bench->err), &bench->err);
    assert_int_equal(read.standard.keep_at, 7000);
    assert_int_equal(read.origin, ORIGIN_PASS_SCREEN);
    assert_ok(standard_version_get(bench->ledger, first.id, &read, &bench->err), &bench->err);
    assert_int_equal(read.standard.keep_at, 6500);
}

static void expect_for_kikusui(struct bench *bench, const char *name)
{
    struct standard_version version;
    assert_ok(standard_for(bench->ledger, "kikusui", STAGE_SECOND, &version, &bench->err),
              &bench->err);
    assert_string_equal(version.standard.name, name);
}

static void the_breeders_own_outrank_shipped_ones(void **state)
{
    struct bench *bench = *state;
    expect_for_kikusui(bench, "kikusui-second");
    save(bench, named("mine"), ORIGIN_IMPORTED, SAVED_NEW);
    expect_for_kikusui(bench, "mine");
    save(bench, named("other"), ORIGIN_IMPORTED, SAVED_NEW);
    expect_for_kikusui(bench, "other");
    struct standard changed = named("mine");
    changed.typical = 4;
    save(bench, changed, ORIGIN_IMPORTED, SAVED_CHANGED);
    expect_for_kikusui(bench, "mine");
    save(bench, named("shipped-later"), ORIGIN_SHIPPED, SAVED_NEW);
    expect_for_kikusui(bench, "mine");
    /* A version that no longer serves the variety gives way. */
    snprintf(changed.varieties, sizeof changed.varieties, "Asagi");
    save(bench, changed, ORIGIN_IMPORTED, SAVED_CHANGED);
    expect_for_kikusui(bench, "other");
}

static void what_is_absent_is_named(void **state)
{
    struct bench *bench = *state;
    struct standard_version version;
    assert_says(standard_for(bench->ledger, "Asagi", STAGE_SECOND, &version, &bench->err),
                &bench->err, "no standard for Asagi at stage second");
    assert_int_equal(bench->err.code, ERR_ABSENT);
    assert_says(standard_for(bench->ledger, "Kikusui", STAGE_HARVEST, &version, &bench->err),
                &bench->err, "Kikusui at stage harvest");
    assert_says(standard_named(bench->ledger, "none", &version, &bench->err), &bench->err,
                "There is no standard none");
    assert_false(standard_version_get(bench->ledger, 1, &version, &bench->err));
    assert_int_equal(bench->err.code, ERR_ABSENT);
}

static void the_latest_versions_are_listed_by_name(void **state)
{
    struct bench *bench = *state;
    struct standard_version *versions;
    size_t count;
    struct standard standard = named("a");
    save(bench, standard, ORIGIN_IMPORTED, SAVED_NEW);
    standard.keep_at = 9000;
    save(bench, standard, ORIGIN_IMPORTED, SAVED_CHANGED);
    assert_ok(standard_list(bench->ledger, &versions, &count, &bench->err), &bench->err);
    assert_int_equal(count, 2);
    assert_string_equal(versions[0].standard.name, "a");
    assert_int_equal(versions[0].version, 2);
    assert_string_equal(versions[1].standard.name, "kikusui-second");
    free(versions);
}

static void a_new_version_sums_verdicts_anew(void **state)
{
    struct bench *bench = *state;
    int64_t fish = bench_fish(bench, 1, 1);
    bench_stroke(bench, fish, 1, bench_score("white", 4));
    bench_stroke(bench, fish, 1, bench_score("body", 4)); /* 75 points */
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM fish WHERE verdict = 'keep'"), 1);
    struct standard stricter = *bench_standard();
    stricter.keep_at = 8000;
    save(bench, stricter, ORIGIN_PASS_SCREEN, SAVED_CHANGED);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM fish WHERE verdict = 'hold'"), 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(a_version_is_read_back_exactly),
        on_stocked_bench(a_change_makes_a_version_and_the_old_one_stays),
        on_stocked_bench(the_breeders_own_outrank_shipped_ones),
        on_stocked_bench(what_is_absent_is_named),
        on_stocked_bench(the_latest_versions_are_listed_by_name),
        on_stocked_bench(a_new_version_sums_verdicts_anew),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
