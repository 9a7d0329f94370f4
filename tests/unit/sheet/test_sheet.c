#include "senbetsu/base/utf8.h"
#include "senbetsu/sheet/sheet.h"
#include "support/sheet_bench.h"
#include "support/test.h"

static void an_empty_bowl_begins_with_its_first_fish(void **state)
{
    (void)state;
    struct bench *bench = bench_new(60);
    assert_int_equal(bench->sheet.fish_count, 1);
    assert_int_equal(bench_current(bench)->id, 0);
    assert_int_equal(bench_current(bench)->number, 1);
    assert_int_equal(bench_current(bench)->bowl_id, FAKE_BOWL_ID);
    assert_int_equal(bench->sheet.aspect, WHITE);
    assert_int_equal(bench->sheet.verdicts[VERDICT_OPEN], 1);
    assert_true(bench->sheet.last == SIZE_MAX);
    assert_int_equal(bench->port.place.number, 1);
    assert_string_equal(bench->port.place.aspect, "white");
    bench_free(bench);
}

/* How many commands a fish costs. */
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
    const struct sheet_command reject[] = {{.kind = COMMAND_FAULT, .number = SPINE}};
    const struct sheet_command average[] = {{.kind = COMMAND_TYPICAL}};
    const struct sheet_command exception[] = {{.kind = COMMAND_ASPECT, .number = PATTERN},
                                              {.kind = COMMAND_SCORE, .number = 5},
                                              {.kind = COMMAND_TYPICAL}};
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
    assert_int_equal(bench_current(bench)->number, 1);
    assert_int_equal(bench->port.place.number, 1);
    assert_int_equal(bench->sheet.aspect, BENCH_ASPECTS);
    bench_refused(bench, COMMAND_SKIP, 0, "has its score");
    bench_do(bench, COMMAND_UP, 0);
    assert_int_equal(bench->sheet.aspect, BODY);
    bench_do(bench, COMMAND_LATER, 0);
    assert_int_equal(bench_current(bench)->number, 2);
    bench_do(bench, COMMAND_FIRST_OPEN, 0);
    assert_int_equal(bench_current(bench)->number, 3);
    bench_do(bench, COMMAND_EARLIER, 0);
    bench_do(bench, COMMAND_TYPICAL, 0);
    assert_int_equal(bench_current(bench)->number, 3);
    assert_int_equal(bench->sheet.aspect, WHITE);
    bench_free(bench);
}

/* The last fish only happens to be in front: keys that judge change it when somebody has asked for
 * it, and say which key takes the next bowl until then. */
static void a_full_bowl_keeps_its_last_fish(void **state)
{
    (void)state;
    struct bench *bench = bench_new(2);
    bench_do(bench, COMMAND_TYPICAL, 0);
    bench_do(bench, COMMAND_FAULT, SPINE);
    size_t strokes = bench->port.stroke_count;
    assert_true(bench->sheet.resting);
    bench_refused(bench, COMMAND_SCORE, 4, "b or . 8 takes the next; to change fish 2");
    bench_refused(bench, COMMAND_FAULT, SPINE, "takes the next");
    bench_refused(bench, COMMAND_FAULT, EYE, "takes the next");
    bench_refused(bench, COMMAND_CLEAR, 0, "takes the next");
    bench_refused(bench, COMMAND_SKIP, 0, "takes the next");
    bench_refused(bench, COMMAND_FINISH, 0, "All 2 fish of bowl 3 are judged; b or . 8");
    assert_int_equal(bench->port.stroke_count, strokes);
    bench_reopen(bench, false);
    bench_refused(bench, COMMAND_SCORE, 4, "takes the next");
    bench_do(bench, COMMAND_ASPECT, HEAD);
    bench_do(bench, COMMAND_SCORE, 4);
    assert_int_equal(bench_current(bench)->judgement.scores[HEAD], 4);
    bench_do(bench, COMMAND_FAULT, SPINE); /* open again, and closed again: it is in front anew */
    assert_false(bench->sheet.resting);
    bench_do(bench, COMMAND_FINISH, 0);
    assert_true(bench->sheet.resting);
    bench_do(bench, COMMAND_EARLIER, 0);
    bench_do(bench, COMMAND_FAULT, EYE);
    assert_int_equal(bench_current(bench)->number, 1);
    bench_free(bench);
}

