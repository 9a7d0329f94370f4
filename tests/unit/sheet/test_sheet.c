#include "senbetsu/sheet/sheet.h"
#include "support/sheet_bench.h"
#include "support/test.h"

static void an_empty_bowl_begins_with_its_first_fish(void **state)
{
    (void)state;
    struct bench *bench = bench_new(60);
    assert_int_equal(bench->sheet.fish_count, 1);
    assert_int_equal(bench_front(bench)->id, 0);
    assert_int_equal(bench_front(bench)->number, 1);
    assert_int_equal(bench_front(bench)->bowl_id, FAKE_BOWL_ID);
    assert_int_equal(bench->sheet.aspect, WHITE);
    assert_int_equal(bench->sheet.tray_verdicts[VERDICT_OPEN], 1);
    assert_true(bench->sheet.last == SIZE_MAX);
    assert_int_equal(bench->port.place.number, 1);
    assert_string_equal(bench->port.place.aspect, "white");
    bench_free(bench);
}

/* The promise of the trade's hand: how many commands a fish costs. */
static int commands_for(struct bench *bench, const struct sheet_command *commands, int count,
                        enum verdict verdict)
{
    int before = bench->commands;
    size_t fish = bench->sheet.current;
    for (int i = 0; i < count; i++)
        bench_do(bench, commands[i].kind, commands[i].number);
    assert_int_equal(bench_verdict(bench, fish), verdict);
    assert_true(bench->sheet.fish[fish].closed);
    assert_int_equal(bench->sheet.current, fish + 1);
    return bench->commands - before;
}

static void a_fish_costs_few_commands(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    const struct sheet_command reject[] = {{COMMAND_FAULT, SPINE, NULL}};
    const struct sheet_command average[] = {{COMMAND_TYPICAL, 0, NULL}};
    const struct sheet_command exception[] = {
        {COMMAND_ASPECT, PATTERN, NULL}, {COMMAND_SCORE, 5, NULL}, {COMMAND_TYPICAL, 0, NULL}};
    assert_int_equal(commands_for(bench, reject, 1, VERDICT_REJECT), 1);
    assert_int_equal(commands_for(bench, average, 1, VERDICT_KEEP), 1);
    assert_int_equal(commands_for(bench, exception, 3, VERDICT_KEEP), 3);
    bench_free(bench);
}

static void moves_among_aspects(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_do(bench, COMMAND_UP, 0);
    assert_int_equal(bench->sheet.aspect, BODY);
    assert_string_equal(bench->port.place.aspect, "body");
    bench_do(bench, COMMAND_DOWN, 0);
    assert_int_equal(bench->sheet.aspect, WHITE);
    bench_do(bench, COMMAND_ASPECT, HEAD);
    bench_do(bench, COMMAND_SCORE, 4);
    assert_int_equal(bench->sheet.aspect, PATTERN);
    bench_do(bench, COMMAND_UP, 0);
    assert_int_equal(bench->sheet.aspect, HEAD);
    bench_do(bench, COMMAND_SKIP, 0);
    bench_do(bench, COMMAND_SKIP, 0);
    bench_do(bench, COMMAND_SKIP, 0);
    assert_int_equal(bench->sheet.aspect, WHITE);
    bench_do(bench, COMMAND_SKIP, 0);
    assert_int_equal(bench->sheet.aspect, PATTERN);
    bench_refused(bench, COMMAND_ASPECT, BENCH_ASPECTS, "4 aspects");
    bench_refused(bench, COMMAND_ASPECT, -1, "4 aspects");
    assert_int_equal(bench->port.stroke_count, 1);
    bench_free(bench);
}

static void a_full_bowl_has_a_last_fish(void **state)
{
    (void)state;
    struct bench *bench = bench_new(2);
    bench_judge_fish(bench, 3);
    bench_refused(bench, COMMAND_LATER, 0, "when this one is judged");
    bench_judge_fish(bench, 3);
    bench_refused(bench, COMMAND_LATER, 0, "last fish");
    bench_free(bench);
}

static void moves_among_fish(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_refused(bench, COMMAND_EARLIER, 0, "first fish");
    bench_refused(bench, COMMAND_LATER, 0, "when this one is judged");
    bench_judge_fish(bench, 3);
    bench_judge_fish(bench, 4);
    bench_do(bench, COMMAND_EARLIER, 0);
    bench_do(bench, COMMAND_EARLIER, 0);
    assert_int_equal(bench_front(bench)->number, 1);
    assert_int_equal(bench->port.place.number, 1);
    assert_int_equal(bench->sheet.aspect, BENCH_ASPECTS);
    bench_refused(bench, COMMAND_SKIP, 0, "has its score");
    bench_do(bench, COMMAND_UP, 0);
    assert_int_equal(bench->sheet.aspect, BODY);
    bench_do(bench, COMMAND_LATER, 0);
    assert_int_equal(bench_front(bench)->number, 2);
    bench_do(bench, COMMAND_FRONT, 0);
    assert_int_equal(bench_front(bench)->number, 3);
    bench_do(bench, COMMAND_EARLIER, 0);
    bench_do(bench, COMMAND_TYPICAL, 0);
    assert_int_equal(bench_front(bench)->number, 3);
    assert_int_equal(bench->sheet.aspect, WHITE);
    bench_free(bench);
}

