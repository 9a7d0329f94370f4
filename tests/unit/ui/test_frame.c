#include "senbetsu/ui/frame.h"
#include "support/test.h"

static const struct key_row key_rows[] = {{"Enter", "open", "open it", .handler = NULL}};
static const struct key_table keys = KEY_TABLE("A list", key_rows);

static void draw(struct grid *grid, const struct frame *frame, struct text *out)
{
    struct body body = frame_draw(grid, frame);
    assert_int_equal(body.top, 2);
    assert_int_equal(body.rows, grid->rows - 7);
    text_clear(out);
    grid_text(grid, out);
}

static void test_title_message_and_keys(void **state)
{
    (void)state;
    struct grid grid;
    struct text text;
    struct frame frame = {.title = "A long title that has to give way to what stands beside it",
                          .beside = "judge: Aoki",
                          .message = "The ledger is busy.",
                          .alert = true,
                          .keys = &keys};
    grid_init(&grid, 24, 40);
    text_init(&text);
    draw(&grid, &frame, &text);
    assert_non_null(strstr(text.data, " judge: Aoki\n"));
    assert_non_null(strstr(text.data, "\n The ledger is busy.\n"));
    assert_non_null(strstr(text.data, "Enter open"));
    assert_int_equal(grid.cells[(24 - 4) * 40 + 1].style, STYLE_ALERT);
    frame.message = "The ledger is in the hands of another program; nothing was lost, try again.";
    draw(&grid, &frame, &text);
    assert_non_null(strstr(text.data, "\n The ledger is in the hands of another\n program; "));
    frame.beside = frame.message = NULL;
    draw(&grid, &frame, &text);
    assert_null(strstr(text.data, "busy"));
    text_done(&text);
    grid_done(&grid);
}

static void assert_notice(int rows, int columns, bool too_small)
{
    struct grid grid;
    struct text text;
    grid_init(&grid, rows, columns);
    text_init(&text);
    assert_int_equal(frame_too_small(&grid, GRID_MIN_ROWS), too_small);
    grid_text(&grid, &text);
    assert_int_equal(strstr(text.data, "80 × 24") != NULL, too_small);
    assert_int_equal(strstr(text.data, "Nothing is lost.") != NULL, too_small);
    text_done(&text);
    grid_done(&grid);
}

static void test_says_so_below_the_least_size(void **state)
{
    (void)state;
    assert_notice(24, 80, false);
    assert_notice(23, 80, true);
    assert_notice(24, 79, true);
    assert_notice(5, 20, true);
}

static void test_survives_any_size(void **state)
{
    (void)state;
    for (int size = 0; size < 5; size++) {
        struct grid grid;
        grid_init(&grid, size, size);
        assert_true(frame_too_small(&grid, GRID_MIN_ROWS));
        grid_done(&grid);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_title_message_and_keys),
        cmocka_unit_test(test_says_so_below_the_least_size),
        cmocka_unit_test(test_survives_any_size),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
