#include "bench.h"
#include "senbetsu/store/passes.h"

#include <stdlib.h>

/* Sixty fish for twenty places: ten of 100 points, 29 of 75, both kept from 65; 21 rejected. */
enum { FISH = 60, BEST = 10, TIED = 29, PLACES = 20 };

static int set_up(void **state, enum waiting waiting)
{
    int result = bench_setup_small(state);
    struct bench *bench = *state;
    struct round round;
    struct text csv;
    struct err err;
    text_init(&csv);
    text_add(&csv, "spawning,stage,bowl,fish,judge,date,faults,body,white\n");
    for (int i = 0; i < FISH; i++)
        text_addf(&csv, "K1,first,%d,%d,Ines,2026-07-18,,%s\n", 1 + i / 20, 1 + i % 20,
                  i < BEST          ? "5,5"
                  : i < BEST + TIED ? "4,4"
                                    : "1,1");
    bench_import_text(bench, import_fish, csv.data);
    text_done(&csv);
    assert_ok(round_get(bench->small.ledger, bench->small.round.id, &round, &err), &err);
    round.places = PLACES;
    round.waiting = waiting;
    assert_ok(round_save(bench->small.ledger, &round, bench->app.judge, &err), &err);
    app_open_pass(&bench->app, round.id);
    return result;
}

static int set_up_cells(void **state)
{
    return set_up(state, WAITING_CELL);
}

static int set_up_basins(void **state)
{
    return set_up(state, WAITING_BASIN);
}

/* What is known of the first fish that ties beside its scores. */
static void add_note_and_tag(struct bench *bench)
{
    struct ledger *ledger = bench->small.ledger;
    struct fish *fish;
    size_t count;
    struct err err;
    assert_ok(fish_of_round(ledger, bench->small.round.id, &bench->small.standard.standard, &fish,
                            &count, &err),
              &err);
    struct stroke stroke = {.fish = fish[BEST].id,
                            .judge = bench->app.judge,
                            .look = 1,
                            .at_ms = bench->small.now,
                            .entry_count = 2,
                            .entries = {{.kind = ENTRY_NOTE, .text = "long head"},
                                        {.kind = ENTRY_TAG, .text = "392145000123456"}}};
    assert_ok(stroke_record(ledger, &stroke, NULL, NULL, &err), &err);
    free(fish);
}

static void press_often(struct bench *bench, const char *key, int times)
{
    for (int i = 0; i < times; i++)
        bench_press(bench, key);
}

/* What the last recorded pass kept. */
static int kept_in_pass(struct bench *bench)
{
    struct pass pass;
    struct pass_decisions decisions;
    struct err err;
    int kept = 0;
    assert_ok(pass_latest(bench->small.ledger, bench->small.round.id, &pass, &err), &err);
    assert_ok(pass_decisions_get(bench->small.ledger, pass.id, &decisions, &err), &err);
    for (size_t i = 0; i < decisions.count; i++)
        kept += decisions.fish[i].verdict == VERDICT_KEEP;
    pass_decisions_done(&decisions);
    return kept;
}

static void test_the_pass_names_the_tie_where_it_cuts(void **state)
{
    struct bench *bench = *state;
    assert_shows(bench, "29 fish tie at 75.0 for 10 places: 5 takes a closer look");
    press_often(bench, "Down", BEST);
    assert_golden(bench, "pass_tie");
    bench_press(bench, "Right Right / -"); /* nine places, fewer than the best need */
    assert_shows(bench, "10 fish tie at 100.0 for 9 places");
    bench_press(bench, "Home");
    assert_shows(bench, "places 9");
}

