#include "senbetsu/core/progress.h"
#include "senbetsu/report/closer_look.h"
#include "senbetsu/report/rounds.h"
#include "senbetsu/store/tallies.h"
#include "support/import_bench.h"
#include "support/test.h"

#include <stdlib.h>

/* Two fish of 100 points, nine of 75, one of 66.7, kept from 65; two held for a fault. */
enum { BEST = 2, TIED = 9, FISH = BEST + TIED + 3 };

static int setup(void **state)
{
    int result = small_ledger_setup(state);
    struct text csv;
    text_init(&csv);
    text_add(&csv, "spawning,stage,bowl,fish,judge,date,faults,body,white\n");
    for (int i = 1; i <= FISH; i++)
        text_addf(&csv, "K1,first,%d,%d,Ines,2026-07-18,%s\n", i > 7 ? 2 : 1, i,
                  i <= BEST          ? ",5,5"
                  : i <= BEST + TIED ? ",4,4"
                  : i == FISH        ? ",4,3"
                                     : "eye,5,5");
    take_text(*state, import_fish, csv.data, FISH, 0, 0);
    text_done(&csv);
    return result;
}

/* What is tried: so many places, the judged fish waiting so. */
static struct pass_run try(struct small_ledger *small, int places, enum waiting waiting)
{
    struct round round;
    struct pass_run run;
    struct err err;
    assert_ok(round_get(small->ledger, small->round.id, &round, &err), &err);
    round.places = places;
    round.waiting = waiting;
    assert_ok(round_save(small->ledger, &round, small->judge, &err), &err);
    assert_ok(pass_run_load(small->ledger, &round, NULL, &run, &err), &err);
    return run;
}

static struct closer_look open_look(struct small_ledger *small, int places, enum waiting waiting)
{
    struct closer_look look;
    struct err err;
    struct pass_run run = try(small, places, waiting);
    assert_ok(closer_look_load(small->ledger, &run, &look, &err), &err);
    pass_run_done(&run);
    return look;
}

static void assert_open(const struct closer_look *look, const char *sentence, bool open)
{
    char text[TIE_TEXT_SIZE];
    bool can_be_decided;
    assert_string_equal(pass_run_open_text(&look->run, &can_be_decided, text), sentence);
    assert_int_equal(can_be_decided, open);
}

static int kept(const struct pass_run *run)
{
    struct verdict_counts counts = {0};
    for (size_t i = 0; i < run->count; i++)
        verdict_counts_add(&counts, run->decisions[i].verdict);
    verdict_counts_pick(&counts, picks_total(&run->picks));
    return counts.verdicts[VERDICT_KEEP];
}

/* Decides the first fish that is not. */
static void decide(struct small_ledger *small, struct closer_look *look, enum verdict verdict)
{
    struct err err;
    size_t at = 0;
    while (closer_look_verdict(look, at) != VERDICT_OPEN)
        at++;
    assert_ok(closer_look_decide(small->ledger, look, look->run.fish[look->fish[at]].id, verdict,
                                 small->judge, NULL, &err),
              &err);
}

static void test_the_tied_fish_come_up(void **state)
{
    struct closer_look look = open_look(*state, 5, WAITING_CELL);
    assert_open(&look, "9 fish tie at 75.0 for 3 places", true);
    assert_int_equal(look.run.tie.count, TIED);
    assert_int_equal(look.run.tie.places_left, 3);
    assert_int_equal(look.count, TIED);
    for (size_t i = 0; i < look.count; i++) {
        assert_int_equal(look.run.fish[look.fish[i]].number, BEST + 1 + (int)i);
        assert_int_equal(closer_look_verdict(&look, i), VERDICT_OPEN);
    }
    closer_look_done(&look);
}

/* Taken until the places are full, the rest left at once; the pass then keeps as many as there are
 * places, and no tie remains. */