/* Rule 2 stands before rule 3: an aspect without a score leaves the fish open. */
static void a_score_under_its_floor_says_why_it_does_not_close(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_do(bench, COMMAND_SCORE, 1);
    assert_int_equal(bench_current(bench)->number, 1);
    assert_string_equal(bench->sheet.message,
                        "White ground under 2: reject once all is scored; Enter gives the rest.");
    bench_do(bench, COMMAND_SCORE, 3);
    assert_string_equal(bench->sheet.message, "");
    bench_do(bench, COMMAND_FINISH, 0);
    assert_int_equal(bench->sheet.last_decision.verdict, VERDICT_REJECT);
    assert_int_equal(bench->sheet.last_decision.reason, REASON_FLOOR);
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
    assert_int_equal(bench_current(bench)->number, 2);
    assert_int_equal(bench->sheet.verdicts[VERDICT_KEEP], 1);
    assert_int_equal(bench->sheet.verdicts[VERDICT_REJECT], 1);
    bench_refused(bench, COMMAND_FIRST_OPEN, 0, "judged");
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
    assert_int_equal(bench_current(bench)->number, 2);
    assert_int_equal(bench->sheet.aspect, PATTERN);

    bench_do(bench, COMMAND_EARLIER, 0);
    bench_do(bench, COMMAND_ASPECT, BODY);
    bench_reopen(bench, false);
    assert_int_equal(bench_current(bench)->number, 1);
    assert_int_equal(bench->sheet.aspect, BODY);

    bench->port.place = (struct sheet_place){0};
    bench_reopen(bench, false);
    assert_int_equal(bench_current(bench)->number, 2);
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
    assert_int_equal(bench_current(bench)->number, 2);
    assert_int_equal(bench->sheet.aspect, WHITE);
    bench_judge_fish(bench, 3);
    bench_judge_fish(bench, 3);
    bench->port.place = (struct sheet_place){FAKE_BOWL_ID, 2, "no-such-aspect"};
    bench_reopen(bench, false);
    assert_true(bench->sheet.full);
    assert_int_equal(bench_current(bench)->number, 2);
    bench->port.place.number = 44;
    bench_reopen(bench, false);
    assert_int_equal(bench_current(bench)->number, 3);
    bench_free(bench);
}

static void shows_pace_and_cut_line(void **state)
{
    (void)state;
    struct bench *bench = bench_new(40);
    bench->port.places = 5;
    bench_do(bench, COMMAND_REFRESH, 0);
    assert_int_equal(bench->sheet.pace, 0);
    assert_int_equal(bench->sheet.cut.kind, CUT_EARLY);
    for (int i = 0; i < 20; i++)
        bench_judge_fish(bench, i < 4 ? 5 : 2);
    /* Two commands a fish, one second each: 1800 fish an hour. */
    assert_int_equal(bench->sheet.pace, 1800);
    assert_int_equal(bench->sheet.round.tally.judged, 20);
    assert_int_equal(bench->sheet.round.tally.verdicts[VERDICT_KEEP], 0);
    /* Five of 40 are to be kept, so 2.6 of the first 21, rounded 3; four of 20 have the best score,
     * too many, so that only a better one is kept. White 5 (weight 4 of 10), the rest 3 on 1–5:
     * 100 · (16 + 4 + 6 + 2) / 40 = 70 points, in units of 1/(100 · 4 · 10). */
    assert_int_equal(bench->sheet.cut.kind, CUT_OVER);
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
        assert_says(fake_port_open(&port, &sheet, 5, false, &err), &err, "is using the ledger");
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
    bench_refused(bench, COMMAND_REFRESH, 0, "is using the ledger");
    assert_sheets_equal(&before, &bench->sheet);
    sheet_done(&before);
    bench_free(bench);
}

/* A sheet on the fish that stand in another one. */
static struct sheet sheet_on(struct bench *bench, bool second_look, const struct undoable *undoable,
                             size_t undoable_count)
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
    const struct undoable undoable[] = {{1, 1}, {7, 99}};
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

static void type_length(struct bench *bench, const char *text)
{
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_LENGTH);
    bench_type(bench, text);
}

static void a_length_is_typed_and_taken_away(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    type_length(bench, "145");
    assert_int_equal(bench_current(bench)->length_mm, 145);
    assert_int_equal(bench->sheet.mode, SHEET_JUDGE);
    assert_string_equal(bench->sheet.line, "");
    type_length(bench, "145");
    assert_int_equal(bench->port.stroke_count, 1);
    type_length(bench, "");
    assert_int_equal(bench_current(bench)->length_mm, 0);
    assert_string_equal(bench->sheet.message, "The length is removed; - brings it back.");
    type_length(bench, "2000");
    assert_string_equal(bench->sheet.message, "2000 mm: 90 bu, size 8 by bands of 10 cm.");
    type_length(bench, "94");
    assert_string_equal(bench->sheet.message,
                        "94 mm: 12 bu, too small to be shown by bands of 10 cm.");
    type_length(bench, "0");
    assert_int_equal(bench_current(bench)->length_mm, 0);
    assert_int_equal(bench->port.stroke_count, 5);
    bench_free(bench);
}

