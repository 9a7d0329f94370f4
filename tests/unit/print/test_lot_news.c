#include "senbetsu/print/lot_news.h"
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
                "count 9400 weighed (±5.0 %)");
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
                "put together: all 640 counted into lot barn");
    assert_news(
        (struct lot_news){.kind = EVENT_TRANSFER, .all = true, .fish = not_known, .target = "barn"},
        "put together: all into lot barn");
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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_what_happened),
        cmocka_unit_test(test_titles_of_lots),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
