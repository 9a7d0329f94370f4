#include "senbetsu/ui/frame.h"
#include "support/views.h"

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
                          .context = CONTEXT_HOME};
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

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_title_message_and_keys)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