static void a_length_out_of_range_is_refused(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    type_length(bench, "2001");
    assert_true(bench->effects.alert);
    assert_non_null(strstr(bench->sheet.message, "from 1 to 2000"));
    assert_int_equal(bench->sheet.mode, SHEET_LENGTH);
    assert_string_equal(bench->sheet.line, "2001");
    bench_refused(bench, COMMAND_TYPE, '5', "4 characters");
    bench_do(bench, COMMAND_ERASE, 0);
    bench_refused(bench, COMMAND_TYPE, 'x', "digits");
    bench_do(bench, COMMAND_ACCEPT, 0);
    assert_int_equal(bench_current(bench)->length_mm, 200);
    bench_free(bench);
}

static void a_measured_fish_stays_closed(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_judge_fish(bench, 4);
    bench_do(bench, COMMAND_EARLIER, 0);
    type_length(bench, "145");
    assert_true(bench_current(bench)->closed);
    assert_int_equal(bench_current(bench)->number, 1);
    assert_int_equal(fake_port_last(&bench->port)->entry_count, 1);
    assert_false(fake_port_last(&bench->port)->correction);
    bench_free(bench);
}

static void ready_notes_join(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    char both[NOTE_SIZE];
    snprintf(both, sizeof both, "%s; %s", "parasites seen", "wound or illness");
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_NOTE);
    bench_do(bench, COMMAND_CHOOSE, 2);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_NOTE);
    bench_do(bench, COMMAND_CHOOSE, 1);
    assert_string_equal(bench_current(bench)->note, both);
    assert_int_equal(bench->sheet.mode, SHEET_JUDGE);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_NOTE);
    bench_refused(bench, COMMAND_CHOOSE, 1, "already");
    assert_int_equal(bench->port.stroke_count, 2);
    bench_do(bench, COMMAND_CHOOSE, 0);
    assert_int_equal(bench->sheet.mode, SHEET_NOTE_TEXT);
    assert_string_equal(bench->sheet.line, both);
    bench_free(bench);
}

static void a_note_is_typed_in_any_script(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_NOTE_TEXT);
    bench_type(bench, " 緋盤よし  é ");
    assert_string_equal(bench_current(bench)->note, "緋盤よし  é");
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_NOTE_TEXT);
    bench_type(bench, "");
    assert_int_equal(bench->port.stroke_count, 1);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_NOTE_TEXT);
    while (bench->sheet.line[0] != '\0')
        bench_do(bench, COMMAND_ERASE, 0);
    bench_do(bench, COMMAND_ACCEPT, 0);
    assert_string_equal(bench_current(bench)->note, "");
    assert_int_equal(bench->port.stroke_count, 2);
    bench_free(bench);
}

static void a_line_has_room_for_200_characters(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_NOTE_TEXT);
    for (int i = 0; i < 200; i++)
        bench_do(bench, COMMAND_TYPE, 0x2000B); /* four bytes of UTF-8 */
    bench_refused(bench, COMMAND_TYPE, 'x', "200 characters");
    bench_do(bench, COMMAND_ACCEPT, 0);
    assert_int_equal(utf8_count(bench_current(bench)->note), 200);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_NOTE);
    bench_refused(bench, COMMAND_CHOOSE, 1, "is full");
    bench_free(bench);
}

static void erasing_takes_whole_characters(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    const int typed[] = {'a', 0x7DCB, 'e', 0x0301}; /* a, 緋, e with a combining accent */
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_NOTE_TEXT);
    for (size_t i = 0; i < sizeof typed / sizeof *typed; i++)
        bench_do(bench, COMMAND_TYPE, typed[i]);
    bench_do(bench, COMMAND_ERASE, 0);
    assert_string_equal(bench->sheet.line, "a緋");
    bench_do(bench, COMMAND_ERASE, 0);
    assert_string_equal(bench->sheet.line, "a");
    bench_do(bench, COMMAND_ERASE, 0);
    bench_do(bench, COMMAND_ERASE, 0);
    assert_string_equal(bench->sheet.line, "");
    bench_free(bench);
}

static void what_is_no_text_is_not_typed(void **state)
{
    (void)state;
    static const int codes[] = {-1, 0, 7, '\n', 0x7F, 0x9B, 0xD800, 0xDFFF, 0x110000};
    struct bench *bench = bench_new(0);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_NOTE_TEXT);
    for (size_t i = 0; i < sizeof codes / sizeof *codes; i++)
        bench_refused(bench, COMMAND_TYPE, codes[i], "");
    assert_string_equal(bench->sheet.line, "");
    bench_do(bench, COMMAND_CANCEL, 0);
    bench_refused(bench, COMMAND_TYPE, 'a', "");
    bench_refused(bench, COMMAND_ACCEPT, 0, "");
    bench_free(bench);
}

static void choose_verdict(struct bench *bench, int digit)
{
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_VERDICT);
    bench_do(bench, COMMAND_CHOOSE, digit);
}

