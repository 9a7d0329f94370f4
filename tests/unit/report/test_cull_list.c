#include "senbetsu/print/cull_list.h"
#include "senbetsu/report/cull_list.h"
#include "senbetsu/report/pass.h"
#include "senbetsu/store/lot_events.h"
#include "senbetsu/store/round_counts.h"
#include "senbetsu/store/tallies.h"
#include "support/import_bench.h"

#define HEAD "spawning,stage,bowl,fish,judge,date,faults,body,white\n"

static int setup(void **state)
{
    int result = small_ledger_setup(state);
    take_text(*state, import_fish,
              HEAD "K1,first,1,1,Ines,2026-07-18,,5,5\n"
                   "K1,first,1,2,Ines,2026-07-18,,4,4\n"
                   "K1,first,1,3,Ines,2026-07-18,,4,4\n"
                   "K1,first,1,4,Ines,2026-07-18,spine,,\n",
              4, 0, 0);
    return result;
}

static struct round round_of(struct small_ledger *small)
{
    struct round round;
    struct err err;
    assert_ok(round_get(small->ledger, small->round.id, &round, &err), &err);
    return round;
}

static struct cull_list make(struct small_ledger *small)
{
    struct round round = round_of(small);
    struct cull_list made;
    struct err err;
    assert_ok(cull_list_of_round(small->ledger, &round, &made, &err), &err);
    assert_int_equal(made.round_count, 1);
    return made;
}

/* Places for two: the two fish of 75 points tie, so one is kept. */
static void pass(struct small_ledger *small)
{
    struct round round = round_of(small);
    struct pass_run run;
    struct err err;
    assert_ok(pass_run_load(small->ledger, &round, NULL, &run, &err), &err);
    run.places = 2;
    pass_run_decide(&run);
    bool recorded = false;
    assert_ok(pass_run_record(small->ledger, &run, small->judge, &recorded, &err), &err);
    assert_true(recorded);
    pass_run_done(&run);
}

static void test_without_a_pass(void **state)
{
    struct cull_list made = make(*state);
    const struct cull_round *round = &made.rounds[0];
    assert_string_equal(made.title, "K1, first");
    assert_string_equal(made.printed, "2026-07-18 12:00");
    assert_string_equal(round->standard, "plain-first version 1: keep from 65, hold from 55");
    assert_string_equal(round->first_day, "2026-07-18");
    assert_string_equal(round->last_day, "2026-07-18");
    assert_string_equal(round->judges, "Ines");
    assert_string_equal(round->passed, "");
    assert_int_equal(round->bowl_count, 1);
    assert_int_equal(round->bowls[0].expected, 5);
    assert_int_equal(round->fish_count, 4);
    assert_int_equal(round->fish[1].verdict, VERDICT_KEEP);
    assert_string_equal(round->fish[3].reason, "fault spine");
    assert_false(round->fish[3].since_pass);
    cull_list_done(&made);
}

static void move_on(struct small_ledger *small, const char *day, const char *pond)
{
    struct round round = round_of(small);
    struct lot_event event;
    struct err err;
    lot_event_init(&event);
    event.kind = EVENT_MOVE;
    event.lot_id = round.lot_id;
    text_copy(event.day, sizeof event.day, day);
    text_copy(event.pond, sizeof event.pond, pond);
    assert_ok(lot_event_record(small->ledger, &event, small->judge, &err), &err);
}

/* The last day counts, not what was said last. */
static void test_the_pond_is_where_the_lot_went_last(void **state)
{
    struct small_ledger *small = *state;
    struct cull_list made = make(small);
    assert_string_equal(made.rounds[0].pond, "");
    cull_list_done(&made);
    move_on(small, "2026-07-17", "North");
    move_on(small, "2026-07-16", "South");
    made = make(small);
    assert_string_equal(made.rounds[0].pond, "North");
    cull_list_done(&made);
}

