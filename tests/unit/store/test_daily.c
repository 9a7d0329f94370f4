#include "bench.h"
#include "private.h"
#include "senbetsu/store/daily.h"

#include <sys/stat.h>
#include <unistd.h>

static const char *copy_of(const struct bench *bench, const char *day)
{
    char name[64];
    snprintf(name, sizeof name, "ledger.db.copies/%s.db", day);
    return bench_file(bench, name);
}

static void judge(struct bench *bench, int number)
{
    bench_stroke(bench, bench_fish(bench, 1, number), 1, bench_score("white", 3));
}

static void expect_fish(struct bench *bench, const char *path, size_t expected)
{
    struct ledger_setup setup = bench_setup(bench, path, 9);
    struct ledger *ledger;
    struct round round;
    struct fish *fish;
    size_t count;
    bool is_new;
    setup.create = false;
    assert_ok(ledger_open(&setup, &ledger, &is_new, &bench->err), &bench->err);
    assert_ok(round_find(ledger, "K1", NULL, STAGE_SECOND, &round, &bench->err), &bench->err);
    assert_ok(fish_of_round(ledger, round.id, bench_standard(), &fish, &count, &bench->err),
              &bench->err);
    assert_int_equal(count, expected);
    free(fish);
    ledger_close(ledger);
}

static int step_until(struct daily *daily, enum daily_step last, struct err *err)
{
    int steps = 0;
    enum daily_step step;
    while ((step = daily_step(daily, err)) == DAILY_GOES_ON)
        steps++;
    while (step == DAILY_WAITS)
        step = daily_step(daily, err);
    if (step == DAILY_FAILED && last != DAILY_FAILED)
        fail_msg("%s", err->text);
    assert_int_equal(step, last);
    return steps;
}

/* Keys are recorded between its slices, and others may write: it is of the moment it was begun. */
static void a_copy_is_made_once_a_day_while_others_work(void **state)
{
    struct bench *bench = *state;
    struct stat first;
    struct stat again;
    struct daily *daily = daily_new(bench->ledger, DAILY_MEANWHILE);
    judge(bench, 1);
    int number = 2;
    while (daily_step(daily, &bench->err) == DAILY_GOES_ON)
        if (bench_exists(bench_file(bench, "ledger.db.copies")))
            judge(bench, number++);
    assert_true(number > 3);
    step_until(daily, DAILY_DONE, &bench->err);
    daily_free(daily);
    expect_fish(bench, copy_of(bench, "2026-07-26"), 1);
    assert_int_equal(stat(copy_of(bench, "2026-07-26"), &first), 0);
    assert_int_equal(first.st_mode & 0777, 0600);

    daily = daily_new(bench->ledger, DAILY_MEANWHILE);
    assert_int_equal(step_until(daily, DAILY_DONE, &bench->err), 0);
    daily_free(daily);
    assert_int_equal(stat(copy_of(bench, "2026-07-26"), &again), 0);
    assert_int_equal(again.st_ino, first.st_ino);
}

static void leaving_brings_todays_copy_up_to_date(void **state)
{
    struct bench *bench = *state;
    struct stat first;
    struct stat again;
    judge(bench, 1);
    assert_ok(daily_copy(bench->ledger, &bench->err), &bench->err);
    assert_int_equal(stat(copy_of(bench, "2026-07-26"), &first), 0);
    assert_ok(daily_copy(bench->ledger, &bench->err), &bench->err); /* nothing has changed */
    assert_int_equal(stat(copy_of(bench, "2026-07-26"), &again), 0);
    assert_int_equal(again.st_ino, first.st_ino);
    judge(bench, 2);
    assert_ok(daily_copy(bench->ledger, &bench->err), &bench->err);
    expect_fish(bench, copy_of(bench, "2026-07-26"), 2);
}

/* Its moment would hold back the WAL. */
static void a_copy_that_was_held_up_for_long_begins_anew(void **state)
{
    struct bench *bench = *state;
    struct daily *daily = daily_new(bench->ledger, DAILY_MEANWHILE);
    for (int i = 0; i < 2; i++)
        assert_int_equal(daily_step(daily, &bench->err), DAILY_GOES_ON);
    judge(bench, 1);
    bench->now += 61 * 1000;
    step_until(daily, DAILY_DONE, &bench->err);
    daily_free(daily);
    expect_fish(bench, copy_of(bench, "2026-07-26"), 1);
}

