#include "senbetsu/core/terms.h"
#include "support/test.h"

#include "senbetsu/core/entry.h"

struct list {
    const struct term *terms;
    int count;
};

static const struct list lists[] = {
    {stage_terms, STAGE_COUNT},     {verdict_terms, VERDICT_COUNT}, {fate_terms, FATE_COUNT},
    {manner_terms, MANNER_COUNT},   {siring_terms, SIRING_COUNT},   {sex_terms, SEX_COUNT},
    {waiting_terms, WAITING_COUNT}, {method_terms, METHOD_COUNT},
};

/* A word found is the word asked for: no list holds one twice, and every place is filled. */
static void every_word_is_found_at_its_place(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof lists / sizeof *lists; i++) {
        for (int j = 0; j < lists[i].count; j++) {
            assert_non_null(lists[i].terms[j].word);
            assert_int_equal(term_find(lists[i].terms, lists[i].count, lists[i].terms[j].word), j);
            assert_true(lists[i].terms[j].gloss[0] != '\0');
        }
    }
}

static void the_words_of_the_files_are_these(void **state)
{
    (void)state;
    char words[128];
    assert_string_equal(term_list(stage_terms, STAGE_COUNT, words, sizeof words),
                        "black, first, second, third, fourth, harvest or house");
    assert_string_equal(term_list(verdict_terms, VERDICT_COUNT, words, sizeof words),
                        "open, keep, hold or reject");
    assert_string_equal(term_list(fate_terms, FATE_COUNT, words, sizeof words),
                        "pond-grade, passed-on, kept-apart or put-down");
    assert_string_equal(term_list(manner_terms, MANNER_COUNT, words, sizeof words),
                        "pick, remove or judge");
    assert_string_equal(term_list(siring_terms, SIRING_COUNT, words, sizeof words),
                        "single, split, pooled or group");
    assert_string_equal(term_list(sex_terms, SEX_COUNT, words, sizeof words), "f or m");
    assert_string_equal(term_list(waiting_terms, WAITING_COUNT, words, sizeof words),
                        "basin or cell");
    assert_string_equal(term_list(method_terms, METHOD_COUNT, words, sizeof words),
                        "counted, weighed, displaced, scooped or estimated");
}

static void other_words_are_not_found(void **state)
{
    (void)state;
    assert_int_equal(term_find(stage_terms, STAGE_COUNT, "Harvest"), -1);
    assert_int_equal(term_find(stage_terms, STAGE_COUNT, ""), -1);
    assert_int_equal(term_find(stage_terms, STAGE_COUNT, "harv"), -1);
    assert_int_equal(term_find(sex_terms, SEX_COUNT, ""), SEX_UNKNOWN);
    assert_int_equal(term_find(fate_terms, FATE_COUNT, ""), FATE_UNDECIDED);
}

static void a_range_of_one_stage_is_that_stage(void **state)
{
    (void)state;
    char range[STAGE_RANGE_SIZE];
    assert_string_equal(stage_range(STAGE_THIRD, STAGE_THIRD, range), "third");
    assert_string_equal(stage_range(STAGE_SECOND, STAGE_HARVEST, range), "second to harvest");
}

static void a_list_is_cut_to_its_buffer(void **state)
{
    (void)state;
    char words[8];
    assert_string_equal(term_list(stage_terms, STAGE_COUNT, words, sizeof words), "black, ");
    static const struct term one[] = {{"only", ""}};
    char room[16];
    assert_string_equal(term_list(one, 1, room, sizeof room), "only");
    static const struct term last_empty[] = {{"a", ""}, {"b", ""}, {"", ""}};
    assert_string_equal(term_list(last_empty, 3, room, sizeof room), "a or b");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_word_is_found_at_its_place),
        cmocka_unit_test(the_words_of_the_files_are_these),
        cmocka_unit_test(other_words_are_not_found),
        cmocka_unit_test(a_range_of_one_stage_is_that_stage),
        cmocka_unit_test(a_list_is_cut_to_its_buffer),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