/* The bowl holds five; the round's form may say more, and some of them are in no bowl yet. */
static void test_list_and_pass_miss_the_same_fish(void **state)
{
    struct small_ledger *small = *state;
    const int expected[] = {0, 5, 12}, unseen[] = {1, 1, 8};
    for (size_t i = 0; i < sizeof unseen / sizeof *unseen; i++) {
        struct round round = round_of(small);
        struct pass_run run;
        struct err err;
        int found;
        round.expected = expected[i];
        assert_ok(round_save(small->ledger, &round, 0, &err), &err);
        assert_ok(pass_run_load(small->ledger, &round, NULL, &run, &err), &err);
        assert_ok(cull_list_unseen(small->ledger, &run, &found, &err), &err);
        assert_int_equal(found, unseen[i]);
        struct cull_list made = make(small);
        assert_int_equal(cull_count_round(&made.rounds[0]).unseen, unseen[i]);
        cull_list_done(&made);
        pass_run_done(&run);
    }
}

static void test_the_latest_pass_decides(void **state)
{
    pass(*state);
    struct cull_list made = make(*state);
    const struct cull_round *round = &made.rounds[0];
    assert_string_equal(round->passed, "2026-07-18 12:00");
    assert_int_equal(round->places, 2);
    assert_int_equal(round->fish[0].verdict, VERDICT_KEEP);
    assert_int_equal(round->fish[1].verdict, VERDICT_HOLD);
    assert_string_equal(round->fish[1].reason, "places");
    for (size_t i = 0; i < round->fish_count; i++)
        assert_false(round->fish[i].since_pass);
    cull_list_done(&made);
}

static void test_what_came_after_the_pass_is_marked(void **state)
{
    struct small_ledger *small = *state;
    pass(small);
    take_text(small, import_fish,
              HEAD "K1,first,1,2,Ines,2026-07-19,spine,,\n" /* corrected */
                   "K1,first,1,3,Ines,2026-07-19,,4,4\n"    /* as before */
                   "K1,first,1,5,Ines,2026-07-19,,1,1\n",   /* new */
              1, 1, 1);
    struct cull_list made = make(small);
    const struct fish_row *fish = made.rounds[0].fish;
    assert_true(fish[1].since_pass);
    assert_int_equal(fish[1].verdict, VERDICT_REJECT);
    assert_string_equal(fish[1].reason, "fault spine");
    assert_false(fish[2].since_pass);
    assert_string_equal(fish[2].reason, "places");
    assert_true(fish[4].since_pass);
    assert_int_equal(fish[4].verdict, VERDICT_REJECT);
    cull_list_done(&made);
}

/* What a pass decided stands through a version with other thresholds, another order and one aspect
 * more. */
static void test_a_later_version_does_not_reach_back(void **state)
{
    struct small_ledger *small = *state;
    struct standard standard = small->standard.standard;
    struct standard_version version;
    enum saved saved;
    struct err err;
    pass(small);
    standard.keep_at = 100 * 100;
    standard.aspects[2] = standard.aspects[0];
    standard.aspects[0] = standard.aspects[1];
    standard.aspects[1] = standard.aspects[2];
    text_copy(standard.aspects[2].code, sizeof standard.aspects[2].code, "skin");
    standard.aspect_count = 3;
    assert_ok(standard_save(small->ledger, &standard, ORIGIN_IMPORTED, &version, &saved, &err),
              &err);
    struct cull_list made = make(small);
    const struct cull_round *round = &made.rounds[0];
    assert_string_equal(round->passed, "2026-07-18 12:00");
    assert_int_equal(round->places, 2);
    for (size_t i = 0; i < round->fish_count; i++)
        assert_false(round->fish[i].since_pass);
    assert_int_equal(round->fish[0].verdict, VERDICT_KEEP);
    assert_string_equal(round->outdated, "plain-first version 1 then and 2 now");
    cull_list_done(&made);
}

/* Two without a spine and one more of a remove round, and five somewhere: two too many. */
static void test_a_tallied_round_is_told_in_numbers(void **state)
{
    struct small_ledger *small = *state;
    const struct tally_mark marks[] = {{.kind = TALLY_REJECT, .reason = "spine"},
                                       {.kind = TALLY_REJECT, .reason = "spine"},
                                       {.kind = TALLY_REJECT}};
    const struct fates said = {.fish = {[FATE_PUT_DOWN] = 5}};
    struct round round;
    struct cull_list made;
    struct text out;
    enum saved saved;
    bool is_new;
    struct err err;
    assert_ok(round_begin_as(small->ledger, "K1", "tallied", STAGE_FIRST, MANNER_REMOVE, &round,
                             &is_new, &err),
              &err);
    for (size_t i = 0; i < 3; i++)
        assert_ok(tally_record(small->ledger, round.id, small->judge, &marks[i], NULL, &err), &err);
    assert_ok(reject_fates_record(small->ledger, round.id, &said, 0, &saved, &err), &err);
    assert_ok(cull_list_of_round(small->ledger, &round, &made, &err), &err);
    text_init(&out);
    cull_list_print(&made, page_default(), &out);
    assert_non_null(strstr(out.data, "In all: take out 3, none of them by number\n"
                                     "Rejects go: put-down 5, 2 more than were rejected\n"));
    assert_non_null(strstr(out.data, "       2  "));
    assert_non_null(strstr(out.data, "       1  no reason\n"));
    assert_non_null(strstr(out.data, "Tallied: 2026-07-18 "));
    assert_non_null(strstr(out.data, "[   ] Rejects: 3 fish, all out: put-down 5"));
    assert_non_null(strstr(out.data, "Took out ____ of 3"));
    assert_null(strstr(out.data, "basin"));
    text_done(&out);
    cull_list_done(&made);
}

