#include "senbetsu/core/parent.h"
#include "senbetsu/core/spawning.h"
#include "support/test.h"

static struct spawning said(const char *sires, enum siring siring)
{
    struct spawning spawning = {.code = "S1", .season = 2026, .siring = siring};
    strcpy(spawning.sires, sires);
    return spawning;
}

static struct spawning merged(const struct spawning *known, struct spawning spawning)
{
    spawning_merge(known, &spawning);
    return spawning;
}

static void siring_that_is_not_said_follows_from_the_sires(void **state)
{
    (void)state;
    struct spawning none = {.siring = SIRING_COUNT};
    struct spawning one = merged(&none, said("P1", SIRING_COUNT));
    assert_int_equal(one.siring, SIRING_SINGLE);
    struct spawning two = merged(&one, said("P2;P1", SIRING_COUNT));
    assert_int_equal(two.siring, SIRING_GROUP);
    assert_string_equal(two.sires, "P1;P2");
    assert_int_equal(merged(&two, said("", SIRING_POOLED)).siring, SIRING_POOLED);
    assert_int_equal(merged(&two, said("P3;P3;P1", SIRING_COUNT)).siring, SIRING_GROUP);
    assert_string_equal(merged(&two, said("P3;P3;P1", SIRING_COUNT)).sires, "P1;P3");
}

static void the_season_is_the_year_of_the_date(void **state)
{
    (void)state;
    struct spawning none = {.siring = SIRING_COUNT}, spawning = said("", SIRING_COUNT);
    strcpy(spawning.date, "2025-05-30");
    spawning.season = 0;
    assert_int_equal(merged(&none, spawning).season, 2025);
}

static void assert_wrong(struct spawning spawning, int column, const char *sentence)
{
    int wrong = -1;
    struct err err;
    assert_says(spawning_check(&spawning, &wrong, &err), &err, sentence);
    assert_int_equal(wrong, column);
}

static void what_is_wrong_is_told_by_its_column(void **state)
{
    (void)state;
    struct spawning spawning = said("P1;P2", SIRING_SPLIT);
    struct err err;
    int column;
    assert_ok(spawning_check(&spawning, &column, &err), &err);
    assert_wrong(said("P1;P2", SIRING_SINGLE), SPAWNING_COLUMN_SIRING, "Spawning S1 has 2 sires");
    strcpy(spawning.date, "2025-05-30");
    assert_wrong(spawning, SPAWNING_COLUMN_DATE, "so its season is 2025, not 2026.");
    strcpy(spawning.date, "2025-02-30");
    assert_wrong(spawning, SPAWNING_COLUMN_DATE, "2025-02-30 is not a date");
    spawning = said("", SIRING_SINGLE);
    spawning.eggs = 1000;
    spawning.hatched = 1001;
    assert_says(spawning_check_hatched(&spawning, &err), &err, "Of 1000 eggs not more can");
    spawning.hatched = 1000;
    assert_ok(spawning_check_hatched(&spawning, &err), &err);
    spawning = said("", SIRING_SINGLE);
    spawning.season = 0;
    assert_wrong(spawning, SPAWNING_COLUMN_SEASON, "Spawning S1 needs a season");
}

static void only_females_are_dams(void **state)
{
    (void)state;
    struct err err;
    assert_true(parent_check_role("K1", SEX_FEMALE, true, &err));
    assert_true(parent_check_role("K1", SEX_UNKNOWN, true, &err));
    assert_true(parent_check_role("K1", SEX_UNKNOWN, false, &err));
    assert_says(parent_check_role("P1", SEX_MALE, true, &err), &err,
                "P1 is male and cannot be a dam.");
    assert_says(parent_check_role("K1", SEX_FEMALE, false, &err), &err,
                "K1 is female and cannot be a sire.");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(siring_that_is_not_said_follows_from_the_sires),
        cmocka_unit_test(the_season_is_the_year_of_the_date),
        cmocka_unit_test(what_is_wrong_is_told_by_its_column),
        cmocka_unit_test(only_females_are_dams),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
