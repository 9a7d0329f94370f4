#include "senbetsu/ui/list.h"
#include "support/views.h"

static const struct key up = {KEY_ARROW_UP, 0}, down = {KEY_ARROW_DOWN, 0};

static void press(struct list *list, struct key key)
{
    int number;
    const struct key_row *row = keys_find(&list_keys, key, &number);
    row->handler(NULL, list, number);
}

static void test_moves_stay_within_the_list(void **state)
{
    (void)state;
    struct list list = {.page = 4};
    list_count(&list, 3);
    press(&list, up);
    assert_int_equal(list.current, 0);
    for (int i = 0; i < 5; i++)
        press(&list, down);
    assert_int_equal(list.current, 2);
    press(&list, (struct key){KEY_PAGE_UP, 0});
    assert_int_equal(list.current, 0);
    press(&list, (struct key){KEY_LAST, 0});
    assert_int_equal(list.current, 2);
    list_count(&list, 1);
    assert_int_equal(list.current, 0);
}

static void test_an_empty_list_has_nothing_selected(void **state)
{
    (void)state;
    struct list list = {0};
    press(&list, down);
    press(&list, (struct key){KEY_PAGE_DOWN, 0});
    press(&list, (struct key){KEY_LAST, 0});
    assert_int_equal(list.current, 0);
}

/* Every item is two rows: its number and a blank. */
static void draw_two_rows(struct grid *grid, struct rows *rows, const void *model, int item,
                          bool selected)
{
    (void)model;
    grid_putf(grid, rows_next(rows), 0, -1, STYLE_PLAIN, "%d%s", item, selected ? "<" : "");
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

static void test_the_selected_item_is_in_sight(void **state)
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
        cmocka_unit_test(test_an_empty_list_has_nothing_selected),
        cmocka_unit_test(test_the_selected_item_is_in_sight),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
