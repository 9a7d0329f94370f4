#include "senbetsu/ui/list.h"
#include "support/views.h"

static const struct key up = {KEY_ARROW_UP, 0}, down = {KEY_ARROW_DOWN, 0};

static void test_moves_stay_within_the_list(void **state)
{
    (void)state;
    struct list list = {.page = 4};
    list_count(&list, 3);
    assert_int_equal(list_key(&list, CONTEXT_HOME, up), LIST_NOTHING);
    assert_int_equal(list.current, 0);
    for (int i = 0; i < 5; i++)
        list_key(&list, CONTEXT_HOME, down);
    assert_int_equal(list.current, 2);
    list_key(&list, CONTEXT_HOME, (struct key){KEY_PAGE_UP, 0});
    assert_int_equal(list.current, 0);
    list_key(&list, CONTEXT_HOME, (struct key){KEY_LAST, 0});
    assert_int_equal(list.current, 2);
    list_count(&list, 1);
    assert_int_equal(list.current, 0);
}

static void test_an_empty_list_has_nothing_in_front(void **state)
{
    (void)state;
    struct list list = {0};
    list_key(&list, CONTEXT_HOME, down);
    list_key(&list, CONTEXT_HOME, (struct key){KEY_PAGE_DOWN, 0});
    list_key(&list, CONTEXT_HOME, (struct key){KEY_LAST, 0});
    assert_int_equal(list.current, 0);
}

static void test_other_keys_give_their_action(void **state)
{
    (void)state;
    struct list list = {.count = 3};
    assert_int_equal(list_key(&list, CONTEXT_HOME, (struct key){KEY_RETURN, 0}), LIST_CHOOSE);
    assert_int_equal(list_key(&list, CONTEXT_HOME, key_of('q')), LIST_LEAVE);
    assert_int_equal(list_key(&list, CONTEXT_HOME, key_of('~')), LIST_NOTHING);
}

/* Every item is two rows: its number and a blank. */
static void draw_two_rows(struct grid *grid, struct rows *rows, const void *model, int item,
                          bool front)
{
    (void)model;
    grid_putf(grid, rows_next(rows), 0, -1, STYLE_PLAIN, "%d%s", item, front ? "<" : "");
    rows_next(rows);
}

static void assert_drawn(struct list *list, const char *expected)
{
    struct grid grid;
    struct text text;
    grid_init(&grid, 6, 10);
    text_init(&text);
    list_draw(list, &grid, (struct body){.top = 1, .rows = 4}, draw_two_rows, NULL);
    grid_text(&grid, &text);
    assert_string_equal(text.data, expected);
    text_done(&text);
    grid_done(&grid);
}

static void test_the_item_in_front_is_in_sight(void **state)
{
    (void)state;
    struct list list = {.count = 5};
    assert_drawn(&list, "\n0<\n\n1\n\n\n");
    list_to(&list, 3);
    assert_drawn(&list, "\n2\n\n3<\n\n\n");
    list_to(&list, 2);
    assert_drawn(&list, "\n2<\n\n3\n\n\n");
    list_to(&list, 1);
    assert_drawn(&list, "\n1<\n\n2\n\n\n");
    assert_int_equal(list.page, 2);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_moves_stay_within_the_list),
        cmocka_unit_test(test_an_empty_list_has_nothing_in_front),
        cmocka_unit_test(test_other_keys_give_their_action),
        cmocka_unit_test(test_the_item_in_front_is_in_sight),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
