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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_the_list_is_read, setup, bench_teardown),
        cmocka_unit_test_setup_teardown(test_it_can_be_plain_ascii, setup, bench_teardown),
        cmocka_unit_test_setup_teardown(test_it_is_saved, setup, bench_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
