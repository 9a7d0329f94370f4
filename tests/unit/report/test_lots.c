#include "senbetsu/report/lots.h"
#include "support/test.h"

static char spawnings[] = "K1";

static void test_news_of_an_event(void **state)
{
    (void)state;
    struct lot_origin lot = {.lot_id = 7, .spawnings = spawnings, .lot = "west"};
    struct lot_event event = {.lot = "west",
                              .target = "both",
                              .day = "2026-07-09",
                              .kind = EVENT_TRANSFER,
                              .all = true,
                              .fish = {30, METHOD_COUNTED, 0},
                              .note = "before the rain"};
    struct lot_news news = lot_news_of(&event, &lot);
    assert_string_equal(news.spawning, "K1");
    assert_string_equal(news.lot, "west");
    assert_string_equal(news.target, "both");
    assert_string_equal(news.note, "before the rain");
    assert_true(news.all);
    assert_int_equal(news.fish.number, 30);
    lot.mixed = true;
    assert_string_equal(lot_news_of(&event, &lot).spawning, "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_news_of_an_event)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
