#include "support/test.h"

#include "senbetsu/base/text.h"
#include "senbetsu/base/utf8.h"

static void check(const char *string, const char *expected)
{
    struct text out;
    text_init(&out);
    text_add_ascii(&out, string);
    assert_string_equal(out.data, expected);
    text_done(&out);
}

static void leaves_ascii_alone(void **state)
{
    (void)state;
    check("", "");
    check("bowl 3: [ ] 12 ~", "bowl 3: [ ] 12 ~");
}

static void gives_signs_their_usual_form(void **state)
{
    (void)state;
    check("2 × 3 – 4…", "2 x 3 - 4...");
    check("“a” → ‘b’", "\"a\" -> 'b'");
    check("≥ 65 · ± 3", ">= 65 . +/- 3");
    check("┌──┐│└──┘", "+--+|+--+");
    check("♀ ♂", "f m");
}

static void takes_marks_off_letters(void **state)
{
    (void)state;
    check("Kōhaku Shōwa", "Kohaku Showa");
    check("é ü Å ñ ß ø", "e u A n ss o");
    check("e\xCC\x81", "e");
}

static void puts_one_question_mark_for_each_other_character(void **state)
{
    (void)state;
    check("菊水 K26", "?? K26");
    check("🐟", "?");
    check("a\xFF", "a?");
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
    check("\u00A0\u00BE\u0152\u2011\u2033\u2265\u2503\u2534\u2611\u3000", " 3/4OE-\">=|+[x]  ");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(leaves_ascii_alone),
        cmocka_unit_test(gives_signs_their_usual_form),
        cmocka_unit_test(takes_marks_off_letters),
        cmocka_unit_test(puts_one_question_mark_for_each_other_character),
        cmocka_unit_test(never_lets_a_byte_above_127_through),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
