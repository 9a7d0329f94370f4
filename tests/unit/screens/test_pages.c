/* Pages on screen: the cull list, and saving it. */
#include "bench.h"
#include "support/source.h"

static int setup(void **state)
{
    int result = bench_setup_small(state);
    struct bench *bench = *state;
    app_open_sheet(&bench->app, bench->small.bowl.id, NULL);
    bench_press(bench, "5 5 4 4 3 3 1 1 2 3");
    bench_wait(bench);
    bench_press(bench, "q");
    app_open_list(&bench->app, bench->small.round.id);
    return result;
}

static void test_the_list_is_read(void **state)
{
    struct bench *bench = *state;
    assert_shows(bench, "The cull list");
    assert_shows(bench, "line 1 of ");
    assert_shows(bench, "In all: take out 3");
    bench_press(bench, "Down Down");
    assert_shows(bench, "line 3 of ");
}

static void test_it_can_be_plain_ascii(void **state)
{
    struct bench *bench = *state;
    assert_hides(bench, ", ASCII");
    bench_press(bench, "6");
    assert_shows(bench, ", ASCII");
    assert_shows(bench, "-- K1, Plain, first ---");
    bench_press(bench, "a");
    assert_hides(bench, ", ASCII");
}

static void save_as(struct bench *bench, const char *path)
{
    bench_press(bench, "Delete");
    bench_type(bench, path);
    bench_press(bench, "F2");
}

/* The ledger stays whatever is pressed; another file is replaced after a question. */
static void test_it_is_saved(void **state)
{
    struct bench *bench = *state;
    char path[128];
    struct text saved;
    snprintf(path, sizeof path, "%s/list.txt", bench->small.folder);
    bench_press(bench, "s");
    assert_shows(bench, "cull-list-2026-11-08.txt");
    save_as(bench, bench->small.path);
    assert_shows(bench, "belongs to a ledger");
    bench_press(bench, "F2");
    assert_shows(bench, "belongs to a ledger");
    save_as(bench, path);
    assert_shows(bench, "The cull list is in /");
    bench_press(bench, "s");
    save_as(bench, path);
    assert_shows(bench, "There is already a file of this name. Enter again replaces it.");
    bench_press(bench, "Backspace t F2"); /* the question was about the other name */
    assert_shows(bench, "There is already a file of this name. Enter again replaces it.");
    bench_press(bench, "Enter");
    assert_shows(bench, "The cull list is in /");
    whole_file(path, &saved);
    assert_non_null(strstr(saved.data, "In all: take out 3"));
    text_done(&saved);
    unlink(path);
}

/* From home: today's sheet, then its list, what is due, the season book, and round again. The small
 * ledger's fish are judged on 2026-11-08, a Sunday. */
static void test_today_and_this_season_come_first(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "q");
    app_open_home(&bench->app);
    bench_press(bench, "d");
    assert_shows(bench, "The day's sheet: 2026-11-08, Sunday");
    assert_shows(bench, "K1");
    bench_press(bench, "/");
    assert_shows(bench, "The cull list: 2026-11-08, Sunday");
    assert_shows(bench, "In all: take out 3");
    bench_press(bench, "/");
    assert_shows(bench, "What is due: 2026-11-08, Sunday");
    bench_press(bench, "/");
    assert_shows(bench, "The season book: 2026");
    assert_shows(bench, "K1, Plain");
    bench_press(bench, "/");
    assert_shows(bench, "The day's sheet: 2026-11-08, Sunday");
}

static void test_earlier_and_later_are_a_key_away(void **state)
{
    struct bench *bench = *state;
    app_open_calendar(&bench->app);
    bench_press(bench, "-");
    assert_shows(bench, "The day's sheet: 2026-11-07, Saturday");
    assert_shows(bench, "Nothing was culled on 2026-11-07");
    bench_press(bench, "+ Right");
    assert_shows(bench, "The day's sheet: 2026-11-09, Monday");
    bench_press(bench, "/");
    assert_shows(bench, "Nothing was judged on 2026-11-09.");
    bench_press(bench, "/ -");
    assert_shows(bench, "What is due: 2026-11-02, Monday");
    bench_press(bench, "/ -");
    assert_shows(bench, "The season book: 2025");
    assert_shows(bench, "There is no spawning of the season 2025.");
    bench_press(bench, "/");
    assert_shows(bench, "The day's sheet: 2026-11-08, Sunday");
}

/* In spring, before the fish have spawned, the season is still last year's. */
static void test_spring_belongs_to_the_season_before(void **state)
{
    struct bench *bench = *state;
    app_open_calendar(&bench->app);
    bench_press(bench, "*");
    bench_type(bench, "1.3.27");
    assert_shows(bench, "still to come");
    bench_press(bench, "Enter / / /");
    assert_shows(bench, "The season book: 2026");
    assert_shows(bench, "K1, Plain");
}

/* A day as people write it; the suggested file bears it. */
static void test_another_date_is_typed(void **state)
{
    struct bench *bench = *state;
    app_open_calendar(&bench->app);
    bench_press(bench, "*");
    bench_type(bench, "29/2/24");
    assert_shows(bench, "= 2024-02-29, Thursday");
    bench_press(bench, "Enter");
    assert_shows(bench, "The day's sheet: 2024-02-29, Thursday");
    bench_press(bench, "s");
    assert_shows(bench, "day-2024-02-29.txt");
    bench_press(bench, "Esc / / / -");
    assert_shows(bench, "The season book: 2023");
    bench_press(bench, "s");
    assert_shows(bench, "season-2023.txt");
    bench_press(bench, "Esc / *");
    bench_type(bench, "-1");
    bench_press(bench, "Enter");
    assert_shows(bench, "The day's sheet: 2026-11-07, Saturday");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_the_list_is_read, setup, bench_teardown),
        cmocka_unit_test_setup_teardown(test_it_can_be_plain_ascii, setup, bench_teardown),
        cmocka_unit_test_setup_teardown(test_it_is_saved, setup, bench_teardown),
        cmocka_unit_test_setup_teardown(test_today_and_this_season_come_first, setup,
                                        bench_teardown),
        cmocka_unit_test_setup_teardown(test_earlier_and_later_are_a_key_away, setup,
                                        bench_teardown),
        cmocka_unit_test_setup_teardown(test_spring_belongs_to_the_season_before, setup,
                                        bench_teardown),
        cmocka_unit_test_setup_teardown(test_another_date_is_typed, setup, bench_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
