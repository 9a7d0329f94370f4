#include "senbetsu/base/text.h"
#include "senbetsu/base/utf8.h"
#include "support/test.h"

static void an_empty_text_is_a_string(void **state)
{
    (void)state;
    struct text text;
    text_init(&text);
    assert_string_equal(text.data, "");
    assert_int_equal(text.length, 0);
    text_done(&text);
    assert_null(text.data);
}

static void a_text_grows_by_all_means(void **state)
{
    (void)state;
    struct text text;
    text_init(&text);
    text_add(&text, "bowl ");
    text_addf(&text, "%d, %s", 7, "fish");
    text_add_bytes(&text, " 12 and more", 3);
    text_add_bytes(&text, NULL, 0);
    text_add_repeated(&text, "·-", 3);
    text_add_repeated(&text, "x", -1);
    assert_string_equal(text.data, "bowl 7, fish 12·-·-·-");
    assert_int_equal(text.length, strlen(text.data));
    text_clear(&text);
    assert_string_equal(text.data, "");
    text_add(&text, "again");
    assert_string_equal(text.data, "again");
    text_done(&text);
}

static void long_texts_fit(void **state)
{
    (void)state;
    struct text text;
    text_init(&text);
    for (int i = 0; i < 10000; i++)
        text_addf(&text, "%d,", i % 10);
    assert_int_equal(text.length, 20000);
    assert_string_equal(text.data + 19990, "5,6,7,8,9,");
    text_done(&text);
}

static void assert_column(const char *string, int columns, const char *expected)
{
    struct text text;
    text_init(&text);
    text_add(&text, "|");
    text_add_column(&text, string, columns);
    assert_string_equal(text.data + 1, expected);
    assert_int_equal(utf8_width(text.data + 1), abs(columns));
    text_done(&text);
}

static void columns_are_padded_and_cut(void **state)
{
    (void)state;
    assert_column("K7", 5, "K7   ");
    assert_column("K7", -5, "   K7");
    assert_column("Kikusui", 7, "Kikusui");
    assert_column("Kikusui", 5, "Kiku…");
    assert_column("Kikusui", -5, "Kiku…");
    assert_column("Kikusui", 1, "K");
    assert_column("Kikusui", 0, "");
    assert_column("", 2, "  ");
}

/* 菊翠 is four columns wide; where half a character would be left, a space stands. */
static void wide_characters_are_not_cut_through(void **state)
{
    (void)state;
    assert_column("菊翠", 6, "菊翠  ");
    assert_column("菊翠", -6, "  菊翠");
    assert_column("菊翠", 4, "菊翠");
    assert_column("菊翠", 3, "菊…");
    assert_column("菊翠", 2, "… ");
    assert_column("菊翠", -2, " …");
    assert_column("菊翠", 1, " ");
    assert_column("e\xCC\x81t", 2, "e\xCC\x81t");
}

static void copies_end_at_a_whole_character(void **state)
{
    (void)state;
    char buffer[8];
    assert_ptr_equal(text_copy(buffer, sizeof buffer, "short"), buffer);
    assert_string_equal(buffer, "short");
    assert_string_equal(text_copy(buffer, sizeof buffer, "1234567"), "1234567");
    assert_string_equal(text_copy(buffer, sizeof buffer, "12345678"), "1234567");
    assert_string_equal(text_copy(buffer, sizeof buffer, "鯉鯉鯉"), "鯉鯉");
    assert_string_equal(text_copy(buffer, sizeof buffer, "1鯉鯉鯉"), "1鯉鯉");
    assert_string_equal(text_copy(buffer, 1, "x"), "");
}

static void what_is_there_is_joined(void **state)
{
    (void)state;
    struct text text;
    text_init(&text);
    text_join(&text, " · ", "");
    text_join(&text, " · ", "K26-1");
    text_join(&text, " · ", "");
    text_join(&text, " · ", "first");
    assert_string_equal(text.data, "K26-1 · first");
    text_done(&text);
}

static void counts_what_has_to_change(void **state)
{
    (void)state;
    assert_int_equal(text_distance("", ""), 0);
    assert_int_equal(text_distance("KD1+KS1", "KD1+KS1"), 0);
    assert_int_equal(text_distance("KD1+KS1", "KD1+KS2"), 1);
    assert_int_equal(text_distance("KD1+KS1", "KS1+KD1"), 2);
    assert_int_equal(text_distance("KD1+KS1", "KD1+KS1;KS2"), 4);
    assert_int_equal(text_distance("", "KD1"), 3);
    assert_int_equal(text_distance("KD1", ""), 3);
    assert_int_equal(text_distance("紅白", "紅"), 1);
    assert_int_equal(text_distance("菊水", "菊翠"), 1);
    assert_int_equal(text_distance("kitten", "sitting"), 3); /* the usual example */
}