static void test_taken_fish_fill_the_places(void **state)
{
    struct small_ledger *small = *state;
    struct closer_look look = open_look(small, 5, WAITING_CELL);
    struct err err;
    decide(small, &look, VERDICT_KEEP);
    decide(small, &look, VERDICT_HOLD);
    assert_int_equal(look.taken, 1);
    assert_int_equal(look.left, 1);
    assert_int_equal(look.run.tie.count, TIED - 2);
    assert_int_equal(look.run.tie.places_left, 2);
    decide(small, &look, VERDICT_KEEP);
    decide(small, &look, VERDICT_KEEP);
    assert_open(&look, "", false);
    assert_int_equal(look.count, TIED); /* those for whom no place is left still come up */
    assert_says(closer_look_decide(small->ledger, &look, look.run.fish[look.fish[1]].id,
                                   VERDICT_KEEP, small->judge, NULL, &err),
                &err, "No place is left; take a fish back first.");
    assert_ok(closer_look_leave_rest(small->ledger, &look, small->judge, NULL, &err), &err);
    assert_int_equal(look.left, TIED - 3);
    assert_int_equal(kept(&look.run), 5);
    assert_open(&look, "", false);
    size_t last = look.fish[TIED - 1];
    struct decision *better = &look.run.decisions[last], before = *better;
    look.run.fish[last].tie = VERDICT_OPEN; /* it was corrected since */
    better->reason = REASON_SCORE;
    better->score++;
    decisions_rank(look.run.decisions, look.run.count, look.run.order);
    pass_run_decide(&look.run);
    assert_open(&look, "1 held, with more points than one kept for a tie", true);
    look.run.fish[last].tie = VERDICT_HOLD;
    *better = before;
    decisions_rank(look.run.decisions, look.run.count, look.run.order);
    look.run.places = 6; /* one that was left can be taken after all, before one that scores less */
    pass_run_decide(&look.run);
    assert_open(&look, "1 place is free, and 6 fish tied for it", true);
    closer_look_done(&look);

    struct pass_run run = try(small, 5, WAITING_CELL);
    struct fish_row row;
    assert_int_equal(kept(&run), 5);
    assert_int_equal(run.tie.count, 0);
    assert_int_equal(run.tie.places_left, 0);
    pass_run_row(&run, BEST, &row);
    assert_string_equal(row.reason_label, "by hand: tie (Ines)");
    pass_run_done(&run);
}

/* Left until the others fit: these need no hand. */
static void test_the_rest_fits_when_enough_are_left(void **state)
{
    struct small_ledger *small = *state;
    struct closer_look look = open_look(small, 9, WAITING_CELL);
    decide(small, &look, VERDICT_HOLD);
    assert_int_equal(look.run.tie.count, TIED - 1);
    decide(small, &look, VERDICT_HOLD);
    assert_int_equal(look.run.tie.count, 0);
    assert_int_equal(kept(&look.run), 9);
    assert_int_equal(look.count, 2);
    closer_look_done(&look);
}

static void test_an_interrupted_look_goes_on(void **state)
{
    struct small_ledger *small = *state;
    struct closer_look look = open_look(small, 5, WAITING_CELL);
    decide(small, &look, VERDICT_KEEP);
    closer_look_done(&look);
    look = open_look(small, 5, WAITING_CELL);
    assert_int_equal(look.count, TIED);
    assert_int_equal(closer_look_verdict(&look, 0), VERDICT_KEEP);
    assert_int_equal(closer_look_verdict(&look, 1), VERDICT_OPEN);
    assert_int_equal(look.run.tie.places_left, 2);
    closer_look_done(&look);
}

