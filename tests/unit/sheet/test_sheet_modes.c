#include "senbetsu/base/utf8.h"
#include "support/sheet_bench.h"
#include "support/test.h"

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
    assert_int_equal(bench_front(bench)->length_mm, 145);
    assert_int_equal(bench->sheet.mode, SHEET_JUDGE);
    assert_string_equal(bench->sheet.line, "");
    type_length(bench, "145");
    assert_int_equal(bench->port.stroke_count, 1);
    type_length(bench, "");
    assert_int_equal(bench_front(bench)->length_mm, 0);
    assert_string_equal(bench->sheet.message, "The length is taken away; - brings it back.");
    type_length(bench, "2000");
    assert_string_equal(bench->sheet.message, "2000 mm: 90 bu, size 8 by bands of 10 cm.");
    type_length(bench, "94");
    assert_string_equal(bench->sheet.message,
                        "94 mm: 12 bu, too small to be shown by bands of 10 cm.");
    type_length(bench, "0");
    assert_int_equal(bench_front(bench)->length_mm, 0);
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
    assert_int_equal(bench_front(bench)->length_mm, 200);
    bench_free(bench);
}

static void a_measured_fish_stays_closed(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_judge_fish(bench, 4);
    bench_do(bench, COMMAND_EARLIER, 0);
    type_length(bench, "145");
    assert_true(bench_front(bench)->closed);
    assert_int_equal(bench_front(bench)->number, 1);
    assert_int_equal(fake_port_last(&bench->port)->entry_count, 1);
    assert_false(fake_port_last(&bench->port)->correction);
    bench_free(bench);
}

static void ready_notes_join(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    char both[NOTE_SIZE];
    snprintf(both, sizeof both, "%s; %s", sheet_ready_note(2), sheet_ready_note(1));
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_NOTE);
    bench_do(bench, COMMAND_CHOOSE, 2);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_NOTE);
    bench_do(bench, COMMAND_CHOOSE, 1);
    assert_string_equal(bench_front(bench)->note, both);
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
    assert_string_equal(bench_front(bench)->note, "緋盤よし  é");
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_NOTE_TEXT);
    bench_type(bench, "");
    assert_int_equal(bench->port.stroke_count, 1);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_NOTE_TEXT);
    while (bench->sheet.line[0] != '\0')
        bench_do(bench, COMMAND_ERASE, 0);
    bench_do(bench, COMMAND_ACCEPT, 0);
    assert_string_equal(bench_front(bench)->note, "");
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
    assert_int_equal(utf8_count(bench_front(bench)->note), 200);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_NOTE);
    bench_refused(bench, COMMAND_CHOOSE, 1, "too long");
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
    assert_string_equal(stroke->entries[0].text, sheet_ready_reason(VERDICT_KEEP, 3));
    assert_int_equal(stroke->entries[1].kind, ENTRY_CLOSE);
    assert_int_equal(stroke->entries[1].number, VERDICT_KEEP);
    assert_int_equal(bench_front(bench)->number, 2);
    assert_int_equal(bench->sheet.last_decision.reason, REASON_BY_HAND);
    assert_int_equal(bench->sheet.mode, SHEET_JUDGE);
    /* A correction of such a fish keeps the hand's verdict. */
    bench_do(bench, COMMAND_EARLIER, 0);
    bench_do(bench, COMMAND_SCORE, 1);
    assert_true(bench_front(bench)->closed);
    assert_int_equal(bench->sheet.last_decision.verdict, VERDICT_KEEP);
    bench_free(bench);
}

static void a_reason_is_required(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    choose_verdict(bench, 3);
    bench_refused(bench, COMMAND_CHOOSE, 9, "nothing on 9");
    bench_do(bench, COMMAND_CHOOSE, 0);
    assert_int_equal(bench->sheet.mode, SHEET_REASON_TEXT);
    bench_refused(bench, COMMAND_ACCEPT, 0, "needs its reason");
    bench_do(bench, COMMAND_TYPE, ' ');
    bench_refused(bench, COMMAND_ACCEPT, 0, "needs its reason");
    bench_type(bench, "bitten");
    assert_string_equal(bench->sheet.fish[0].hand_reason, "bitten");
    assert_int_equal(bench_verdict(bench, 0), VERDICT_REJECT);
    bench_free(bench);
}

static void as_judged_takes_the_hands_verdict_away(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_VERDICT);
    bench_refused(bench, COMMAND_CHOOSE, 0, "no verdict by hand");
    bench_refused(bench, COMMAND_CHOOSE, 4, "nothing on 4");
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
    assert_true(bench_front(bench)->closed);
    assert_int_equal(bench->sheet.last_decision.verdict, VERDICT_KEEP);
    assert_int_equal(bench->sheet.last_decision.reason, REASON_SCORE);
    assert_true(fake_port_last(&bench->port)->correction);

    /* Fish 1 was not: it is open again. */
    bench_do(bench, COMMAND_EARLIER, 0);
    choose_verdict(bench, 0);
    assert_false(bench_front(bench)->closed);
    assert_int_equal(bench_front(bench)->number, 1);
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
    bench_refused(bench, COMMAND_CHOOSE, 1, "nothing on 1");
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
    bench_refused(bench, COMMAND_CHOOSE, 9, "nothing on 9");
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
    assert_int_equal(bench_front(bench)->length_mm, 0);
    bench_free(bench);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
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
        cmocka_unit_test(as_judged_takes_the_hands_verdict_away),
        cmocka_unit_test(the_next_bowl_holds_what_is_typed),
        cmocka_unit_test(modes_that_cannot_be_entered),
        cmocka_unit_test(a_refused_choice_of_the_menu_leads_back),
        cmocka_unit_test(commands_lead_back_to_judging),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
