#include "senbetsu/ui/pager.h"
#include "support/views.h"

static void test_pages_become_lines(void **state)
{
    (void)state;
    struct pager view = {0};
    pager_set(&view, "one\ntwo\n\fthree\n\nfour");
    assert_int_equal(view.line_count, 6);
    assert_string_equal(view.lines[1], "two");
    assert_string_equal(view.lines[2], "");
    assert_string_equal(view.lines[3], "three");
    assert_string_equal(view.lines[5], "four");
    pager_set(&view, "");
    assert_int_equal(view.line_count, 0);
    assert_int_equal(view.list.current, 0);
    pager_done(&view);
}

static void add_lines(struct text *pages, int count)
{
    for (int i = 1; i <= count; i++)
        text_addf(pages, "line %d%s", i, i % 30 == 0 ? "\n\f" : "\n");
}

static void press(struct pager *view, struct key key)
{
    int number;
    const struct key_row *row = keys_find(&list_keys, key, &number);
    row->handler(NULL, view, number);
}

static void test_it_scrolls_no_further_than_the_end(void **state)
{
    (void)state;
    struct pager view = {0};
    struct text pages;
    struct grid grid;
    const struct body body = {.top = 2, .rows = 17};
    text_init(&pages);
    add_lines(&pages, 100);
    grid_init(&grid, 24, 80);
    pager_set(&view, pages.data);
    pager_draw(&view, &grid, body);
    press(&view, (struct key){KEY_LAST, 0});
    pager_draw(&view, &grid, body);
    assert_int_equal(view.list.current, 103 - view.list.page);
    press(&view, (struct key){KEY_ARROW_DOWN, 0});
    pager_draw(&view, &grid, body);
    assert_int_equal(view.list.current, 103 - view.list.page);
    press(&view, (struct key){KEY_FIRST, 0});
    assert_int_equal(view.list.current, 0);
    grid_done(&grid);
    text_done(&pages);
    pager_done(&view);
}

static void type(struct pager *view, const char *text)
{
    for (; *text != '\0'; text++)
        assert_true(list_find_key(&view->list, (struct key){KEY_CHARACTER, (uint32_t)*text}));
}

/* A line that is found comes to the top, or as near to it as the end allows, and stands out. */
static void test_a_line_is_found(void **state)
{
    (void)state;
    struct pager view = {0};
    struct text pages;
    struct grid grid;
    const struct body body = {.top = 0, .rows = 4};
    grid_init(&grid, 12, 40);
    text_init(&pages);
    add_lines(&pages, 30);
    pager_set(&view, pages.data);
    pager_draw(&view, &grid, body);
    press(&view, (struct key){KEY_CHARACTER, '#'});
    type(&view, "29");
    pager_draw(&view, &grid, body);
    int row = view.list.find.at - view.list.current;
    assert_non_null(strstr(view.lines[view.list.find.at], "29"));
    assert_in_range(row, 0, 3);
    assert_int_equal(grid.cells[(size_t)row * (size_t)grid.columns].style, STYLE_CURSOR);
    int found = view.list.find.at;
    type(&view, "#"); /* there is no other */
    pager_draw(&view, &grid, body);
    assert_int_equal(view.list.find.at, found);
    text_done(&pages);
    grid_done(&grid);
    pager_done(&view);
}

static void test_a_rule_ends_a_page(void **state)
{
    (void)state;
    struct pager view = {0};
    struct grid grid;
    struct text text;
    char place[PAGER_PLACE_SIZE];
    grid_init(&grid, 4, 6);
    text_init(&text);
    pager_set(&view, "one\ntwo\n\fthree\nfour");
    list_to(&view.list, 1);
    pager_draw(&view, &grid, (struct body){.top = 0, .rows = 4});
    grid_text(&grid, &text);
    assert_string_equal(text.data, "two\n──────\nthree\nfour\n");
    pager_place(&view, place);
    assert_string_equal(place, "line 2 of 5");
    text_done(&text);
    grid_done(&grid);
    pager_done(&view);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_pages_become_lines),
        cmocka_unit_test(test_it_scrolls_no_further_than_the_end),
        cmocka_unit_test(test_a_line_is_found),
        cmocka_unit_test(test_a_rule_ends_a_page),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