static void what_is_given_up_goes(void **state)
{
    struct bench *bench = *state;
    struct daily *daily = daily_new(bench->ledger, DAILY_MEANWHILE);
    for (int i = 0; i < 2; i++)
        assert_int_equal(daily_step(daily, &bench->err), DAILY_GOES_ON);
    daily_free(daily);
    assert_int_equal(rmdir(bench_file(bench, "ledger.db.copies")), 0); /* it is empty */

    daily = daily_new(bench->ledger, DAILY_MEANWHILE);
    while (daily_step(daily, &bench->err) == DAILY_GOES_ON)
        continue;
    daily_free(daily); /* with the process that looks through it, if that has not been quicker */
    unlink(copy_of(bench, "2026-07-26"));
    assert_int_equal(rmdir(bench_file(bench, "ledger.db.copies")), 0);
}

static void old_copies_go(void **state)
{
    static const char *const days[] = {"2026-07-25", "2026-07-24", "2026-07-20", "2026-07-19",
                                       "2026-07-18", "2026-07-17", "2026-07-16", "2026-06-30",
                                       "2026-06-29", "2025-12-24", "2025-12-23", "mine"};
    static const char *const gone[] = {"2026-07-16", "2026-06-29", "2025-12-23"};
    struct bench *bench = *state;
    assert_int_equal(mkdir(bench_file(bench, "ledger.db.copies"), 0700), 0);
    for (size_t i = 0; i < sizeof days / sizeof *days; i++)
        bench_write(copy_of(bench, days[i]), "x", 1);
    for (int month = 1; month <= 12; month++) {
        char day[DATE_SIZE];
        snprintf(day, sizeof day, "2024-%02d-01", month);
        bench_write(copy_of(bench, day), "x", 1);
    }
    assert_ok(daily_copy(bench->ledger, &bench->err), &bench->err);
    for (size_t i = 0; i < sizeof days / sizeof *days; i++) {
        bool kept = bench_exists(copy_of(bench, days[i]));
        for (size_t j = 0; j < sizeof gone / sizeof *gone; j++)
            if (strcmp(days[i], gone[j]) == 0) {
                assert_false(kept);
                kept = true;
            }
        assert_true(kept);
    }
    /* July and June of 2026 and December of 2025 are three of the twelve months. */
    assert_true(bench_exists(copy_of(bench, "2024-04-01")));
    assert_false(bench_exists(copy_of(bench, "2024-03-01")));
}

static void what_hinders_it_is_said_once(void **state)
{
    struct bench *bench = *state;
    bench_write(bench_file(bench, "ledger.db.copies"), "mine", 4);
    struct daily *daily = daily_new(bench->ledger, DAILY_MEANWHILE);
    step_until(daily, DAILY_FAILED, &bench->err);
    assert_non_null(strstr(bench->err.text, "There is no copy of today: "));
    assert_int_equal(daily_step(daily, &bench->err), DAILY_DONE);
    daily_free(daily);
    judge(bench, 1); /* and nobody is hindered by it */
    unlink(bench_file(bench, "ledger.db.copies"));
}

static int tear_down(void **state)
{
    struct bench *bench = *state;
    char command[128];
    snprintf(command, sizeof command, "rm -rf %s/*.copies", bench->folder);
    bench_close(bench);
    assert_int_equal(system(command), 0);
    return bench_tear_down(state);
}

#define with_copies(test) cmocka_unit_test_setup_teardown(test, bench_set_up_stocked, tear_down)

int main(void)
{
    const struct CMUnitTest tests[] = {
        with_copies(a_copy_is_made_once_a_day_while_others_work),
        with_copies(leaving_brings_todays_copy_up_to_date),
        with_copies(a_copy_that_was_held_up_for_long_begins_anew),
        with_copies(what_is_given_up_goes),
        with_copies(old_copies_go),
        with_copies(what_hinders_it_is_said_once),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
