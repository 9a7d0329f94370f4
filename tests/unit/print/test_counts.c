#include "senbetsu/print/counts.h"
#include "support/test.h"

static void assert_news(struct lot_news news, const char *expected)
{
    struct text text;
    text_init(&text);
    lot_news_add(&news, &text);
    assert_string_equal(text.data, expected);
    text_done(&text);
}

static void test_what_happened(void **state)
{
    (void)state;
    struct count not_known = {.number = NOT_COUNTED};
    assert_news((struct lot_news){.kind = EVENT_DEAD, .fish = {12, METHOD_UNSAID, 0}}, "dead 12");
    assert_news((struct lot_news){.kind = EVENT_LOST, .fish = {40, METHOD_ESTIMATED, 0}},
                "lost 40 estimated (error not known)");
    assert_news((struct lot_news){.kind = EVENT_COUNT, .fish = {9400, METHOD_WEIGHED, 50000}},
                "in all 9400 weighed (±5.0 %)");
    assert_news((struct lot_news){.kind = EVENT_MOVE, .fish = not_known, .pond = "North 3"},
                "move to North 3");
    assert_news((struct lot_news){.kind = EVENT_TRANSFER,
                                  .fish = {300, METHOD_COUNTED, 0},
                                  .target = "west"},
                "split: 300 counted into lot west");
    assert_news((struct lot_news){.kind = EVENT_TRANSFER,
                                  .all = true,
                                  .fish = {640, METHOD_COUNTED, 0},
                                  .target = "barn"},
                "merged: all 640 counted into lot barn");
    assert_news(
        (struct lot_news){.kind = EVENT_TRANSFER, .all = true, .fish = not_known, .target = "barn"},
        "merged: all into lot barn");
}

static void test_titles_of_lots(void **state)
{
    (void)state;
    static const char *const titles[][3] = {{"K26-1", "K26-1", "K26-1"},
                                            {"K26-1", "west", "west of K26-1"},
                                            {"", "barn", "barn, mixed"}};
    struct text text;
    text_init(&text);
    for (size_t i = 0; i < sizeof titles / sizeof *titles; i++) {
        text_clear(&text);
        lot_title_add(titles[i][0], titles[i][1], &text);
        assert_string_equal(text.data, titles[i][2]);
    }
    text_done(&text);
}

static void assert_reads(struct fates fates, const char *expected)
{
    struct text out;
    text_init(&out);
    text_add(&out, "fish: ");
    fates_text(&fates, &out);
    assert_string_equal(out.data + 6, expected);
    text_done(&out);
}

static void names_each_fate_that_any_fish_had(void **state)
{
    (void)state;
    assert_reads((struct fates){0}, "");
    assert_reads((struct fates){.fish = {[FATE_PASSED_ON] = 3}}, "passed-on 3");
    assert_reads(
        (struct fates){
            .fish = {[FATE_UNDECIDED] = 5, [FATE_POND_GRADE] = 20, [FATE_PUT_DOWN] = 40}},
        "pond-grade 20, put-down 40, not decided 5");
}

static void says_that_a_number_is_wrong(void **state)
{
    (void)state;
    assert_reads((struct fates){.fish = {[FATE_KEPT_APART] = 9}, .over = 2},
                 "kept-apart 9, 2 more than were rejected");
}

/* 14 of 20, Wilson's ends worked out apart from the program, in Python, from his formula: 0.481028
 * and 0.854523; 0 of 20: 0 and 0.1611 (Newcombe 1998, Stat Med 17:857-872, Table I). */
static void a_look_has_its_interval(void **state)
{
    (void)state;
    char text[FIRST_LOOK_TEXT_SIZE];
    const struct first_look look = {.looked_at = 20, .good = 14}, none = {.looked_at = 20};
    assert_string_equal(first_look_text(&look, text), "14 of 20 good, 70.0 % (48.1 to 85.5 %)");
    assert_string_equal(first_look_text(&none, text), "0 of 20 good, 0.0 % (0.0 to 16.1 %)");
}

static void without_fish_there_is_nothing_to_say(void **state)
{
    (void)state;
    char text[FIRST_LOOK_TEXT_SIZE], interval[INTERVAL_TEXT_SIZE];
    const struct first_look look = {.looked_at = 0};
    assert_string_equal(first_look_text(&look, text), "");
    assert_string_equal(first_look_interval_text(&look, interval), "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_what_happened),
        cmocka_unit_test(test_titles_of_lots),

        cmocka_unit_test(names_each_fate_that_any_fish_had),
        cmocka_unit_test(says_that_a_number_is_wrong),

        cmocka_unit_test(a_look_has_its_interval),
        cmocka_unit_test(without_fish_there_is_nothing_to_say),

    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
