#include "senbetsu/screens/mark.h"
#include "support/test.h"

/* Without colour the letter alone must tell. */
static void test_marks_are_told_apart(void **state)
{
    (void)state;
    for (int a = 0; a < VERDICT_COUNT; a++)
        for (int b = a + 1; b < VERDICT_COUNT; b++) {
            assert_string_not_equal(verdict_marks[a].letter, verdict_marks[b].letter);
            assert_int_not_equal(verdict_marks[a].style, verdict_marks[b].style);
        }
}

/* The large words are the trade's own, in capitals. */
static void test_words_are_the_terms(void **state)
{
    (void)state;
    for (int verdict = 0; verdict < VERDICT_COUNT; verdict++) {
        const char *large = verdict_marks[verdict].word, *term = verdict_terms[verdict].word;
        assert_int_equal(strlen(large), strlen(term));
        for (size_t i = 0; term[i] != '\0'; i++)
            assert_int_equal(large[i], term[i] - 'a' + 'A');
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_marks_are_told_apart),
        cmocka_unit_test(test_words_are_the_terms),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