/* The whole way in cells, by the keypad: pass, tie, closer look, pass. */
static void test_a_tie_is_decided_fish_by_fish(void **state)
{
    struct bench *bench = *state;
    add_note_and_tag(bench);
    bench_press(bench, "5");
    assert_shows(bench, "29 fish tie at 75.0 for 10 places");
    assert_shows(bench, "note: long head");
    assert_golden(bench, "closer_look");
    bench_press(bench, "+ / +");
    assert_shows(bench, "26 fish tie at 75.0 for 8 places");
    assert_shows(bench, "Fish 13 of bowl 1 is taken.");
    bench_press(bench, "-");
    assert_shows(bench, "Undone on fish 13 of bowl 1.");
    assert_shows(bench, "27 fish tie at 75.0 for 9 places");
    press_often(bench, "+", 9);
    assert_shows(bench, "all places are taken: * leaves the other 18");
    bench_press(bench, "+");
    assert_shows(bench, "No place is left; take a fish back first.");
    bench_press(bench, "*");
    assert_shows(bench, "* again leaves the other 18; any other key goes back.");
    bench_press(bench, "+");
    assert_shows(bench, "No fish was left.");
    bench_press(bench, "* *");
    assert_shows(bench, "The tie is decided: 10 taken, 19 not. Enter records the pass.");
    assert_hides(bench, "tie at");
    bench_press(bench, "Enter Enter");
    assert_shows(bench, "The pass is recorded: 20 keep, 19 hold, 21 reject.");
    assert_int_equal(kept_in_pass(bench), PLACES);
}

/* A session that is broken off comes back to the first fish that is not decided. */
static void test_it_goes_on_where_it_was(void **state)
{
    struct bench *bench = *state;
    struct place place;
    struct err err;
    bench_press(bench, "5 + +");
    app_pop_all(&bench->app);
    app_open_home(&bench->app);
    assert_ok(place_get(bench->small.ledger, bench->app.judge, &place, &err), &err);
    assert_true(place.in_sheet);
    app_open_place(&bench->app, &place);
    assert_shows(bench, "27 fish tie at 75.0 for 8 places");
    assert_shows(bench, "3 of 29");
    bench_press(bench, "4");
    assert_shows(bench, "2 of 29");
    bench_press(bench, "6 6 6");
    assert_shows(bench, "5 of 29");
    bench_press(bench, "0");
    assert_shows(bench, "27 fish tie at 75.0 for 8 places: 5 takes a closer look");
    assert_ok(place_get(bench->small.ledger, bench->app.judge, &place, &err), &err);
    assert_false(place.in_sheet);
}

static void test_without_a_tie_there_is_nothing_to_look_at(void **state)
{
    struct bench *bench = *state;
    press_often(bench, "Right", 2);
    press_often(bench, "*", 2);
    bench_press(bench, "5");
    assert_shows(bench, "No fish tie for the last places.");
    press_often(bench, "/", 5);
    bench_press(bench, "5");
    assert_shows(bench, "No places are set, so no fish tie for the last ones.");
}

/* In basins: the ten that tie and lie in the keep basin may stay, or others are picked. */
static void test_a_tie_is_decided_by_picking(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "5");
    assert_golden(bench, "basin_look");
    bench_press(bench, "*");
    assert_shows(bench, "10 stay in the keep basin.");
    assert_shows(bench, "All places are taken; record the pass next.");
    bench_press(bench, "0");
    assert_shows(bench, "10 kept by a closer look at the basins");
    assert_hides(bench, "tie at");
    bench_press(bench, "Enter Enter");
    assert_shows(bench, "The pass is recorded: 20 keep, 19 hold, 21 reject.");
    assert_int_equal(kept_in_pass(bench), BEST);
    app_open_pass(&bench->app, bench->small.round.id);
    bench_press(bench, "5 *");
    assert_shows(bench, "29 fish tie at 75.0 for 10 places");
    bench_press(bench, "+");
    assert_shows(bench, "No other fish is held.");
    bench_press(bench, "-");
    assert_shows(bench, "There is no pick left to take back.");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_the_pass_names_the_tie_where_it_cuts, set_up_cells,
                                        bench_teardown),
        cmocka_unit_test_setup_teardown(test_a_tie_is_decided_fish_by_fish, set_up_cells,
                                        bench_teardown),
        cmocka_unit_test_setup_teardown(test_it_goes_on_where_it_was, set_up_cells, bench_teardown),
        cmocka_unit_test_setup_teardown(test_without_a_tie_there_is_nothing_to_look_at,
                                        set_up_cells, bench_teardown),
        cmocka_unit_test_setup_teardown(test_a_tie_is_decided_by_picking, set_up_basins,
                                        bench_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
