#include "scene.h"
#include "senbetsu/screens/sheet_keys.h"
#include "support/test.h"

static struct scene *scene;

static int set_up(void **state)
{
    (void)state;
    struct standard standard = scene_standard();
    scene = scene_new(&standard, 60);
    return 0;
}

static int tear_down(void **state)
{
    (void)state;
    scene_free(scene);
    return 0;
}

static struct key character(uint32_t code)
{
    return (struct key){KEY_CHARACTER, code};
}

static void assert_key_on_page(int page, struct key key, int action, int number)
{
    int got;
    struct sheet_command command;
    if (!sheet_key(&scene->sheet, &scene->letters, page, key, &got, &command))
        fail_msg("the key %u means nothing", key.code);
    assert_int_equal(got, action);
    if (action <= COMMAND_LEAVE) {
        assert_int_equal(command.kind, action);
        assert_int_equal(command.number, number);
    }
}

static void assert_key(struct key key, int action, int number)
{
    assert_key_on_page(0, key, action, number);
}

static void assert_nothing(struct key key)
{
    int action = -1;
    struct sheet_command command;
    assert_false(sheet_key(&scene->sheet, &scene->letters, 0, key, &action, &command));
    assert_int_equal(action, -1);
}

static void test_judging(void **state)
{
    (void)state;
    assert_key(character('0'), COMMAND_SCORE, 0);
    assert_key(character('9'), COMMAND_SCORE, 9);
    assert_key((struct key){KEY_RETURN, 0}, COMMAND_TYPICAL, 0);
    assert_key(character('-'), COMMAND_UNDO, 0);
    assert_key(character('u'), COMMAND_UNDO, 0);
    assert_key(character('*'), COMMAND_ENTER_MODE, SHEET_PICK_FAULT);
    assert_key(character('?'), ACTION_HELP, 0);
    assert_nothing((struct key){KEY_ESCAPE, 0});
    assert_nothing((struct key){KEY_NONE, 0});
}

static void test_letters_of_the_standard(void **state)
{
    (void)state;
    for (int i = 0; i < scene->standard.fault_count; i++)
        assert_key(character((uint32_t)scene->letters.faults[i]), COMMAND_FAULT, i);
    for (int i = 0; i < scene->standard.aspect_count; i++)
        assert_key(character((uint32_t)scene->letters.aspects[i]), COMMAND_ASPECT, i);
    assert_nothing(character('z'));
    assert_nothing(character(0x767d));
}

/* Where a fault has no letter, the empty place is no key. */
static void test_no_letter_is_no_key(void **state)
{
    (void)state;
    scene->letters.faults[0] = '\0';
    assert_nothing(character(0));
}

static void test_picking(void **state)
{
    (void)state;
    scene->sheet.mode = SHEET_PICK_FAULT;
    assert_key(character('1'), COMMAND_FAULT, 0);
    assert_key(character('0'), COMMAND_FAULT, 9);
    assert_nothing(character('.'));
    assert_key(character('-'), COMMAND_CANCEL, 0);
    assert_key(character('*'), ACTION_MORE, 0);
    assert_nothing(character('s'));
    scene->sheet.mode = SHEET_PICK_ASPECT;
    assert_key(character('.'), COMMAND_ASPECT, 10);
    assert_key(character(','), COMMAND_ASPECT, 10);
    assert_nothing(character('+'));
}

static void test_pages_reach_everything(void **state)
{
    (void)state;
    scene->sheet.standard = scene_largest_standard();
    scene->sheet.mode = SHEET_PICK_FAULT;
    for (int i = 0; i < STANDARD_FAULTS; i++) {
        struct key key = character((uint32_t)pick_name(i % PICK_KEYS)[0]);
        assert_key_on_page(i / PICK_KEYS, key, COMMAND_FAULT, i);
    }
}

static void test_menu(void **state)
{
    (void)state;
    scene->sheet.mode = SHEET_MENU;
    assert_key(character('1'), COMMAND_EARLIER, 0);
    assert_key(character('4'), COMMAND_ENTER_MODE, SHEET_LENGTH);
    assert_key(character('9'), ACTION_HELP, 0);
    assert_key(character('0'), COMMAND_LEAVE, 0);
    assert_nothing(character('q'));
}

static void test_choosing(void **state)
{
    static const enum sheet_mode modes[] = {SHEET_NOTE, SHEET_VERDICT, SHEET_REASON};
    (void)state;
    for (size_t i = 0; i < sizeof modes / sizeof modes[0]; i++) {
        scene->sheet.mode = modes[i];
        assert_key(character('3'), COMMAND_CHOOSE, 3);
        assert_key((struct key){KEY_ESCAPE, 0}, COMMAND_CANCEL, 0);
        assert_nothing(character('s'));
    }
}

static void test_typing(void **state)
{
    (void)state;
    scene->sheet.mode = SHEET_NOTE_TEXT;
    assert_key(character('q'), COMMAND_TYPE, 'q');
    assert_key(character('3'), COMMAND_TYPE, '3');
    assert_key(character(0x767d), COMMAND_TYPE, 0x767d);
    assert_key((struct key){KEY_RETURN, 0}, COMMAND_ACCEPT, 0);
    assert_key((struct key){KEY_ERASE, 0}, COMMAND_ERASE, 0);
    assert_nothing((struct key){KEY_ARROW_UP, 0});
}

static void test_minus_leads_back_on_the_keypad(void **state)
{
    (void)state;
    scene->sheet.mode = SHEET_LENGTH;
    assert_key(character('-'), COMMAND_CANCEL, 0);
    strcpy(scene->sheet.line, "13");
    assert_key(character('-'), COMMAND_ERASE, 0);
    scene->sheet.mode = SHEET_TAG;
    assert_key(character('-'), COMMAND_TYPE, '-');
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_judging, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_letters_of_the_standard, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_no_letter_is_no_key, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_picking, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_pages_reach_everything, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_menu, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_choosing, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_typing, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_minus_leads_back_on_the_keypad, set_up, tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