static void a_verdict_by_hand_closes_the_fish(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    choose_verdict(bench, 1);
    assert_int_equal(bench->sheet.mode, SHEET_REASON);
    assert_int_equal(bench->sheet.chosen, VERDICT_KEEP);
    bench_do(bench, COMMAND_CHOOSE, 3);
    const struct stroke *stroke = fake_port_last(&bench->port);
    assert_int_equal(stroke->entry_count, 2);
    assert_int_equal(stroke->entries[0].number, VERDICT_KEEP);
    assert_string_equal(stroke->entries[0].text, "parent line wanted");
    assert_int_equal(stroke->entries[1].kind, ENTRY_CLOSE);
    assert_int_equal(stroke->entries[1].number, VERDICT_KEEP);
    assert_int_equal(bench_current(bench)->number, 2);
    assert_int_equal(bench->sheet.last_decision.reason, REASON_BY_HAND);
    assert_int_equal(bench->sheet.mode, SHEET_JUDGE);
    /* A correction of such a fish keeps the verdict by hand. */
    bench_do(bench, COMMAND_EARLIER, 0);
    bench_do(bench, COMMAND_SCORE, 1);
    assert_true(bench_current(bench)->closed);
    assert_int_equal(bench->sheet.last_decision.verdict, VERDICT_KEEP);
    bench_free(bench);
}

static void a_reason_is_required(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    choose_verdict(bench, 3);
    bench_refused(bench, COMMAND_CHOOSE, 9, "Nothing has the number 9");
    bench_do(bench, COMMAND_CHOOSE, 0);
    assert_int_equal(bench->sheet.mode, SHEET_REASON_TEXT);
    bench_refused(bench, COMMAND_ACCEPT, 0, "Enter the reason");
    bench_do(bench, COMMAND_TYPE, ' ');
    bench_refused(bench, COMMAND_ACCEPT, 0, "Enter the reason");
    bench_type(bench, "bitten");
    assert_string_equal(bench->sheet.fish[0].hand_reason, "bitten");
    assert_int_equal(bench_verdict(bench, 0), VERDICT_REJECT);
    bench_free(bench);
}

static void as_judged_removes_the_verdict_by_hand(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_VERDICT);
    bench_refused(bench, COMMAND_CHOOSE, 0, "no verdict by hand");
    bench_refused(bench, COMMAND_CHOOSE, 4, "Nothing has the number 4");
    bench_do(bench, COMMAND_CHOOSE, 3);
    bench_do(bench, COMMAND_CHOOSE, 1);
    bench_judge_fish(bench, 4);
    choose_verdict(bench, 3);
    bench_do(bench, COMMAND_CHOOSE, 1);

    /* Fish 2 was judged: it is what its scores make it. */
    bench_do(bench, COMMAND_EARLIER, 0);
    bench_do(bench, COMMAND_EARLIER, 0);
    choose_verdict(bench, 2);
    bench_do(bench, COMMAND_CHOOSE, 1);
    assert_int_equal(bench_verdict(bench, 1), VERDICT_HOLD);
    choose_verdict(bench, 0);
    assert_true(bench_current(bench)->closed);
    assert_int_equal(bench->sheet.last_decision.verdict, VERDICT_KEEP);
    assert_int_equal(bench->sheet.last_decision.reason, REASON_SCORE);
    assert_true(fake_port_last(&bench->port)->correction);

    /* Fish 1 was not: it is open again. */
    bench_do(bench, COMMAND_EARLIER, 0);
    choose_verdict(bench, 0);
    assert_false(bench_current(bench)->closed);
    assert_int_equal(bench_current(bench)->number, 1);
    assert_int_equal(bench->sheet.aspect, WHITE);
    bench_free(bench);
}

static void the_next_bowl_holds_what_is_typed(void **state)
{
    (void)state;
    struct bench *bench = bench_new(25);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_NEXT_BOWL);
    bench_type(bench, "30");
    assert_true(bench->effects.next_bowl);
    assert_int_equal(bench->effects.expected, 30);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_NEXT_BOWL);
    bench_type(bench, "");
    assert_true(bench->effects.next_bowl);
    assert_int_equal(bench->effects.expected, 25);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_NEXT_BOWL);
    bench_type(bench, "0");
    assert_int_equal(bench->effects.expected, 0);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_NEXT_BOWL);
    bench_type(bench, "5001");
    assert_true(bench->effects.alert);
    assert_false(bench->effects.next_bowl);
    assert_non_null(strstr(bench->sheet.message, "up to 5000"));
    assert_int_equal(bench->port.stroke_count, 0);
    bench_free(bench);
}

static void modes_that_cannot_be_entered(void **state)
{
    (void)state;
    struct bench *bench = bench_new(1);
    bench_refused(bench, COMMAND_ENTER_MODE, SHEET_REASON, "");
    bench_refused(bench, COMMAND_ENTER_MODE, SHEET_REASON_TEXT, "");
    bench_refused(bench, COMMAND_ENTER_MODE, SHEET_MODE_COUNT, "");
    bench_refused(bench, COMMAND_ENTER_MODE, -1, "");
    bench_refused(bench, COMMAND_CHOOSE, 1, "Nothing has the number 1");
    bench_do(bench, COMMAND_FAULT, WOUND);
    bench_judge_fish(bench, 4);
    bench_reopen(bench, true);
    bench_refused(bench, COMMAND_ENTER_MODE, SHEET_NEXT_BOWL, "no next bowl");
    bench_free(bench);
}

