#include "senbetsu/core/standard.h"
#include "senbetsu/screens/sheet_keys.h"
#include "support/test.h"

static void test_one_meaning_a_key(void **state)
{
    (void)state;
    for (int i = 0; i < binding_count; i++) {
        if (bindings[i].key.kind == KEY_NONE)
            assert_null(binding_find(bindings[i].context, bindings[i].key));
        else if (binding_find(bindings[i].context, bindings[i].key) != &bindings[i])
            fail_msg("row %d of the table has the key of an earlier row", i);
    }
}

static void test_contexts_do_not_mix(void **state)
{
    (void)state;
    struct key minus = {KEY_CHARACTER, '-'};
    assert_int_equal(binding_find(CONTEXT_SHEET, minus)->action, COMMAND_UNDO);
    assert_int_equal(binding_find(CONTEXT_SHEET_MENU, minus)->action, COMMAND_CANCEL);
    assert_null(binding_find(CONTEXT_SHEET, (struct key){KEY_ESCAPE, 0}));
    assert_null(binding_find(CONTEXT_SHEET, (struct key){KEY_FUNCTION, 2}));
}

/* A row either has its own help and name, or stands below a row of its context that it belongs to.
 */
static void test_every_key_is_explained(void **state)
{
    (void)state;
    for (int i = 0; i < binding_count; i++) {
        if (bindings[i].help != NULL) {
            assert_non_null(bindings[i].name);
            assert_true(bindings[i].help[0] != '\0');
        } else {
            assert_true(i > 0);
            assert_int_equal(bindings[i].context, bindings[i - 1].context);
        }
        assert_true(bindings[i].label == NULL || bindings[i].name != NULL);
    }
}

static void test_every_context_has_keys_and_a_title(void **state)
{
    (void)state;
    for (int context = 0; context < CONTEXT_COUNT; context++) {
        int keys = 0;
        for (int i = 0; i < binding_count; i++)
            keys += bindings[i].context == (enum context)context;
        assert_true(keys > 0);
        assert_non_null(context_title((enum context)context));
    }
}

/* Letters that a standard may give away are not the sheet's own, and the other way round: no small
 * letter is lost to both. */
static void test_letters_are_shared_out(void **state)
{
    (void)state;
    for (char letter = 'a'; letter <= 'z'; letter++) {
        struct key key = {KEY_CHARACTER, (uint32_t)letter};
        bool own = binding_find(CONTEXT_SHEET, key) != NULL;
        bool given = strchr(STANDARD_SMALL_LETTERS, letter) != NULL;
        if (own == given)
            fail_msg("'%c' is %s", letter, own ? "given away twice" : "nobody's");
    }
    for (uint32_t letter = 'A'; letter <= 'Z'; letter++)
        assert_null(binding_find(CONTEXT_SHEET, (struct key){KEY_CHARACTER, letter}));
}

/* The keypad alone must do: each of these characters is on it. */
static void assert_on_keypad(enum context context, int action, int number)
{
    for (const char *key = "0123456789+-*/."; *key != '\0'; key++) {
        const struct binding *row =
            binding_find(context, (struct key){KEY_CHARACTER, (uint32_t)*key});
        if (row != NULL && row->action == action && row->number == number)
            return;
    }
    fail_msg("the keypad has no key for action %d %d in context %d", action, number, context);
}

static void test_keypad_suffices(void **state)
{
    static const int modes[] = {SHEET_LENGTH, SHEET_TAG, SHEET_NOTE, SHEET_VERDICT,
                                SHEET_NEXT_BOWL};
    static const int moves[] = {COMMAND_EARLIER, COMMAND_LATER, COMMAND_FIRST_OPEN, COMMAND_CLEAR,
                                COMMAND_LEAVE,   ACTION_HELP,   COMMAND_CANCEL};
    (void)state;
    for (int digit = 0; digit <= 9; digit++) {
        assert_on_keypad(CONTEXT_SHEET, COMMAND_SCORE, digit);
        assert_on_keypad(CONTEXT_SHEET_CHOICE, COMMAND_CHOOSE, digit);
    }
    for (int place = 0; place < PICK_KEYS; place++)
        assert_on_keypad(CONTEXT_SHEET_PICK, ACTION_PICK, place);
    assert_on_keypad(CONTEXT_SHEET, COMMAND_ENTER_MODE, SHEET_PICK_FAULT);
    assert_on_keypad(CONTEXT_SHEET, COMMAND_ENTER_MODE, SHEET_PICK_ASPECT);
    assert_on_keypad(CONTEXT_SHEET, COMMAND_ENTER_MODE, SHEET_MENU);
    assert_on_keypad(CONTEXT_SHEET, COMMAND_UNDO, 0);
    assert_on_keypad(CONTEXT_SHEET, COMMAND_SKIP, 0);
    for (size_t i = 0; i < sizeof modes / sizeof modes[0]; i++)
        assert_on_keypad(CONTEXT_SHEET_MENU, COMMAND_ENTER_MODE, modes[i]);
    for (size_t i = 0; i < sizeof moves / sizeof moves[0]; i++)
        assert_on_keypad(CONTEXT_SHEET_MENU, moves[i], 0);
    assert_on_keypad(CONTEXT_SHEET_CHOICE, COMMAND_CANCEL, 0);
    assert_on_keypad(CONTEXT_SHEET_LINE, ACTION_MINUS, 0);
}

/* Every context has a way on from a key that does nothing, and the sentence is whole. */
static void test_absent_keys_are_told(void **state)
{
    (void)state;
    char sentence[NO_KEY_SIZE];
    for (enum context context = 0; context < CONTEXT_COUNT; context++) {
        binding_absent(context, (struct key){KEY_FUNCTION, 12}, sentence);
        assert_null(strstr(sentence, "null"));
        assert_int_equal(sentence[strlen(sentence) - 1], '.');
    }
    binding_absent(CONTEXT_SHEET_LINE, (struct key){KEY_ARROW_UP, 0}, sentence);
    assert_string_equal(sentence, "This key does nothing here; Esc goes back.");
    binding_absent(CONTEXT_SHEET_CHOICE, (struct key){KEY_CHARACTER, 0x9bc9}, sentence);
    assert_string_equal(sentence, "鯉 does nothing here; - goes back.");
}

/* Whatever the sheet can do at the fish, some key does. */
static void test_every_command_has_a_key(void **state)
{
    (void)state;
    for (int kind = 0; kind <= COMMAND_LEAVE; kind++) {
        /* Typed text, a tag reader's burst, and the clock are no keys of the table. */
        if (kind == COMMAND_TYPE || kind == COMMAND_TAG || kind == COMMAND_REFRESH)
            continue;
        int keys = 0;
        for (int i = 0; i < binding_count && bindings[i].context <= CONTEXT_SHEET_LINE; i++)
            keys += bindings[i].action == kind;
        if (keys == 0)
            fail_msg("no key does command %d", kind);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_one_meaning_a_key),
        cmocka_unit_test(test_contexts_do_not_mix),
        cmocka_unit_test(test_every_key_is_explained),
        cmocka_unit_test(test_every_context_has_keys_and_a_title),
        cmocka_unit_test(test_letters_are_shared_out),
        cmocka_unit_test(test_keypad_suffices),
        cmocka_unit_test(test_every_command_has_a_key),
        cmocka_unit_test(test_absent_keys_are_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
