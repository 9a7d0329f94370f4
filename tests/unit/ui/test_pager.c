#include "senbetsu/ui/pager.h"
#include "support/views.h"

static void test_pages_become_lines(void **state)
{
    (void)state;
    struct pager view = {.title = "The cull list"};
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

static void test_it_scrolls_no_further_than_the_end(void **state)
{
    (void)state;
    struct pager view = {.title = "The cull list"};
    struct text pages;
    struct grid grid;
    text_init(&pages);
    add_lines(&pages, 100);
    grid_init(&grid, 24, 80);
    pager_set(&view, pages.data);
    pager_draw(&grid, &view);
    pager_key(&view, (struct key){KEY_LAST, 0});
    assert_int_equal(view.list.current, 103 - view.list.page);
    pager_key(&view, (struct key){KEY_ARROW_DOWN, 0});
    assert_int_equal(view.list.current, 103 - view.list.page);
    pager_key(&view, (struct key){KEY_FIRST, 0});
    assert_int_equal(view.list.current, 0);
    assert_int_equal(pager_key(&view, key_of('s')), PAGER_SAVE);
    assert_int_equal(pager_key(&view, key_of('p')), PAGER_PRINT);
    assert_int_equal(pager_key(&view, key_of('a')), PAGER_ASCII);
    grid_done(&grid);
    text_done(&pages);
    pager_done(&view);
}

static void test_it_is_drawn(void **state)
{
    (void)state;
    struct pager view = {.title = "The cull list", .ascii = true};
    struct text pages;
    text_init(&pages);
    add_lines(&pages, 100);
    pager_set(&view, pages.data);
    list_to(&view.list, 20);
    assert_screens("reader", pager_draw, &view);
    text_done(&pages);
    pager_done(&view);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_pages_become_lines),
        cmocka_unit_test(test_it_scrolls_no_further_than_the_end),
        cmocka_unit_test(test_it_is_drawn),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