static void a_refused_choice_of_the_menu_leads_back(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_MENU);
    bench_refused(bench, COMMAND_EARLIER, 0, "first fish");
    assert_int_equal(bench->sheet.mode, SHEET_JUDGE);
    /* Where something is typed, what was refused stays to be mended. */
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_VERDICT);
    bench_refused(bench, COMMAND_CHOOSE, 9, "Nothing has the number 9");
    assert_int_equal(bench->sheet.mode, SHEET_VERDICT);
    bench_free(bench);
}

static void commands_lead_back_to_judging(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_PICK_FAULT);
    assert_int_equal(bench->sheet.mode, SHEET_PICK_FAULT);
    bench_refused(bench, COMMAND_FAULT, 11, "3 faults");
    assert_int_equal(bench->sheet.mode, SHEET_PICK_FAULT);
    bench_do(bench, COMMAND_FAULT, WOUND);
    assert_int_equal(bench->sheet.mode, SHEET_JUDGE);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_LENGTH);
    bench_do(bench, COMMAND_TYPE, '9');
    bench_do(bench, COMMAND_CANCEL, 0);
    assert_int_equal(bench->sheet.mode, SHEET_JUDGE);
    assert_string_equal(bench->sheet.line, "");
    assert_int_equal(bench_current(bench)->length_mm, 0);
    bench_free(bench);
}

#define TAG_A "392145000123456"
#define TAG_B "392145000123457"

static void a_scan_tags_the_current_fish(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_do(bench, COMMAND_ASPECT, HEAD);
    bench_scan(bench, TAG_A);
    assert_false(bench->effects.alert);
    assert_string_equal(bench_current(bench)->tag, TAG_A);
    assert_int_equal(fake_port_last(&bench->port)->entry_count, 1);
    assert_int_equal(fake_port_last(&bench->port)->entries[0].kind, ENTRY_TAG);
    assert_int_equal(bench->sheet.aspect, HEAD);
    for (int i = 0; i < BENCH_ASPECTS; i++)
        assert_int_equal(bench_current(bench)->judgement.scores[i], SCORE_NONE);
    bench_free(bench);
}

static void the_same_scan_again_records_nothing(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_scan(bench, TAG_A);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_TAG);
    bench_scan(bench, TAG_A);
    assert_false(bench->effects.alert);
    assert_int_equal(bench->port.stroke_count, 1);
    assert_int_equal(bench->sheet.mode, SHEET_JUDGE);
    assert_non_null(strstr(bench->sheet.message, "already"));
    bench_free(bench);
}

static void a_number_no_transponder_has_is_recorded_and_said(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_scan(bench, "123456789012345");
    assert_false(bench->effects.alert);
    assert_string_equal(bench_current(bench)->tag, "123456789012345");
    assert_non_null(strstr(bench->sheet.message, "no animal transponder"));
    bench_judge_fish(bench, 4);
    bench_scan(bench, TAG_A);
    assert_string_equal(bench->sheet.message, "");
    bench_free(bench);
}

static void a_known_tag_makes_its_fish_the_current_one(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_scan(bench, TAG_A);
    bench_judge_fish(bench, 4);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_NOTE_TEXT);
    bench_scan(bench, TAG_A);
    assert_false(bench->effects.alert);
    assert_int_equal(bench_current(bench)->number, 1);
    assert_int_equal(bench->port.place.number, 1);
    assert_int_equal(bench->sheet.mode, SHEET_JUDGE);
    assert_non_null(strstr(bench->sheet.message, "fish 1"));
    assert_int_equal(bench->port.stroke_count, 3);
    bench_free(bench);
}

static void find(struct bench *bench, const char *text)
{
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_FIND);
    for (; *text != '\0'; text++)
        bench_do(bench, COMMAND_TYPE, *text);
}

/* Enter ends a number in a bowl of any size: digits after its first one score nothing. */
static void a_fish_is_found_by_its_number(void **state)
{
    (void)state;
    struct bench *bench = bench_new(60);
    for (int i = 0; i < 14; i++)
        bench_do(bench, COMMAND_TYPICAL, 0);
    find(bench, "7");
    assert_int_equal(bench->sheet.mode, SHEET_FIND);
    bench_do(bench, COMMAND_ACCEPT, 0);
    assert_int_equal(bench_current(bench)->number, 7);
    assert_int_equal(bench->sheet.mode, SHEET_JUDGE);
    find(bench, "12");
    bench_do(bench, COMMAND_ACCEPT, 0);
    assert_int_equal(bench_current(bench)->number, 12);
    find(bench, "1");
    assert_int_equal(bench_current(bench)->number, 12);
    bench_do(bench, COMMAND_ACCEPT, 0);
    assert_int_equal(bench_current(bench)->number, 1);
    assert_int_equal(bench->port.place.number, 1);
    find(bench, "16"); /* not there yet */
    bench_refused(bench, COMMAND_ACCEPT, 0, "No fish here has the number or tag 16");
    assert_int_equal(bench->sheet.mode, SHEET_FIND);
    bench_do(bench, COMMAND_CANCEL, 0);
    assert_int_equal(bench_current(bench)->number, 1);
    bench_free(bench);
}

