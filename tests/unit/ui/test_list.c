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

/* Items "0" to "11", and what they draw is found. */
static void draw_number(struct grid *grid, struct rows *rows, const void *model, int item,
                        bool selected)
{
    static const char *const ponds[] = {"North", "South"};
    (void)model;
    int row = rows_begin(rows, grid, selected);
    grid_putf(grid, row, 60, -1, STYLE_PLAIN, "K25-%d %s", item, ponds[item % 2]);
}

/* What the message row says after these keys; '\r' is Enter, '\b' Backspace, '\033' Esc. */
static void find(struct list *list, const char *keys, int item, const char *said)
{
    struct grid grid;
    struct text text;
    grid_init(&grid, 12, 80);
    for (; *keys != '\0'; keys++) {
        enum key_kind kind = *keys == '\r'     ? KEY_RETURN
                             : *keys == '\b'   ? KEY_ERASE
                             : *keys == '\033' ? KEY_ESCAPE
                                               : KEY_CHARACTER;
        struct key key = {kind, kind == KEY_CHARACTER ? (uint32_t)*keys : 0};
        if (!list_find_key(list, key) && *keys == '#')
            press(list, key);
        grid_clear(&grid);
        list_draw(list, &grid, (struct body){.top = 2, .rows = 5}, draw_number, NULL);
    }
    text_init(&text);
    grid_text(&grid, &text);
    assert_int_equal(list->current, item);
    if (strstr(text.data, said) == NULL)
        fail_msg("\"%s\" is not in\n%s", said, text.data);
    text_done(&text);
    grid_done(&grid);
}

static void test_finds_what_an_item_draws(void **state)
{
    (void)state;
    struct list list = {0};
    list_count(&list, 12);
    find(&list, "#", 0, "Find: _");
    find(&list, "k25-1", 1, "Find: k25-1_  #: the next one");
    find(&list, "#", 10, "Find: k25-1_");
    find(&list, "#", 11, "Find: k25-1_");
    find(&list, "#", 1, "Find: k25-1_"); /* round and round */
    find(&list, "1", 11, "Find: k25-11_");
    find(&list, "9", 11, "Find: k25-119_  No line has that");
    find(&list, "\b", 11, "Find: k25-11_  #:");
    find(&list, "\r", 11, "");
    assert_false(list.find.on);
    find(&list, "#north", 0, "Find: north_");
    find(&list, "\033", 11, ""); /* back to where it began */
    find(&list, "#x\b\b", 11, "");
    assert_false(list.find.on);
    /* A key that types nothing ends it and does what it always does. */
    find(&list, "#", 11, "Find: _");
    assert_false(list_find_key(&list, (struct key){KEY_PAGE_UP, 0}));
    assert_false(list.find.on);
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

/* A model that counts how often it draws. */
static void draw_and_count(struct grid *grid, struct rows *rows, const void *model, int item,
                           bool selected)
{
    int *const *count = model;
    ++**count;
    draw_two_rows(grid, rows, NULL, item, selected);
}

static int drawn_at(struct list *list, struct grid *grid, int item)
{
    int count = 0, *model = &count;
    list_to(list, item);
    list_draw(list, grid, (struct body){.top = 1, .rows = 4}, draw_and_count, &model);
    return count;
}

static void test_a_long_list_draws_no_more_than_a_short_one(void **state)
{
    (void)state;
    static const int items[] = {0, 1, 500, 499, 99999, 0};
    struct list list = {.count = 100000};
    struct grid grid;
    grid_init(&grid, 6, 10);
    for (size_t i = 0; i < sizeof items / sizeof items[0]; i++)
        assert_in_range(drawn_at(&list, &grid, items[i]), 1, 8);
    grid_done(&grid);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_a_long_list_draws_no_more_than_a_short_one),
        cmocka_unit_test(test_finds_what_an_item_draws),
        cmocka_unit_test(test_moves_stay_within_the_list),
        cmocka_unit_test(test_an_empty_list_has_nothing_selected),
        cmocka_unit_test(test_the_selected_item_is_in_sight),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