/* The picks of a closer look are kept, and say nothing of the rejects. */
static void test_a_closer_look_moves_held_fish(void **state)
{
    struct small_ledger *small = *state;
    const struct tally_mark pick = {.kind = TALLY_KEEP};
    struct err err;
    pass(small);
    assert_ok(tally_record(small->ledger, small->round.id, small->judge, &pick, NULL, &err), &err);
    struct cull_list made = make(small);
    struct cull_count count = cull_count_round(&made.rounds[0]);
    assert_false(made.rounds[0].stated);
    assert_int_equal(made.rounds[0].picks.from_hold, 1);
    assert_int_equal(count.fish[VERDICT_KEEP], 2);
    assert_int_equal(count.fish[VERDICT_HOLD], 1);
    assert_int_equal(count.fish[VERDICT_REJECT], 1);
    cull_list_done(&made);
}

static void test_a_day_has_all_its_rounds(void **state)
{
    struct small_ledger *small = *state;
    struct cull_list made;
    struct err err;
    take_text(small, import_fish,
              "spawning,lot,stage,bowl,fish,date,body,white\nK1,west,first,1,1,2026-07-18,1,1\n", 1,
              0, 0);
    assert_ok(cull_list_of_day(small->ledger, "2026-07-18", &made, &err), &err);
    assert_string_equal(made.title, "2026-07-18");
    assert_int_equal(made.round_count, 2);
    cull_list_done(&made);
    assert_says(cull_list_of_day(small->ledger, "2026-07-17", &made, &err), &err,
                "Nothing was judged on 2026-07-17.");
}

/* Two fish tie for one place; when one was picked the list counts it as kept. */
static void test_what_the_places_leave_open(void **state)
{
    struct small_ledger *small = *state;
    static const struct tally_mark mark = {.kind = TALLY_KEEP};
    struct err err;
    struct cull_list made = make(small);
    assert_string_equal(made.rounds[0].left_open, "");
    cull_list_done(&made);
    pass(small);
    made = make(small);
    assert_string_equal(made.rounds[0].left_open, "2 fish tie at 75.0 for 1 place");
    cull_list_done(&made);
    assert_ok(tally_record(small->ledger, small->round.id, small->judge, &mark, NULL, &err), &err);
    made = make(small);
    struct cull_count count = cull_count_round(&made.rounds[0]);
    assert_string_equal(made.rounds[0].left_open, "");
    assert_int_equal(made.rounds[0].picks.from_hold, 1);
    assert_int_equal(count.fish[VERDICT_KEEP], 2);
    assert_int_equal(count.fish[VERDICT_HOLD], 1);
    cull_list_done(&made);
}

#define IN_LEDGER(test) cmocka_unit_test_setup_teardown(test, setup, small_ledger_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        IN_LEDGER(test_without_a_pass),
        IN_LEDGER(test_the_pond_is_where_the_lot_went_last),
        IN_LEDGER(test_list_and_pass_miss_the_same_fish),
        IN_LEDGER(test_the_latest_pass_decides),
        IN_LEDGER(test_what_came_after_the_pass_is_marked),
        IN_LEDGER(test_a_later_version_does_not_reach_back),
        IN_LEDGER(test_a_tallied_round_is_told_in_numbers),
        IN_LEDGER(test_what_the_places_leave_open),
        IN_LEDGER(test_a_closer_look_moves_held_fish),
        IN_LEDGER(test_a_day_has_all_its_rounds),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