static void test_undo_takes_back_one_after_another(void **state)
{
    struct small_ledger *small = *state;
    struct closer_look look = open_look(small, 5, WAITING_CELL);
    struct err err;
    int64_t fish, first = look.run.fish[look.fish[0]].id, second = look.run.fish[look.fish[1]].id;
    decide(small, &look, VERDICT_KEEP);
    decide(small, &look, VERDICT_HOLD);
    assert_ok(closer_look_undo(small->ledger, &look, small->judge, NULL, &fish, &err), &err);
    assert_true(fish == second);
    assert_int_equal(look.left, 0);
    assert_ok(closer_look_undo(small->ledger, &look, small->judge, NULL, &fish, &err), &err);
    assert_true(fish == first);
    assert_int_equal(look.run.tie.count, TIED);
    assert_int_equal(look.run.tie.places_left, 3);
    assert_false(closer_look_undo(small->ledger, &look, small->judge, NULL, &fish, &err));
    assert_int_equal(err.code, ERR_ABSENT);
    closer_look_done(&look);
}

/* Two sorters at the same tie: the second one's look is read anew before his key counts. */
static void test_two_never_take_the_same_place(void **state)
{
    struct small_ledger *small = *state;
    struct err err;
    struct closer_look mine = open_look(small, 3, WAITING_CELL),
                       theirs = open_look(small, 3, WAITING_CELL);
    decide(small, &mine, VERDICT_KEEP);
    assert_int_equal(theirs.run.tie.places_left, 1);
    assert_says(closer_look_decide(small->ledger, &theirs, theirs.run.fish[theirs.fish[4]].id,
                                   VERDICT_KEEP, small->judge, NULL, &err),
                &err, "No place is left; take a fish back first.");
    assert_int_equal(theirs.taken, 1);
    closer_look_done(&mine);
    closer_look_done(&theirs);
}

static void test_a_fish_judged_meanwhile_is_not_taken(void **state)
{
    struct small_ledger *small = *state;
    struct err err;
    struct closer_look look = open_look(small, 5, WAITING_CELL);
    int64_t id = look.run.fish[look.fish[0]].id;
    struct stroke stroke = {.fish = id,
                            .judge = small->judge,
                            .look = 1,
                            .at_ms = small->now,
                            .standard = small->standard.id,
                            .entry_count = 1,
                            .entries = {{.kind = ENTRY_FAULT, .what = "spine", .number = 1}}};
    assert_ok(stroke_record(small->ledger, &stroke, NULL, NULL, &err), &err);
    assert_says(
        closer_look_decide(small->ledger, &look, id, VERDICT_KEEP, small->judge, NULL, &err), &err,
        "This fish does not tie any more: it was judged meanwhile.");
    assert_int_equal(look.run.tie.count, TIED - 1);
    closer_look_done(&look);
}

/* Basins. Every fish lies where its score put it: the kept ones in the keep basin. */

static void pick(struct small_ledger *small, struct closer_look *look)
{
    struct err err;
    assert_ok(closer_look_pick(small->ledger, look, small->judge, NULL, &err), &err);
}

/* Two are held for a fault: these lie in the hold basin, all that tie in the keep basin. */
static void test_picks_are_no_more_than_held_fish(void **state)
{
    struct small_ledger *small = *state;
    struct closer_look look = open_look(small, 5, WAITING_BASIN);
    struct err err;
    assert_int_equal(look.in_hold, 2);
    assert_int_equal(look.in_keep, TIED);
    pick(small, &look);
    pick(small, &look);
    assert_open(&look, "7 fish tie at 75.0 for 1 place", true);
    assert_int_equal(look.in_hold, 0);
    assert_int_equal(look.run.tie.places_left, 1);
    assert_int_equal(kept(&look.run), 4);
    assert_says(closer_look_pick(small->ledger, &look, small->judge, NULL, &err), &err,
                "No other fish is held.");
    closer_look_done(&look);
}