static void a_full_bowl_says_so(void **state)
{
    (void)state;
    struct bench *bench = bench_new(2);
    bench_judge_fish(bench, 3);
    assert_false(bench->sheet.full);
    bench_do(bench, COMMAND_FAULT, SPINE);
    assert_true(bench->sheet.full);
    assert_non_null(strstr(bench->sheet.message, "next bowl"));
    assert_int_equal(bench->sheet.fish_count, 2);
    assert_int_equal(bench_front(bench)->number, 2);
    assert_int_equal(bench->sheet.tray_verdicts[VERDICT_KEEP], 1);
    assert_int_equal(bench->sheet.tray_verdicts[VERDICT_REJECT], 1);
    bench_refused(bench, COMMAND_FRONT, 0, "judged");
    bench_refused(bench, COMMAND_TYPICAL, 0, "judged");
    bench_free(bench);
}

static void comes_back_to_fish_and_aspect(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_judge_fish(bench, 3);
    bench_do(bench, COMMAND_ASPECT, PATTERN);
    bench_reopen(bench, false);
    assert_int_equal(bench_front(bench)->number, 2);
    assert_int_equal(bench->sheet.aspect, PATTERN);

    bench_do(bench, COMMAND_EARLIER, 0);
    bench_do(bench, COMMAND_ASPECT, BODY);
    bench_reopen(bench, false);
    assert_int_equal(bench_front(bench)->number, 1);
    assert_int_equal(bench->sheet.aspect, BODY);

    bench->port.place = (struct sheet_place){0};
    bench_reopen(bench, false);
    assert_int_equal(bench_front(bench)->number, 2);
    assert_int_equal(bench->sheet.aspect, WHITE);
    bench_free(bench);
}

static void a_place_that_is_gone_gives_the_first_open_fish(void **state)
{
    (void)state;
    struct bench *bench = bench_new(3);
    bench_judge_fish(bench, 3);
    bench->port.place = (struct sheet_place){FAKE_BOWL_ID, 44, "pattern"};
    bench_reopen(bench, false);
    assert_int_equal(bench_front(bench)->number, 2);
    assert_int_equal(bench->sheet.aspect, WHITE);
    bench_judge_fish(bench, 3);
    bench_judge_fish(bench, 3);
    bench->port.place = (struct sheet_place){FAKE_BOWL_ID, 2, "no-such-aspect"};
    bench_reopen(bench, false);
    assert_true(bench->sheet.full);
    assert_int_equal(bench_front(bench)->number, 2);
    bench->port.place.number = 44;
    bench_reopen(bench, false);
    assert_int_equal(bench_front(bench)->number, 3);
    bench_free(bench);
}

static void shows_pace_and_cut_line(void **state)
{
    (void)state;
    struct bench *bench = bench_new(40);
    bench->port.places = 5;
    bench_do(bench, COMMAND_REFRESH, 0);
    assert_int_equal(bench->sheet.pace, 0);
    assert_int_equal(bench->sheet.cut.kind, CUT_UNKNOWN);
    for (int i = 0; i < 20; i++)
        bench_judge_fish(bench, i < 4 ? 5 : 2);
    /* Two commands a fish, one second each: 1800 fish an hour. */
    assert_int_equal(bench->sheet.pace, 1800);
    assert_int_equal(bench->sheet.round.tally.judged, 20);
    assert_int_equal(bench->sheet.round.tally.verdicts[VERDICT_KEEP], 4);
    /* One place and 20 fish are left: 4 of the 20 so far had the best score, too many for one
     * place, so that the best score is the line. White 5 (weight 4 of 10), the rest 3 on 1–5:
     * 100 · (16 + 4 + 6 + 2) / 40 = 70 points, in units of 1/(100 · 4 · 10). */
    assert_int_equal(bench->sheet.cut.kind, CUT_AT);
    assert_int_equal(bench->sheet.cut.score, 70 * score_unit(&bench->standard));
    bench_free(bench);
}

static void digits_of_a_scale(void **state)
{
    (void)state;
    struct standard standard = bench_standard();
    assert_int_equal(sheet_score_of_digit(&standard, 0), SCORE_NONE);
    assert_int_equal(sheet_score_of_digit(&standard, 1), 1);
    assert_int_equal(sheet_score_of_digit(&standard, 6), SCORE_NONE);
    standard.highest = 10;
    assert_int_equal(sheet_score_of_digit(&standard, 0), 10);
    assert_int_equal(sheet_score_of_digit(&standard, 9), 9);
    standard.lowest = 0;
    standard.highest = 9;
    assert_int_equal(sheet_score_of_digit(&standard, 0), 0);
}

