#include "senbetsu/base/utf8.h"
#include "support/test.h"

static void characters_come_one_after_another(void **state)
{
    (void)state;
    const char *cursor = "aé鯉\xF0\x9F\x90\x9F";
    assert_int_equal(utf8_next(&cursor), 'a');
    assert_int_equal(utf8_next(&cursor), 0xE9);
    assert_int_equal(utf8_next(&cursor), 0x9BC9);
    assert_int_equal(utf8_next(&cursor), 0x1F41F);
    const char *end = cursor;
    assert_int_equal(utf8_next(&cursor), 0);
    assert_ptr_equal(cursor, end);
}

/* A stray byte, a cut character, an overlong form, half a surrogate pair. */
static void wrong_bytes_are_replaced_one_by_one(void **state)
{
    (void)state;
    static const char *const wrong[] = {"\x80z",         "\xE9z", "\xE9\xAFz",        "\xC0\xAFz",
                                        "\xED\xA0\x80z", "\xFFz", "\xF5\x80\x80\x80z"};
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        const char *cursor = wrong[i];
        assert_int_equal(utf8_next(&cursor), 0xFFFD);
        assert_ptr_equal(cursor, wrong[i] + 1);
        uint32_t code = 7;
        assert_int_equal(utf8_decode(wrong[i], strlen(wrong[i]), &code), 0);
        assert_int_equal(code, 7);
    }
    const char *cut = "\xE9";
    assert_int_equal(utf8_next(&cut), 0xFFFD);
    assert_int_equal(*cut, '\0');
}

static void what_is_encoded_is_decoded(void **state)
{
    (void)state;
    static const uint32_t codes[] = {'a', 0x7F, 0x80, 0x7FF, 0x800, 0xFFFD, 0x10000, 0x10FFFF};
    for (size_t i = 0; i < sizeof codes / sizeof *codes; i++) {
        char buffer[5];
        size_t bytes = utf8_encode(codes[i], buffer);
        assert_int_equal(strlen(buffer), bytes);
        uint32_t code;
        assert_int_equal(utf8_decode(buffer, bytes, &code), bytes);
        assert_int_equal(code, codes[i]);
    }
    char buffer[5];
    utf8_encode(0xD800, buffer);
    assert_string_equal(buffer, "\xEF\xBF\xBD");
    utf8_encode(0x110000, buffer);
    assert_string_equal(buffer, "\xEF\xBF\xBD");
}

/* Widths: Unicode Standard Annex 11, classes W and F are two columns. */
static void widths_are_those_of_a_terminal(void **state)
{
    (void)state;
    assert_int_equal(utf8_code_width('a'), 1);
    assert_int_equal(utf8_code_width(0xE9), 1);
    assert_int_equal(utf8_code_width(0x9BC9), 2);  /* 鯉 */
    assert_int_equal(utf8_code_width(0x30AD), 2);  /* キ */
    assert_int_equal(utf8_code_width(0xFF76), 1);  /* halfwidth ｶ */
    assert_int_equal(utf8_code_width(0x301), 0);   /* combining acute */
    assert_int_equal(utf8_code_width(0x1F41F), 2); /* fish */
    assert_int_equal(utf8_code_width('\t'), 1);    /* shown as a blank */
    assert_int_equal(utf8_code_width(0x85), 1);
    assert_int_equal(utf8_code_width(0x110000), 1);
    assert_int_equal(utf8_width("K7 × 菊翠"), 9);
    assert_int_equal(utf8_width("e\xCC\x81"), 1);
    assert_int_equal(utf8_width("\xFF\xFF"), 2);
    assert_int_equal(utf8_width(""), 0);
}

static void controls_cannot_be_shown(void **state)
{
    (void)state;
    static const uint32_t hidden[] = {0, '\t', 0x1B, 0x7F, 0x9F, 0x2028, 0xE000, 0xD800, 0x110000};
    for (size_t i = 0; i < sizeof hidden / sizeof *hidden; i++)
        assert_false(utf8_printable(hidden[i]));
    assert_true(utf8_printable(' ') && utf8_printable(0x301) && utf8_printable(0x9BC9));
    assert_true(utf8_control('\n') && utf8_control(0x7F) && utf8_control(0x85));
    assert_false(utf8_control(' ') || utf8_control(0xA0) || utf8_control(0x9BC9));
}

/* What hides, or moves what stands beside it: bidirectional controls, joiners, zero-width blanks,
 * tags, fillers, selectors, and what has no character yet. */