static void test_picks_are_no_more_than_places(void **state)
{
    struct small_ledger *small = *state;
    struct closer_look look = open_look(small, 3, WAITING_BASIN);
    struct err err;
    pick(small, &look);
    assert_open(&look, "", false);
    assert_says(closer_look_pick(small->ledger, &look, small->judge, NULL, &err), &err,
                "No place is left; put a fish back first.");
    assert_int_equal(kept(&look.run), 3);
    assert_ok(closer_look_put_back(small->ledger, &look, small->judge, NULL, &err), &err);
    assert_int_equal(look.run.tie.places_left, 1);
    assert_false(closer_look_put_back(small->ledger, &look, small->judge, NULL, &err));
    assert_int_equal(err.code, ERR_ABSENT);
    closer_look_done(&look);
}

/* Of the nine in the keep basin as many stay as there are places; once more takes it back. */
static void test_fish_in_the_keep_basin_can_stay(void **state)
{
    struct small_ledger *small = *state;
    struct closer_look look = open_look(small, 8, WAITING_BASIN);
    struct err err;
    int fish;
    pick(small, &look);
    assert_ok(closer_look_stay(small->ledger, &look, small->judge, NULL, &fish, &err), &err);
    assert_int_equal(fish, 5);
    assert_int_equal(look.run.tie.places_left, 0);
    assert_int_equal(kept(&look.run), 8);
    assert_ok(closer_look_stay(small->ledger, &look, small->judge, NULL, &fish, &err), &err);
    assert_int_equal(fish, -5);
    assert_int_equal(look.run.picks.stay, 0);
    assert_int_equal(look.run.picks.from_hold, 1);
    assert_int_equal(look.run.tie.places_left, 5);
    closer_look_done(&look);
}

/* Picked fish keep their places in the next pass, whatever else changes. */
static void test_a_pass_gives_scores_the_places_that_are_left(void **state)
{
    struct small_ledger *small = *state;
    struct closer_look look = open_look(small, 3, WAITING_BASIN);
    pick(small, &look);
    closer_look_done(&look);
    struct pass_run run = try(small, 3, WAITING_BASIN);
    assert_int_equal(kept(&run), 3);
    assert_int_equal(run.tie.count, 0);
    run.places = 12; /* one was picked: eleven for the scores, and eleven there are */
    pass_run_decide(&run);
    assert_int_equal(kept(&run), 12);
    run.places = 0;
    pass_run_decide(&run);
    assert_int_equal(kept(&run), 1);
    pass_run_done(&run);
}

static void test_picks_are_no_tally_of_the_round(void **state)
{
    struct small_ledger *small = *state;
    struct closer_look look = open_look(small, 3, WAITING_BASIN);
    struct round_summary before, after;
    struct round_counts counts;
    struct err err;
    assert_ok(round_summary_get(small->ledger, small->round.id, &before, &err), &err);
    pick(small, &look);
    closer_look_done(&look);
    assert_ok(round_summary_get(small->ledger, small->round.id, &after, &err), &err);
    assert_int_equal(after.tally.verdicts[VERDICT_KEEP], before.tally.verdicts[VERDICT_KEEP] + 1);
    assert_int_equal(after.tally.verdicts[VERDICT_HOLD], before.tally.verdicts[VERDICT_HOLD] - 1);
    assert_int_equal(after.counts.kept.number, after.tally.verdicts[VERDICT_KEEP]);
    assert_int_equal(after.counts.in.number, before.counts.in.number);
    assert_ok(round_counts_known(small->ledger, small->round.id, &counts, &err), &err);
    assert_int_equal(counts.kept.number, NOT_COUNTED);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_the_tied_fish_come_up, setup, small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_taken_fish_fill_the_places, setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_the_rest_fits_when_enough_are_left, setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_an_interrupted_look_goes_on, setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_undo_takes_back_one_after_another, setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_two_never_take_the_same_place, setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_a_fish_judged_meanwhile_is_not_taken, setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_picks_are_no_more_than_held_fish, setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_picks_are_no_more_than_places, setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_fish_in_the_keep_basin_can_stay, setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_a_pass_gives_scores_the_places_that_are_left, setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_picks_are_no_tally_of_the_round, setup,
                                        small_ledger_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
