#include "senbetsu/exchange/exchange.h"
#include "senbetsu/report/pass.h"
#include "senbetsu/report/rounds.h"
#include "senbetsu/store/check.h"
#include "senbetsu/store/fish.h"
#include "senbetsu/store/rounds.h"
#include "support/import_bench.h"

#define HEAD "spawning,lot,stage,bowl,fish,judge,date,length_mm,tag,faults,body,white\n"

/* The only fish of bowl 1. */
static struct fish only_fish(struct small_ledger *small)
{
    struct fish *fish, first;
    size_t count;
    struct err err;
    assert_ok(
        fish_of_bowl(small->ledger, small->bowl.id, &small->standard.standard, &fish, &count, &err),
        &err);
    assert_int_equal(count, 1);
    first = fish[0];
    free(fish);
    return first;
}

static void assert_export(struct small_ledger *small, const char *expected)
{
    struct export_filter all = {.stage = -1};
    struct text out;
    struct err err;
    text_init(&out);
    assert_ok(export_fish(small->ledger, &all, &out, &err), &err);
    assert_string_equal(out.data, expected);
    text_done(&out);
}

static void test_a_whole_row(void **state)
{
    struct small_ledger *small = *state;
    static const char text[] = HEAD "K1,,first,1,4,Ines,2026-07-18,42,T-1,eye,3,4\n";
    take_text(small, import_fish, text, 1, 0, 0);
    struct fish fish = only_fish(small);
    assert_int_equal(fish.number, 4);
    assert_int_equal(fish.length_mm, 42);
    assert_string_equal(fish.tag, "T-1");
    assert_int_equal(fish.judgement.faults, 2);
    assert_int_equal(fish.judgement.scores[0], 3);
    assert_int_equal(fish.judgement.scores[1], 4);
    assert_true(fish.closed);
    assert_int_equal(fish.sent, VERDICT_HOLD);
    assert_int_equal(fish.closed_ms, 1784376000000); /* noon of the row's day */
    assert_export(small, text);
}

static void test_the_same_again_records_nothing(void **state)
{
    struct small_ledger *small = *state;
    static const char text[] = HEAD "K1,,first,1,1,Ines,,,,,3,4\nK1,,first,1,2,Ines,,,,spine,,\n";
    take_text(small, import_fish, text, 2, 0, 0);
    take_text(small, import_fish, text, 0, 0, 2);
}

static void test_other_values_are_a_correction(void **state)
{
    struct small_ledger *small = *state;
    struct undoable *strokes;
    size_t count;
    struct err err;
    take_text(small, import_fish, HEAD "K1,,first,1,1,,,,,spine,3,4\n", 1, 0, 0);
    take_text(small, import_fish, HEAD "K1,,first,1,1,,,50,,eye,5,\n", 0, 1, 0);
    struct fish fish = only_fish(small);
    assert_int_equal(fish.judgement.scores[0], 5);
    assert_int_equal(fish.judgement.scores[1], 4); /* what is empty is left */
    assert_int_equal(fish.judgement.faults, 2);    /* the list is the whole list */
    assert_int_equal(fish.length_mm, 50);
    assert_int_equal(fish.sent, VERDICT_HOLD);
    assert_ok(undoable_of(small->ledger, small->round.id, small->bowl.id, &strokes, &count, &err),
              &err);
    assert_int_equal(count, 2); /* nothing was overwritten */
    free(strokes);
}

static void test_an_unfinished_fish_stays_open(void **state)
{
    struct small_ledger *small = *state;
    take_text(small, import_fish, HEAD "K1,,first,1,1,,,,,,3,\n", 1, 0, 0);
    assert_false(only_fish(small).closed);
    take_text(small, import_fish, HEAD "K1,,first,1,1,,,,,,,4\n", 0, 1, 0);
    assert_true(only_fish(small).closed);
}

/* Another judge's row of a fish already judged is kept beside and decides nothing. */
static void test_a_second_judge_checks(void **state)
{
    struct small_ledger *small = *state;
    static const char text[] = HEAD "K1,,first,1,1,Ines,2026-07-18,,,,3,4\n"
                                    "K1,,first,1,1,Tomo,2026-07-19,,,spine,1,1\n";
    take_text(small, import_fish, text, 2, 0, 0);
    assert_int_equal(only_fish(small).judgement.faults, 0);
    assert_int_equal(only_fish(small).judgement.scores[0], 3);
    assert_export(small, text);
    take_text(small, import_fish, text, 0, 0, 2);
    take_text(small, import_fish, HEAD "K1,,first,1,1,Tomo,2026-07-19,,,,2,\n", 0, 1, 0);
    assert_int_equal(only_fish(small).judgement.scores[0], 3);
}

static void test_rounds_and_lots_are_begun(void **state)
{
    struct small_ledger *small = *state;
    struct round round;
    struct err err;
    take_text(small, import_fish, HEAD "K1,west,first,1,1,,,,,,3,4\nK1,K1,first,1,1,,,,,,3,4\n", 2,
              0, 0);
    assert_ok(round_find(small->ledger, "K1", "west", STAGE_FIRST, &round, &err), &err);
    assert_string_equal(round.standard, "plain-first");
    assert_int_equal(only_fish(small).number, 1); /* the spawning's own lot bears its code */
}

static void test_a_fish_that_nobody_judged(void **state)
{
    struct small_ledger *small = *state;
    take_text(small, import_fish, HEAD "K1,,first,1,1,,,,,,,\n", 1, 0, 0);
    assert_int_equal(only_fish(small).look, 0);
    assert_export(small, HEAD "K1,,first,1,1,,,,,,,\n");
}