static void leaving_and_refreshing_touch_nothing(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    struct sheet before = sheet_copy(&bench->sheet);
    bench_refused(bench, COMMAND_UNDO, 0, "nothing left");
    bench_do(bench, COMMAND_REFRESH, 0);
    assert_non_null(strstr(bench->sheet.message, "nothing left"));
    bench_do(bench, COMMAND_LEAVE, 0);
    assert_true(bench->effects.leave);
    assert_sheets_equal(&before, &bench->sheet);
    sheet_done(&before);
    bench_free(bench);
}

static void a_port_that_fails_at_the_beginning(void **state)
{
    (void)state;
    struct standard standard = bench_standard();
    for (int call = 1; call <= 2; call++) {
        struct fake_port port;
        struct sheet sheet;
        struct err err;
        fake_port_init(&port, &standard);
        port.fail_at = call;
        assert_says(fake_port_open(&port, &sheet, 5, false, &err), &err, "holds the ledger");
        fake_port_done(&port);
    }
}

static void a_refresh_that_fails_keeps_the_totals(void **state)
{
    (void)state;
    struct bench *bench = bench_new(5);
    bench_judge_fish(bench, 3);
    struct sheet before = sheet_copy(&bench->sheet);
    bench->port.fail_at = bench->port.calls + 1;
    bench_refused(bench, COMMAND_REFRESH, 0, "holds the ledger");
    assert_sheets_equal(&before, &bench->sheet);
    sheet_done(&before);
    bench_free(bench);
}

/* A sheet on the fish that stand in another one. */
static struct sheet sheet_on(struct bench *bench, bool second_look,
                             const struct sheet_undoable *undoable, size_t undoable_count)
{
    struct sheet_setup setup = {
        .standard = &bench->standard,
        .bowl_id = FAKE_BOWL_ID,
        .second_look = second_look,
        .fish = bench->sheet.fish,
        .fish_count = bench->sheet.fish_count,
        .undoable = undoable,
        .undoable_count = undoable_count,
        .port = fake_port_functions(&bench->port),
        .clock = clock_fixed(&bench->port.now_ms),
    };
    struct sheet sheet;
    struct err err;
    assert_ok(sheet_init(&sheet, &setup, &err), &err);
    return sheet;
}

static void strokes_of_other_bowls_are_not_taken_back(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    const struct sheet_undoable undoable[] = {{1, 1}, {7, 99}};
    bench_do(bench, COMMAND_SCORE, 4);
    struct sheet sheet = sheet_on(bench, false, undoable, 2);
    assert_int_equal(sheet.undoable_count, 1);
    assert_int_equal(sheet.undoable[0].stroke, 1);
    sheet_done(&sheet);
    bench_free(bench);
}

/* Not a fish that any second look should be given; the others are looked at again all the same. */
static void a_fish_never_finished_does_not_stop_a_second_look(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_judge_fish(bench, 4);
    bench_do(bench, COMMAND_SCORE, 4);
    struct sheet sheet = sheet_on(bench, true, NULL, 0);
    assert_int_equal(sheet.look, 2);
    assert_int_equal(sheet.fish[0].look, 2);
    assert_false(sheet.fish[0].closed);
    assert_int_equal(sheet.fish[1].look, 1);
    sheet_done(&sheet);
    bench_free(bench);
}

static void a_second_look_needs_fish(void **state)
{
    (void)state;
    struct standard standard = bench_standard();
    struct fake_port port;
    struct sheet sheet;
    struct err err;
    fake_port_init(&port, &standard);
    assert_says(fake_port_open(&port, &sheet, 0, true, &err), &err, "held for a second look");
    fake_port_done(&port);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_empty_bowl_begins_with_its_first_fish),
        cmocka_unit_test(a_fish_costs_few_commands),
        cmocka_unit_test(moves_among_aspects),
        cmocka_unit_test(moves_among_fish),
        cmocka_unit_test(a_full_bowl_has_a_last_fish),
        cmocka_unit_test(a_full_bowl_says_so),
        cmocka_unit_test(comes_back_to_fish_and_aspect),
        cmocka_unit_test(a_place_that_is_gone_gives_the_first_open_fish),
        cmocka_unit_test(shows_pace_and_cut_line),
        cmocka_unit_test(digits_of_a_scale),
        cmocka_unit_test(leaving_and_refreshing_touch_nothing),
        cmocka_unit_test(a_port_that_fails_at_the_beginning),
        cmocka_unit_test(a_refresh_that_fails_keeps_the_totals),
        cmocka_unit_test(strokes_of_other_bowls_are_not_taken_back),
        cmocka_unit_test(a_fish_never_finished_does_not_stop_a_second_look),
        cmocka_unit_test(a_second_look_needs_fish),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