static void is_the_same_both_ways(void **state)
{
    (void)state;
    static const char *const texts[] = {"", "a", "ab", "ba", "abc", "bca", "KD1+KS1;KS2"};
    enum { TEXTS = sizeof texts / sizeof *texts };
    for (int i = 0; i < TEXTS; i++)
        for (int j = 0; j < TEXTS; j++)
            assert_int_equal(text_distance(texts[i], texts[j]), text_distance(texts[j], texts[i]));
}

static void assert_ascii(const char *string, const char *expected)
{
    struct text out;
    text_init(&out);
    text_add_ascii(&out, string);
    assert_string_equal(out.data, expected);
    text_done(&out);
}

static void assert_letters(const char *string, const char *expected)
{
    struct text out;
    text_init(&out);
    text_add_letters(&out, string);
    assert_string_equal(out.data, expected);
    text_done(&out);
}

static void names_are_told_apart_by_their_letters(void **state)
{
    (void)state;
    assert_letters("", "");
    assert_letters("Shiro-Utsuri", "shiroutsuri");
    assert_letters("Kōhaku No. 2", "kohakuno2");
    assert_letters("落葉 しぐれ", "落葉しくれ");
    assert_letters("- ' .", "");
}

static void leaves_ascii_alone(void **state)
{
    (void)state;
    assert_ascii("", "");
    assert_ascii("bowl 3: [ ] 12 ~", "bowl 3: [ ] 12 ~");
}

static void gives_signs_their_usual_form(void **state)
{
    (void)state;
    assert_ascii("2 × 3 – 4…", "2 x 3 - 4...");
    assert_ascii("“a” → ‘b’", "\"a\" -> 'b'");
    assert_ascii("≥ 65 · ± 3", ">= 65 . +/- 3");
    assert_ascii("┌──┐│└──┘", "+--+|+--+");
    assert_ascii("♀ ♂", "f m");
}

static void takes_marks_off_letters(void **state)
{
    (void)state;
    assert_ascii("Kōhaku Shōwa", "Kohaku Showa");
    assert_ascii("é ü Å ñ ß ø", "e u A n ss o");
    assert_ascii("e\xCC\x81", "e");
}

static void puts_one_question_mark_for_each_other_character(void **state)
{
    (void)state;
    assert_ascii("菊水 K26", "?? K26");
    assert_ascii("🐟", "?");
    assert_ascii("a\xFF", "a?");
}

/* The table is searched by halving: each of its rows must be found. */
static void never_lets_a_byte_above_127_through(void **state)
{
    (void)state;
    struct text out;
    text_init(&out);
    for (uint32_t code = 1; code < 0x3100; code++) {
        char character[5];
        utf8_encode(code, character);
        text_add_ascii(&out, character);
    }
    for (size_t i = 0; i < out.length; i++)
        assert_true((unsigned char)out.data[i] < 128);
    text_done(&out);
    assert_ascii("\u00A0\u00BE\u0152\u2011\u2033\u2265\u2503\u2534\u2611\u3000",
                 " 3/4OE-\">=|+[x]  ");
}

static void assert_trimmed(const char *typed, const char *expected)
{
    char text[64];
    assert_string_equal(text_trim(text_copy(text, sizeof text, typed)), expected);
}

static void blanks_go_from_both_ends(void **state)
{
    (void)state;
    assert_trimmed("", "");
    assert_trimmed("  \t ", "");
    assert_trimmed("K7", "K7");
    assert_trimmed("  pond 3\t", "pond 3");
    assert_trimmed("\xE3\x80\x80紅白\xC2\xA0", "紅白");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(blanks_go_from_both_ends),
        cmocka_unit_test(what_is_there_is_joined),
        cmocka_unit_test(an_empty_text_is_a_string),
        cmocka_unit_test(a_text_grows_by_all_means),
        cmocka_unit_test(long_texts_fit),
        cmocka_unit_test(columns_are_padded_and_cut),
        cmocka_unit_test(wide_characters_are_not_cut_through),
        cmocka_unit_test(copies_end_at_a_whole_character),
        cmocka_unit_test(counts_what_has_to_change),
        cmocka_unit_test(is_the_same_both_ways),
        cmocka_unit_test(names_are_told_apart_by_their_letters),
        cmocka_unit_test(leaves_ascii_alone),
        cmocka_unit_test(gives_signs_their_usual_form),
        cmocka_unit_test(takes_marks_off_letters),
        cmocka_unit_test(puts_one_question_mark_for_each_other_character),
        cmocka_unit_test(never_lets_a_byte_above_127_through),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