/* In a bowl of three no number but 1 begins with a 1: what is typed on is typed, not scored. */
static void a_number_that_goes_on_scores_nothing(void **state)
{
    (void)state;
    struct bench *bench = bench_new(3);
    bench_do(bench, COMMAND_TYPICAL, 0);
    size_t strokes = bench->port.stroke_count;
    find(bench, "1-15");
    assert_int_equal(bench->port.stroke_count, strokes);
    assert_string_equal(bench->sheet.line, "1-15");
    bench_free(bench);
}

static void a_fish_of_another_bowl_is_found(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench->port.other = (struct tag_bearer){.bowl = 2, .number = 17};
    find(bench, "2-17");
    bench_do(bench, COMMAND_ACCEPT, 0);
    assert_true(bench->effects.go);
    assert_int_equal(bench->effects.to.bowl_id, FAKE_OTHER_BOWL_ID);
    assert_int_equal(bench->effects.to.number, 17);
    find(bench, "2-18");
    bench_refused(bench, COMMAND_ACCEPT, 0, "There is no fish 18 in bowl 2.");
    bench_free(bench);
}

static void a_fish_is_found_by_a_part_of_its_tag(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_scan(bench, TAG_A);
    bench_judge_fish(bench, 4);
    bench_judge_fish(bench, 4);
    char part[6];
    text_copy(part, sizeof part, &TAG_A[10]);
    find(bench, "*");
    bench_type(bench, part);
    assert_int_equal(bench_current(bench)->number, 1);
    bench_free(bench);
}

/* Read while a fish is looked for, a tag finds it and is given to nobody. */
static void a_fish_is_found_by_reading_its_tag(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_scan(bench, TAG_A);
    bench_judge_fish(bench, 4);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_FIND);
    bench_do(bench, COMMAND_MARK, 0);
    bench->effects =
        sheet_do(&bench->sheet, &(struct sheet_command){.kind = COMMAND_SCAN, .text = TAG_A});
    assert_false(bench->effects.alert);
    assert_int_equal(bench_current(bench)->number, 1);
    assert_int_equal(bench->sheet.mode, SHEET_JUDGE);
    text_copy(bench->port.other_tag, CODE_SIZE, TAG_B);
    bench->port.other = (struct tag_bearer){.fish = 9, .bowl = 2, .number = 17, .same_round = true};
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_FIND);
    bench_do(bench, COMMAND_MARK, 0);
    bench->effects =
        sheet_do(&bench->sheet, &(struct sheet_command){.kind = COMMAND_SCAN, .text = TAG_B});
    assert_true(bench->effects.go);
    assert_int_equal(bench->effects.to.number, 17);
    bench_free(bench);
}

/* Who has the tag, as the port says it. */
static void give_other(struct bench *bench, struct tag_bearer bearer)
{
    text_copy(bench->port.other_tag, CODE_SIZE, TAG_A);
    bench->port.other = bearer;
    bench->port.other.fish = 1;
    bench->port.other.stage = STAGE_SECOND;
    text_copy(bench->port.other.lot, CODE_SIZE, "K25-1");
}

/* Of the same spawning at another stage: the fish has grown. */
static void a_tag_from_an_earlier_round_is_taken_and_said(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    give_other(bench, (struct tag_bearer){.bowl = 2, .number = 3, .same_spawning = true});
    bench_scan(bench, TAG_A);
    assert_false(bench->effects.alert);
    assert_string_equal(bench_current(bench)->tag, TAG_A);
    assert_string_equal(bench->sheet.message, "Tag " TAG_A " was fish 3 of bowl 2, K25-1 second.");
    bench_free(bench);
}

/* The digits of a reader close a fish and begin the next; all of it is taken back with the tag, or
 * nothing is. */
