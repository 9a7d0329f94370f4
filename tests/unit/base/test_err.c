#include "senbetsu/base/err.h"
#include "senbetsu/base/utf8.h"
#include "support/test.h"

static void setting_fills_code_and_sentence_and_is_false(void **state)
{
    (void)state;
    struct err err;
    assert_false(err_set(&err, ERR_INPUT, "weight is %d; %s is expected.", 0, "1 to 100"));
    assert_int_equal(err.code, ERR_INPUT);
    assert_string_equal(err.text, "weight is 0; 1 to 100 is expected.");
}

static void nobody_has_to_listen(void **state)
{
    (void)state;
    assert_false(err_set(NULL, ERR_INPUT, "unheard"));
    assert_false(err_at(NULL, "nowhere"));
}

static void a_place_goes_in_front_and_keeps_the_code(void **state)
{
    (void)state;
    struct err err;
    err_set(&err, ERR_ABSENT, "no such bowl.");
    assert_false(err_at(&err, "%s, line %d", "fish.csv", 7));
    assert_int_equal(err.code, ERR_ABSENT);
    assert_string_equal(err.text, "fish.csv, line 7: no such bowl.");
}

static void a_sentence_can_be_made_from_the_error_itself(void **state)
{
    (void)state;
    struct err err;
    err_set(&err, ERR_BUSY, "the ledger is busy");
    err_set(&err, err.code, "%s; press the key again.", err.text);
    assert_string_equal(err.text, "the ledger is busy; press the key again.");
}

/* A name out of a file, as it stands there: nothing of it moves a cursor or hides. */
static void what_cannot_be_shown_is_a_mark(void **state)
{
    (void)state;
    struct err err;
    err_set(&err, ERR_INPUT, "there is no lot \"%s\".",
            "a\x1B[2J\xE2\x80\xAE"
            "b\n\xFF"
            "c鯉");
    assert_string_equal(err.text, "there is no lot \"a?[2J?b ?c鯉\".");
    err_at(&err, "%s, line 7", "x\xE2\x80\x8B.csv");
    assert_string_equal(err.text, "x?.csv, line 7: there is no lot \"a?[2J?b ?c鯉\".");
}

static bool is_utf8(const char *text)
{
    enum { REPLACEMENT = 0xFFFD };
    while (*text != '\0')
        if (utf8_next(&text) == REPLACEMENT)
            return false;
    return true;
}

/* Whatever number of bytes comes before them, characters of three bytes are never cut through. */
static void a_long_sentence_is_cut_at_a_whole_character(void **state)
{
    (void)state;
    char words[700];
    for (int shift = 0; shift < 4; shift++) {
        memset(words, 'x', (size_t)shift);
        words[shift] = '\0';
        for (int i = 0; i < 200; i++)
            strcat(words, "鯉");
        struct err err;
        err_set(&err, ERR_INPUT, "%s", words);
        size_t length = strlen(err.text);
        assert_true(length < ERR_TEXT_SIZE && length >= ERR_TEXT_SIZE - 4);
        assert_true(is_utf8(err.text));
        err_at(&err, "%s", words);
        assert_true(is_utf8(err.text));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(setting_fills_code_and_sentence_and_is_false),
        cmocka_unit_test(nobody_has_to_listen),
        cmocka_unit_test(a_place_goes_in_front_and_keeps_the_code),
        cmocka_unit_test(a_sentence_can_be_made_from_the_error_itself),
        cmocka_unit_test(what_cannot_be_shown_is_a_mark),
        cmocka_unit_test(a_long_sentence_is_cut_at_a_whole_character),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
