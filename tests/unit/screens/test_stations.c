#include "bench.h"
#include "senbetsu/exchange/exchange.h"
#include "senbetsu/store/station.h"

#include <stdio.h>
#include <unistd.h>

/* A ledger of the far ponds, made from nothing, in which one parent says otherwise. */
static void make_ponds(struct bench *bench, char path[256], int64_t *now)
{
    struct ledger *ponds;
    struct err err = {0};
    bool is_new;
    snprintf(path, 256, "%.240s-ponds", ledger_path(bench->app.ledger));
    struct ledger_setup setup = {
        .path = path, .create = true, .clock = clock_fixed(now), .station = "far ponds"};
    memset(setup.seed, 9, sizeof setup.seed);
    assert_ok(ledger_open(&setup, &ponds, &is_new, &err), &err);
    struct ledger *office = bench->app.ledger;
    bench->app.ledger = bench->small.ledger = ponds;
    bench_import_text(bench, import_parents, "parent,sex,note\nQ1,f,orange\nQ2,m,\n");
    bench->app.ledger = bench->small.ledger = office;
    ledger_close(ponds);
}

static void test_another_ledger_is_shown_joined_and_decided(void **state)
{
    struct bench *bench = *state;
    char path[256];
    int64_t now = clock_now(ledger_clock(bench->app.ledger)) + 60000;
    make_ponds(bench, path, &now);
    bench_import_text(bench, import_parents, "parent,sex,note\nQ1,f,red\n");
    app_open_stations(&bench->app);
    assert_shows(bench, "this ledger");
    assert_shows(bench, "There is nothing to decide.");
    bench_press(bench, "+");
    bench_type(bench, path);
    bench_press(bench, "Enter");
    assert_shows(bench, "joining: nothing has changed yet");
    assert_shows(bench, "It brings 1 parent");
    assert_shows(bench, "stands: orange (far ponds,");
    bench_press(bench, "Enter");
    assert_shows(bench, "Joined. What is to be decided stands on the screen before.");
    bench_press(bench, "Enter");
    assert_shows(bench, "It is joined already.");
    bench_press(bench, "q End");
    assert_shows(bench, "> parent Q1: note");
    bench_press(bench, "Enter Right F2");
    assert_shows(bench, "Decided;");
    assert_shows(bench, "There is nothing to decide.");
    unlink(path);
}

static void test_a_station_gets_a_name(void **state)
{
    struct bench *bench = *state;
    app_open_stations(&bench->app);
    bench_press(bench, "*");
    bench_type(bench, "office");
    bench_press(bench, "F2");
    assert_shows(bench, "office, since");
    bench_press(bench, "+");
    bench_type(bench, "nowhere.db");
    bench_press(bench, "Enter");
    assert_shows(bench, "nowhere.db");
    assert_shows(bench, "Join another station's ledger");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_another_ledger_is_shown_joined_and_decided,
                                        bench_setup_small, bench_teardown),
        cmocka_unit_test_setup_teardown(test_a_station_gets_a_name, bench_setup_small,
                                        bench_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
