#include "senbetsu/sheet/sheet.h"
#include "support/test.h"

static void digits_without_a_text_give_none(void **state)
{
    (void)state;
    assert_null(sheet_ready_note(0));
    assert_null(sheet_ready_note(10));
    assert_null(sheet_ready_note(-1));
    assert_null(sheet_ready_reason(VERDICT_KEEP, 0));
    assert_null(sheet_ready_reason(VERDICT_OPEN, 1));
}

/* One that is part of another could not be told from it in a joined note. */
static void ready_notes_can_be_told_apart(void **state)
{
    (void)state;
    assert_non_null(sheet_ready_note(1));
    for (int a = 1; sheet_ready_note(a) != NULL; a++)
        for (int b = 1; sheet_ready_note(b) != NULL; b++)
            if (a != b)
                assert_null(strstr(sheet_ready_note(a), sheet_ready_note(b)));
}

static void every_verdict_has_its_reasons(void **state)
{
    (void)state;
    for (int verdict = VERDICT_KEEP; verdict < VERDICT_COUNT; verdict++) {
        assert_non_null(sheet_ready_reason((enum verdict)verdict, 1));
        bool ended = false;
        for (int digit = 1; digit <= 9; digit++) {
            const char *reason = sheet_ready_reason((enum verdict)verdict, digit);
            assert_false(ended && reason != NULL);
            ended = reason == NULL;
            assert_true(ended || strlen(reason) < NOTE_SIZE);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(digits_without_a_text_give_none),
        cmocka_unit_test(ready_notes_can_be_told_apart),
        cmocka_unit_test(every_verdict_has_its_reasons),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