static void what_a_readers_digits_did_is_taken_back_with_the_tag(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    give_other(bench, (struct tag_bearer){.bowl = 2, .number = 3, .same_spawning = true});
    bench_do(bench, COMMAND_SCORE, 5);
    bench_do(bench, COMMAND_MARK, 0);
    for (int i = 0; i < 6; i++)
        bench_do(bench, COMMAND_SCORE, 2);
    assert_int_equal(bench_current(bench)->number, 2);
    struct sheet_command scan = {.kind = COMMAND_SCAN, .text = TAG_A};
    size_t strokes = bench->port.stroke_count;
    for (int call = 2; call <= 4; call++) { /* two fish are read again, then all is recorded */
        bench->port.fail_at = bench->port.calls + call;
        assert_true(sheet_do(&bench->sheet, &scan).alert);
        assert_int_equal(bench->port.stroke_count, strokes);
        assert_int_equal(bench_current(bench)->number, 2);
    }
    bench->port.fail_at = 0;
    assert_false(sheet_do(&bench->sheet, &scan).alert);
    assert_string_equal(bench->sheet.message, "Tag " TAG_A " was fish 3 of bowl 2, K25-1 second.");
    const struct fish *fish = bench_current(bench);
    assert_int_equal(fish->number, 1);
    assert_int_equal(bench->sheet.aspect, HEAD);
    assert_int_equal(fish->judgement.scores[WHITE], 5);
    assert_int_equal(fish->judgement.scores[HEAD], SCORE_NONE);
    assert_string_equal(fish->tag, TAG_A);
    assert_int_equal(bench->sheet.fish[1].judgement.scores[WHITE], SCORE_NONE);
    assert_int_equal(bench->sheet.round.tally.judged, 0);
    assert_int_equal(bench->port.stroke_count, strokes + 6 + 1);
    bench_free(bench);
}

static void a_tag_of_another_spawning_is_asked_about(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    give_other(bench, (struct tag_bearer){.bowl = 2, .number = 17});
    bench_scan(bench, TAG_A);
    assert_int_equal(bench->sheet.mode, SHEET_ASK_TAG);
    assert_string_equal(bench->sheet.question,
                        "Tag " TAG_A " is fish 17 of bowl 2, K25-1 second. +: this fish; "
                        "other key: no");
    bench_do(bench, COMMAND_CANCEL, 0);
    assert_string_equal(bench->sheet.message, "The tag was not recorded.");
    assert_int_equal(bench->port.stroke_count, 0);
    assert_int_equal(bench->sheet.mode, SHEET_JUDGE);
    bench_scan(bench, TAG_A);
    bench_do(bench, COMMAND_YES, 0);
    assert_string_equal(bench_current(bench)->tag, TAG_A);
    assert_int_equal(bench->sheet.mode, SHEET_JUDGE);
    bench_free(bench);
}

/* Of the same round: it cannot be two fish of it, so the other one loses it. */
static void a_tag_of_another_bowl_moves_when_asked(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_scan(bench, TAG_A);
    bench_judge_fish(bench, 4);
    /* The first fish as if it were in a bowl that is not on this sheet. */
    give_other(bench, (struct tag_bearer){
                          .bowl = 2, .number = 17, .same_round = true, .same_spawning = true});
    bench->sheet.fish[0].tag[0] = '\0';
    bench_scan(bench, TAG_A);
    assert_non_null(strstr(bench->sheet.question, "is fish 17 of bowl 2. +: this fish"));
    bench_do(bench, COMMAND_YES, 0);
    assert_string_equal(bench_current(bench)->tag, TAG_A);
    assert_string_equal(fake_port_fish(&bench->port, 1, 0).tag, "");
    bench_free(bench);
}

static void a_second_tag_for_a_fish_is_asked_about(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_scan(bench, TAG_A);
    bench_scan(bench, TAG_B);
    assert_string_equal(bench->sheet.question,
                        "This fish has tag " TAG_A ". +: " TAG_B " instead; other key: no");
    bench_do(bench, COMMAND_CANCEL, 0);
    assert_string_equal(bench_current(bench)->tag, TAG_A);
    bench_scan(bench, TAG_B);
    bench_do(bench, COMMAND_YES, 0);
    assert_string_equal(bench_current(bench)->tag, TAG_B);
    bench_free(bench);
}

static void a_scan_leaves_what_is_being_typed_alone(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_NOTE_TEXT);
    bench_do(bench, COMMAND_TYPE, 'x');
    bench_scan(bench, TAG_A);
    bench_scan(bench, TAG_A);
    assert_string_equal(bench_current(bench)->tag, TAG_A);
    assert_int_equal(bench->sheet.mode, SHEET_NOTE_TEXT);
    assert_string_equal(bench->sheet.line, "x");
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_TAG);
    bench_do(bench, COMMAND_TYPE, '7');
    bench_scan(bench, TAG_B);
    bench_do(bench, COMMAND_YES, 0);
    assert_string_equal(bench_current(bench)->tag, TAG_B);
    assert_int_equal(bench->sheet.mode, SHEET_JUDGE);
    bench_free(bench);
}