static void what_hides_or_reorders_is_shown_as_a_mark(void **state)
{
    (void)state;
    static const uint32_t hidden[][2] = {
        {0x00AD, 0x00AD},   {0x034F, 0x034F},   {0x061C, 0x061C},   {0x115F, 0x1160},
        {0x17B4, 0x17B5},   {0x180B, 0x180F},   {0x200B, 0x200F},   {0x202A, 0x202E},
        {0x2028, 0x2029},   {0x2060, 0x206F},   {0x3164, 0x3164},   {0xFE00, 0xFE0F},
        {0xFEFF, 0xFEFF},   {0xFFA0, 0xFFA0},   {0xFFF0, 0xFFFB},   {0xFFFE, 0xFFFF},
        {0x1BCA0, 0x1BCA3}, {0x1D173, 0x1D17A}, {0xE0000, 0xE0FFF}, {0x80, 0x9F},
    };
    for (size_t i = 0; i < sizeof hidden / sizeof *hidden; i++)
        for (uint32_t code = hidden[i][0]; code <= hidden[i][1]; code++) {
            assert_false(utf8_printable(code));
            assert_int_equal(utf8_shown(code), UTF8_MARK);
            assert_int_equal(utf8_code_width(code), 1);
        }
    static const uint32_t seen[] = {' ', 'K', 0xA0, 0x301, 0x3099, 0x9BC9, 0x1F41F, 0x5D0, 0x627};
    for (size_t i = 0; i < sizeof seen / sizeof *seen; i++)
        assert_int_equal(utf8_shown(seen[i]), seen[i]);
    assert_int_equal(utf8_shown('\t'), ' ');
    assert_int_equal(utf8_shown('\n'), ' ');
    assert_int_equal(utf8_shown(0xFFFD), UTF8_MARK);
}

static void characters_are_counted(void **state)
{
    (void)state;
    assert_int_equal(utf8_count(""), 0);
    assert_int_equal(utf8_count("a鯉é"), 3);
}

static void a_string_is_fitted_into_columns(void **state)
{
    (void)state;
    assert_int_equal(utf8_fit("abc", 2), 2);
    assert_int_equal(utf8_fit("abc", 9), 3);
    assert_int_equal(utf8_fit("鯉鯉", 3), 3);
    assert_int_equal(utf8_fit("鯉鯉", 1), 0);
    assert_int_equal(utf8_fit("e\xCC\x81x", 1), 3);
    assert_int_equal(utf8_fit("abc", 0), 0);
    assert_int_equal(utf8_fit("abc", -1), 0);
}

static void a_string_is_cut_into_bytes(void **state)
{
    (void)state;
    assert_int_equal(utf8_cut("鯉鯉", 6), 6);
    assert_int_equal(utf8_cut("鯉鯉", 5), 3);
    assert_int_equal(utf8_cut("鯉鯉", 3), 3);
    assert_int_equal(utf8_cut("鯉鯉", 2), 0);
    assert_int_equal(utf8_cut("\xF0\x9F\x90\x9F", 3), 0);
    assert_int_equal(utf8_cut("abc", 9), 3);
}

/* What is taken for plain must be what the tables say of it. */
static void plain_characters_are_what_the_tables_say(void **state)
{
    (void)state;
    for (uint32_t code = 1; code < 0x80; code++) {
        char character[5];
        utf8_encode(code, character);
        bool shows = utf8_printable(code);
        assert_int_equal(utf8_plain(character), shows);
        assert_int_equal(utf8_code_width(code), 1);
        if (shows)
            assert_int_equal(utf8_shown(code), code);
    }
    assert_int_equal(utf8_plain("Ki 1~\t2"), 5);
    assert_int_equal(utf8_plain("K鯉"), 1);
    assert_int_equal(utf8_plain(""), 0);
}

static void letters_are_the_same_in_either_case(void **state)
{
    (void)state;
    assert_true(utf8_same_letters("Kikusui, Hariwake", 7, "KIKUSUI"));
    assert_true(utf8_same_letters("Ōgon", strlen("Ōgon"), "ōGON"));
    assert_true(utf8_same_letters("菊翠", 6, "菊翠"));
    assert_true(utf8_same_letters("", 0, ""));
    assert_false(utf8_same_letters("Kikusui", 7, "Kikusu"));
    assert_false(utf8_same_letters("Kikusu", 6, "Kikusui"));
    assert_false(utf8_same_letters("Kikusui", 7, "Kikusua"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(characters_come_one_after_another),
        cmocka_unit_test(wrong_bytes_are_replaced_one_by_one),
        cmocka_unit_test(what_is_encoded_is_decoded),
        cmocka_unit_test(widths_are_those_of_a_terminal),
        cmocka_unit_test(controls_cannot_be_shown),
        cmocka_unit_test(what_hides_or_reorders_is_shown_as_a_mark),
        cmocka_unit_test(characters_are_counted),
        cmocka_unit_test(a_string_is_fitted_into_columns),
        cmocka_unit_test(a_string_is_cut_into_bytes),
        cmocka_unit_test(plain_characters_are_what_the_tables_say),
        cmocka_unit_test(letters_are_the_same_in_either_case),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
