#include "senbetsu/screens/progress.h"
#include "support/test.h"
#include "support/views.h"

static void assert_ribbon(struct verdict_counts tally, int columns, const char *expected)
{
    struct grid grid;
    struct text text;
    grid_init(&grid, 1, 80);
    text_init(&text);
    ribbon_draw(&grid, 0, 0, columns, &tally);
    grid_text(&grid, &text);
    assert_string_equal(text.data, expected);
    text_done(&text);
    grid_done(&grid);
}

static void test_the_ribbon_is_in_proportion(void **state)
{
    (void)state;
    assert_ribbon((struct verdict_counts){60, 30, {0, 12, 6, 12}, 0}, 10, "KKHRR·····\n");
    assert_ribbon((struct verdict_counts){0, 4, {0, 1, 1, 2}, 0}, 8, "KKHHRRRR\n");
    assert_ribbon((struct verdict_counts){5, 10, {0, 5, 0, 5}, 0}, 4, "KKRR\n");
    assert_ribbon((struct verdict_counts){60, 0, {0}, 0}, 4, "····\n");
    assert_ribbon((struct verdict_counts){0}, 4, "\n");
}

static void test_the_counts_stand_beside_it(void **state)
{
    (void)state;
    struct grid grid;
    struct text text;
    struct verdict_counts tally = {60, 18, {0, 9, 3, 6}, 0}, unknown = {0, 2, {0, 1, 1, 0}, 0},
                          first = {104200, 103282, {0, 10205, 0, 93077}, 0};
    grid_init(&grid, 3, 80);
    text_init(&text);
    progress_draw(&grid, 0, 0, "harvest", &tally);
    progress_draw(&grid, 1, 0, "bowl 3", &unknown);
    progress_draw(&grid, 2, 0, "first", &first);
    grid_text(&grid, &text);
    assert_non_null(strstr(text.data, "harvest       KKKHRR···"));
    assert_non_null(strstr(text.data, "18 of 60         K 9     H 3     R 6\n"));
    assert_non_null(strstr(text.data, "2                K 1     H 1     R 0\n"));
    assert_non_null(strstr(text.data, "103282 of 104200 K 10205 H 0     R 93077\n"));
    text_done(&text);
    grid_done(&grid);
}

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
        cmocka_unit_test(test_the_ribbon_is_in_proportion),
        cmocka_unit_test(test_the_counts_stand_beside_it),
        cmocka_unit_test(test_marks_are_told_apart),
        cmocka_unit_test(test_words_are_the_terms),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
