/* What the ledger's notices say, on top of the first screen. */
#include "bench.h"

static void test_no_notices_no_page(void **state)
{
    struct bench *bench = *state;
    app_open_notices(&bench->app);
    assert_hides(bench, "Before you begin");
    assert_int_equal(bench->app.screen_count, 1);
}

static void test_each_is_shown_and_any_key_goes_on(void **state)
{
    struct bench *bench = *state;
    ledger_notice(bench->small.ledger, "The clock is %d days behind the last stroke; set it.", 3);
    ledger_notice(bench->small.ledger, "This folder is on another machine; see docs/files.md.");
    app_open_notices(&bench->app);
    assert_shows(bench, "Before you begin");
    assert_shows(bench, "The clock is 3 days behind the last stroke; set it.");
    assert_shows(bench, "This folder is on another machine");
    assert_shows(bench, "any key: go on");
    bench_press(bench, "+");
    assert_hides(bench, "Before you begin");
    assert_shows(bench, "seasons and spawnings");
    assert_int_equal(bench->app.screen_count, 1);
}

/* A sorter who goes on at once must have had the chance to read them. */
static void test_keys_typed_before_it_was_painted_do_not_turn_it(void **state)
{
    struct bench *bench = *state;
    ledger_notice(bench->small.ledger, "Two strokes are missing.");
    app_open_notices(&bench->app);
    bench_type_ahead(bench, "Enter Enter q");
    assert_shows(bench, "Two strokes are missing.");
    bench_press(bench, "Enter");
    assert_hides(bench, "Two strokes are missing.");
}

static void test_what_does_not_fit_is_on_further_pages(void **state)
{
    struct bench *bench = *state;
    for (int i = 1; i <= 12; i++)
        ledger_notice(bench->small.ledger,
                      "Notice %d is longer than a line of eighty columns can be, so that it is "
                      "wrapped onto a second one, and says something.",
                      i);
    app_open_notices(&bench->app);
    assert_shows(bench, "Notice 1 ");
    assert_shows(bench, "any key: more");
    assert_hides(bench, "Notice 12");
    for (int pages = 0; pages < 6 && bench->app.screen_count > 1; pages++) {
        struct text text;
        bench_text(bench, &text);
        bool last = strstr(text.data, "Notice 12") != NULL;
        assert_int_equal(last, strstr(text.data, "any key: go on") != NULL);
        text_done(&text);
        bench_press(bench, "Space");
        assert_int_equal(bench->app.screen_count, last ? 1 : 2);
    }
    assert_int_equal(bench->app.screen_count, 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_no_notices_no_page, bench_setup_small, bench_teardown),
        cmocka_unit_test_setup_teardown(test_each_is_shown_and_any_key_goes_on, bench_setup_small,
                                        bench_teardown),
        cmocka_unit_test_setup_teardown(test_keys_typed_before_it_was_painted_do_not_turn_it,
                                        bench_setup_small, bench_teardown),
        cmocka_unit_test_setup_teardown(test_what_does_not_fit_is_on_further_pages,
                                        bench_setup_small, bench_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