static void test_unknown_columns_and_twice(void **state)
{
    struct small_ledger *small = *state;
    refuse_text(small, import_fish, "spawning,stage,bowl,fish,mood\nK1,first,1,1,\n",
                "f.csv, line 1, column 5 (mood): no standard of these fish has an aspect");
    refuse_text(small, import_fish, "spawning,stage,bowl,fish,mood\nK1,first,1,1,3\n",
                "f.csv, line 2, column 5 (mood): plain-first has no aspect \"mood\".");
    refuse_text(small, import_fish, "spawning,stage,bowl,fish\nK1,first,1,1\nK1,first,1,1\n",
                "f.csv, line 3, column 4 (fish): this fish is already on line 2.");
}

static void test_a_tag_belongs_to_one_fish(void **state)
{
    struct small_ledger *small = *state;
    refuse_text(small, import_fish,
                "spawning,stage,bowl,fish,tag\nK1,first,1,1,T\nK1,first,1,2,T\n",
                "f.csv, line 3, column 5 (tag): fish 1 of bowl 1 already has the tag T.");
}

static int changed(struct small_ledger *small, struct round *ret_round)
{
    struct round_summary summary;
    struct err err;
    assert_ok(round_find(small->ledger, "K1", "", STAGE_FIRST, ret_round, &err) &&
                  round_summary_get(small->ledger, ret_round->id, &summary, &err),
              &err);
    return summary.tally.changed;
}

static void found_nothing(void *context, const struct finding *finding)
{
    (void)context;
    fail_msg("%s", finding->lines);
}

/* An import leaves counters and belonging to its end, and asks no pass as it goes: all the same
 * everything fits, wherever its fish come into the bowls, and those a pass has not seen have
 * changed since. */
static void test_whatever_is_derived_follows(void **state)
{
    struct small_ledger *small = *state;
    struct check_listener listener = {.found = found_nothing};
    struct check_result result;
    struct round round;
    struct pass_run run;
    struct err err;
    bool recorded;
    take_text(small, import_fish,
              HEAD "K1,,first,1,3,,,,,,3,4\nK1,,first,2,1,,,,,,1,2\nK1,,first,1,1,,,,,,5,5\n"
                   "K1,,first,2,7,,,,,spine,,\nK1,,first,2,4,,,,,,,\n",
              5, 0, 0);
    assert_int_equal(changed(small, &round), 0);
    assert_ok(pass_run_load(small->ledger, &round, NULL, &run, &err), &err);
    assert_ok(pass_run_record(small->ledger, &run, 0, &recorded, &err), &err);
    pass_run_done(&run);
    take_text(small, import_fish,
              HEAD "K1,,first,3,2,,,,,,3,4\nK1,,first,2,2,,,,,,1,2\nK1,,first,1,1,,,,,,4,5\n"
                   "K1,,first,3,1,,,,,,,\n",
              3, 1, 0);
    assert_int_equal(changed(small, &round), 3);
    assert_ok(ledger_check(small->ledger, &listener, &result, &err), &err);
    assert_int_equal(result.wrong, 0);
    assert_int_equal(result.fish, 8);
}

struct told {
    int times;
    size_t done;
};

static void note_told(void *context, size_t done)
{
    struct told *told = context;
    assert_true(told->times == 0 || done > told->done);
    *told = (struct told){told->times + 1, done};
}

/* Whoever waits hears how far it is, but not of each row. */
static void test_a_long_file_tells_how_far_it_is(void **state)
{
    enum { FISH = 3000 };
    struct small_ledger *small = *state;
    struct told told = {.times = 0};
    struct text bytes;
    struct err err;
    text_init(&bytes);
    text_add(&bytes, "spawning,stage,bowl,fish\n");
    for (int i = 1; i <= FISH; i++)
        text_addf(&bytes, "K1,first,1,%d\n", i);
    struct import import = {.ledger = small->ledger,
                            .file = "f.csv",
                            .bytes = &bytes,
                            .tell = note_told,
                            .context = &told};
    assert_ok(transaction_begin(small->ledger, &err) && import_fish(&import, &err) &&
                  transaction_commit(small->ledger, &err),
              &err);
    text_done(&bytes);
    assert_counts(&import, FISH, 0, 0);
    assert_in_range(told.times, 2, FISH / 100);
    assert_in_range(told.done, FISH / 2, FISH);
}

#define IN_SMALL_LEDGER(test)                                                                      \
    cmocka_unit_test_setup_teardown(test, small_ledger_setup, small_ledger_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        IN_SMALL_LEDGER(test_a_whole_row),
        IN_SMALL_LEDGER(test_the_same_again_records_nothing),
        IN_SMALL_LEDGER(test_other_values_are_a_correction),
        IN_SMALL_LEDGER(test_an_unfinished_fish_stays_open),
        IN_SMALL_LEDGER(test_a_second_judge_checks),
        IN_SMALL_LEDGER(test_rounds_and_lots_are_begun),
        IN_SMALL_LEDGER(test_a_fish_that_nobody_judged),
        IN_SMALL_LEDGER(test_unknown_columns_and_twice),
        IN_SMALL_LEDGER(test_a_tag_belongs_to_one_fish),
        IN_SMALL_LEDGER(test_whatever_is_derived_follows),
        IN_SMALL_LEDGER(test_a_long_file_tells_how_far_it_is),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
