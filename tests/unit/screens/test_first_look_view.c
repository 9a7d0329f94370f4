/* The first look as text. tests/data/views holds what each state must look like. */
#include "senbetsu/screens/first_look_view.h"
#include "senbetsu/screens/screens.h"
#include "support/views.h"

static struct first_look_view view_of(const struct first_look *look)
{
    return (struct first_look_view){.title = "K26-1: first look, before the second cull",
                                    .judge = "Aoki",
                                    .look = *look,
                                    .lot.number = NOT_COUNTED};
}

static struct first_look looked(int first, int second, int64_t looked_at)
{
    return (struct first_look){
        .looked_at = looked_at, .good = first + second, .good_in_dish = {first, second}};
}

static void test_nothing_looked_at(void **state)
{
    (void)state;
    struct first_look look = looked(0, 0, 0);
    struct first_look_view view = view_of(&look);
    assert_screens("first-look-fresh", first_look_draw, &view);
}

static void test_a_poor_dish(void **state)
{
    (void)state;
    struct first_look look = looked(3, 1, 26);
    struct first_look_view view = view_of(&look);
    text_copy(view.interval, sizeof view.interval, "6.2 to 33.5 %");
    view.lot = (struct count){12000, METHOD_WEIGHED, 50000};
    view.good_low = 718;
    view.good_high = 4042;
    view.last_key = "not good";
    assert_screens("first-look-poor", first_look_draw, &view);
}

static void assert_advises(int first, int second, int64_t looked_at, const char *advice)
{
    struct first_look look = looked(first, second, looked_at);
    struct first_look_view view = view_of(&look);
    struct grid grid;
    struct text text;
    grid_init(&grid, GRID_MIN_ROWS, GRID_MIN_COLUMNS);
    text_init(&text);
    first_look_draw(&grid, &view);
    grid_text(&grid, &text);
    if (strstr(text.data, advice) == NULL)
        fail_msg("\"%s\" is not on the screen:\n%s", advice, text.data);
    text_done(&text);
    grid_done(&grid);
}

static void test_every_advice(void **state)
{
    (void)state;
    assert_advises(4, 0, 13, "It begins with 20 fish; 7 are still to be looked at.");
    assert_advises(4, 0, 20, "Only 4 of the first 20 are good: look at 20 more.");
    assert_advises(4, 3, 40, "4 and 3 good of 20 each: the lot is hardly worth culling.");
    assert_advises(4, 6, 40, "4 and then 6 of 20 are good: go on as planned.");
    assert_advises(6, 0, 20, "6 of the first 20 are good: go on as planned.");
    assert_advises(8, 0, 20, "8 of the first 20 are good: have room for more than planned.");
}

static void test_the_keys_of_more(void **state)
{
    (void)state;
    struct first_look look = looked(0, 0, 0);
    struct first_look_view view = view_of(&look);
    assert_ptr_equal(first_look_table(&view), &first_look_keys);
    view.more = true;
    assert_ptr_equal(first_look_table(&view), &first_look_more_keys);
    assert_screens("first-look-more", first_look_draw, &view);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_nothing_looked_at),
        cmocka_unit_test(test_a_poor_dish),
        cmocka_unit_test(test_every_advice),
        cmocka_unit_test(test_the_keys_of_more),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
