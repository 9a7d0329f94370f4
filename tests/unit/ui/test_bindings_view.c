#include "senbetsu/ui/bindings.h"
#include "support/test.h"

static struct text drawn(void (*draw)(struct grid *grid, enum context context), int columns,
                         enum context context)
{
    struct grid grid;
    struct text text;
    grid_init(&grid, GRID_MIN_ROWS, columns);
    text_init(&text);
    draw(&grid, context);
    grid_text(&grid, &text);
    grid_done(&grid);
    return text;
}

static void footer(struct grid *grid, enum context context)
{
    footer_draw(grid, 0, 2, context);
}

/* At the least size every help line and its keys can be read to the end. */
static void test_help_has_every_line(void **state)
{
    (void)state;
    for (int context = 0; context < CONTEXT_COUNT; context++) {
        struct text text = drawn(help_draw, GRID_MIN_COLUMNS, (enum context)context);
        assert_non_null(strstr(text.data, context_title((enum context)context)));
        assert_non_null(strstr(text.data, "any key: back"));
        for (int i = 0; i < binding_count; i++) {
            const struct binding *row = &bindings[i];
            if (row->context != (enum context)context)
                continue;
            if (row->help != NULL && strstr(text.data, row->help) == NULL)
                fail_msg("help of context %d does not show \"%s\"", context, row->help);
            if (row->name != NULL && strstr(text.data, row->name) == NULL)
                fail_msg("help of context %d does not show the key %s", context, row->name);
        }
        text_done(&text);
    }
}

static void test_footer_fits(void **state)
{
    (void)state;
    for (int context = 0; context < CONTEXT_COUNT; context++) {
        struct text text = drawn(footer, GRID_MIN_COLUMNS, (enum context)context);
        for (int i = 0; i < binding_count; i++) {
            char part[64];
            if (bindings[i].context != (enum context)context || bindings[i].label == NULL)
                continue;
            snprintf(part, sizeof part, "%s %s", bindings[i].name, bindings[i].label);
            if (strstr(text.data, part) == NULL)
                fail_msg("the footer of context %d has no room for \"%s\"", context, part);
        }
        text_done(&text);
    }
}

static void test_footer_stops_where_rows_end(void **state)
{
    (void)state;
    struct grid grid;
    struct text text;
    grid_init(&grid, 3, 30);
    text_init(&text);
    footer_draw(&grid, 1, 1, CONTEXT_SHEET);
    grid_text(&grid, &text);
    assert_string_equal(text.data, "\n0–9 score  Enter typical\n\n");
    text_done(&text);
    grid_done(&grid);
}

static void test_markdown(void **state)
{
    (void)state;
    struct text text;
    text_init(&text);
    bindings_markdown(&text);
    assert_non_null(strstr(text.data, "### At the fish\n\n| key | what it does |\n|---|---|\n"
                                      "| `0–9` | "));
    assert_non_null(strstr(text.data, "| `-, u` | take the last key back"));
    text_done(&text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_help_has_every_line),
        cmocka_unit_test(test_footer_fits),
        cmocka_unit_test(test_footer_stops_where_rows_end),
        cmocka_unit_test(test_markdown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