static void a_tag_can_be_typed_and_taken_away(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_TAG);
    bench_type(bench, " cell 4 ");
    assert_string_equal(bench_current(bench)->tag, "cell 4");
    assert_int_equal(bench->sheet.mode, SHEET_JUDGE);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_TAG);
    bench_type(bench, "a;b");
    assert_true(bench->effects.alert);
    assert_int_equal(bench->sheet.mode, SHEET_TAG);
    assert_string_equal(bench->sheet.line, "a;b");
    bench_do(bench, COMMAND_CANCEL, 0);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_TAG);
    bench_type(bench, "");
    assert_string_equal(bench->sheet.message, "The tag is removed; - brings it back.");
    assert_string_equal(bench_current(bench)->tag, "");
    assert_int_equal(bench->port.stroke_count, 2);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_TAG);
    bench_type(bench, "");
    assert_int_equal(bench->port.stroke_count, 2);
    assert_int_equal(bench->sheet.mode, SHEET_JUDGE);
    bench_free(bench);
}

static const char *ready_note(int digit)
{
    return sheet_ready(&(struct sheet){.mode = SHEET_NOTE}, digit);
}

static const char *ready_reason(enum verdict verdict, int digit)
{
    return sheet_ready(&(struct sheet){.mode = SHEET_REASON, .chosen = verdict}, digit);
}

static void digits_without_a_text_give_none(void **state)
{
    (void)state;
    assert_null(ready_note(0));
    assert_null(ready_note(10));
    assert_null(ready_note(-1));
    assert_null(ready_reason(VERDICT_KEEP, 0));
    assert_null(sheet_ready(&(struct sheet){.mode = SHEET_JUDGE}, 1));
    assert_null(sheet_ready(&(struct sheet){.mode = SHEET_VERDICT}, 1));
}

/* One that is part of another could not be told from it in a joined note. */
static void ready_notes_can_be_told_apart(void **state)
{
    (void)state;
    assert_non_null(ready_note(1));
    for (int a = 1; ready_note(a) != NULL; a++)
        for (int b = 1; ready_note(b) != NULL; b++)
            if (a != b)
                assert_null(strstr(ready_note(a), ready_note(b)));
}

static void every_verdict_has_its_reasons(void **state)
{
    (void)state;
    for (int verdict = VERDICT_KEEP; verdict < VERDICT_COUNT; verdict++) {
        assert_non_null(ready_reason((enum verdict)verdict, 1));
        bool ended = false;
        for (int digit = 1; digit <= 9; digit++) {
            const char *reason = ready_reason((enum verdict)verdict, digit);
            assert_false(ended && reason != NULL);
            ended = reason == NULL;
            assert_true(ended || strlen(reason) < NOTE_SIZE);
        }
    }
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
        cmocka_unit_test(a_full_bowl_keeps_its_last_fish),
        cmocka_unit_test(a_score_under_its_floor_says_why_it_does_not_close),
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
        cmocka_unit_test(a_length_is_typed_and_taken_away),
        cmocka_unit_test(a_length_out_of_range_is_refused),
        cmocka_unit_test(a_measured_fish_stays_closed),
        cmocka_unit_test(ready_notes_join),
        cmocka_unit_test(a_note_is_typed_in_any_script),
        cmocka_unit_test(a_line_has_room_for_200_characters),
        cmocka_unit_test(erasing_takes_whole_characters),
        cmocka_unit_test(what_is_no_text_is_not_typed),
        cmocka_unit_test(a_verdict_by_hand_closes_the_fish),
        cmocka_unit_test(a_reason_is_required),
        cmocka_unit_test(as_judged_removes_the_verdict_by_hand),
        cmocka_unit_test(the_next_bowl_holds_what_is_typed),
        cmocka_unit_test(modes_that_cannot_be_entered),
        cmocka_unit_test(a_refused_choice_of_the_menu_leads_back),
        cmocka_unit_test(commands_lead_back_to_judging),
        cmocka_unit_test(a_scan_tags_the_current_fish),
        cmocka_unit_test(the_same_scan_again_records_nothing),
        cmocka_unit_test(a_number_no_transponder_has_is_recorded_and_said),
        cmocka_unit_test(a_known_tag_makes_its_fish_the_current_one),
        cmocka_unit_test(a_fish_is_found_by_its_number),
        cmocka_unit_test(a_number_that_goes_on_scores_nothing),
        cmocka_unit_test(a_fish_of_another_bowl_is_found),
        cmocka_unit_test(a_fish_is_found_by_a_part_of_its_tag),
        cmocka_unit_test(a_fish_is_found_by_reading_its_tag),
        cmocka_unit_test(a_tag_from_an_earlier_round_is_taken_and_said),
        cmocka_unit_test(what_a_readers_digits_did_is_taken_back_with_the_tag),
        cmocka_unit_test(a_tag_of_another_spawning_is_asked_about),
        cmocka_unit_test(a_tag_of_another_bowl_moves_when_asked),
        cmocka_unit_test(a_second_tag_for_a_fish_is_asked_about),
        cmocka_unit_test(a_scan_leaves_what_is_being_typed_alone),
        cmocka_unit_test(a_tag_can_be_typed_and_taken_away),
        cmocka_unit_test(digits_without_a_text_give_none),
        cmocka_unit_test(ready_notes_can_be_told_apart),
        cmocka_unit_test(every_verdict_has_its_reasons),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
