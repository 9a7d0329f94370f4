#include "senbetsu/ui/keys.h"
#include "support/views.h"

static int done_with; /* the number that a handler was called with */

static void handle(struct app *app, void *state, int number)
{
    (void)app;
    (void)state;
    done_with = number;
}

static const struct key_row shared_rows[] = {
    {"Up 8 k", "above", "a line up", .handler = handle, .number = -1},
};
static const struct key_table shared = KEY_TABLE(NULL, shared_rows);

static const struct key_row rows[] = {
    {"0–9", "score", "score the fish", .handler = handle, .number = 20},
    {"Enter Space", "done", "done with it", .handler = handle, .number = 7},
    {"- u", NULL, "take it back", .handler = handle, .number = 8},
    {"a–z", "fault", "a fault by its letter", .handler = NULL},
    {.shared = &shared},
    {"? F1", "help", "all keys", .handler = handle},
};
static const struct key_table table = KEY_TABLE("At the fish", rows);

static const struct key_row plain_rows[] = {
    {"-", "back", "back to the fish", .handler = handle},
};
static const struct key_table plain = KEY_TABLE("A question", plain_rows);

static void assert_number(struct key key, int number)
{
    int found;
    const struct key_row *row = keys_find(&table, key, &found);
    assert_non_null(row);
    row->handler(NULL, NULL, found);
    assert_int_equal(done_with, number);
}

static void test_every_key_of_a_row_is_found(void **state)
{
    (void)state;
    assert_number((struct key){KEY_RETURN, 0}, 7);
    assert_number(key_of(' '), 7);
    assert_number(key_of('-'), 8);
    assert_number(key_of('u'), 8);
    assert_number((struct key){KEY_ARROW_UP, 0}, -1);
    assert_number(key_of('k'), -1);
    assert_number((struct key){KEY_FUNCTION, 1}, 0);
}

static void test_a_range_counts_on(void **state)
{
    (void)state;
    assert_number(key_of('0'), 20);
    assert_number(key_of('4'), 24);
    assert_number(key_of('9'), 29);
}

static void test_other_keys_are_not_found(void **state)
{
    (void)state;
    int number;
    assert_null(keys_find(&table, key_of('x'), &number));
    assert_null(keys_find(&table, (struct key){KEY_FUNCTION, 2}, &number));
    assert_null(keys_find(&table, (struct key){KEY_NONE, 0}, &number));
    assert_null(keys_find(&table, (struct key){KEY_CHARACTER, 0x2013}, &number)); /* the dash */
}

static void test_a_key_without_a_meaning_is_told(void **state)
{
    (void)state;
    char sentence[NO_KEY_SIZE];
    keys_absent(&table, key_of('z'), sentence);
    assert_string_equal(sentence, "z does nothing here; ? shows the keys.");
    keys_absent(&table, (struct key){KEY_FUNCTION, 5}, sentence);
    assert_string_equal(sentence, "This key does nothing here; ? shows the keys.");
    keys_absent(&plain, (struct key){KEY_CHARACTER, 0x9bc9}, sentence);
    assert_string_equal(sentence, "鯉 does nothing here; - goes back.");
}

static void test_the_footer_stops_where_its_rows_end(void **state)
{
    (void)state;
    struct grid grid;
    struct text text;
    grid_init(&grid, 3, 22);
    text_init(&text);
    keys_footer(&grid, 1, 1, &table);
    grid_text(&grid, &text);
    assert_string_equal(text.data, "\n0–9 score  Enter done\n\n");
    text_clear(&text);
    keys_footer(&grid, 1, 2, &table);
    grid_text(&grid, &text);
    assert_string_equal(text.data, "\n0–9 score  Enter done\na–z fault  Up above\n");
    text_done(&text);
    grid_done(&grid);
}

static void test_help_names_every_key(void **state)
{
    (void)state;
    struct grid grid;
    struct text text;
    grid_init(&grid, 9, 46);
    text_init(&text);
    assert_false(keys_help(&grid, &table, 0));
    grid_text(&grid, &text);
    assert_string_equal(text.data, "Keys: At the fish\n"
                                   "  0–9               score the fish\n"
                                   "  Enter, Space      done with it\n"
                                   "  -, u              take it back\n"
                                   "  a–z               a fault by its letter\n"
                                   "  Up, 8, k          a line up\n"
                                   "  ?, F1             all keys\n"
                                   "\n"
                                   "any key: back\n");
    text_done(&text);
    grid_done(&grid);
}

static void test_markdown(void **state)
{
    (void)state;
    struct text text;
    text_init(&text);
    keys_markdown(&plain, &text);
    assert_string_equal(text.data, "### A question\n\n| key | what it does |\n|---|---|\n"
                                   "| `-` | back to the fish |\n");
    text_done(&text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_every_key_of_a_row_is_found),
        cmocka_unit_test(test_a_range_counts_on),
        cmocka_unit_test(test_other_keys_are_not_found),
        cmocka_unit_test(test_a_key_without_a_meaning_is_told),
        cmocka_unit_test(test_the_footer_stops_where_its_rows_end),
        cmocka_unit_test(test_help_names_every_key),
        cmocka_unit_test(test_markdown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
