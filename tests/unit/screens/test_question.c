#include "scene.h"
#include "senbetsu/screens/question.h"
#include "support/test.h"

static struct scene *scene;

static int set_up(void **state)
{
    (void)state;
    struct standard standard = scene_standard();
    scene = scene_new(&standard, 60);
    return 0;
}

static int tear_down(void **state)
{
    (void)state;
    scene_free(scene);
    return 0;
}

static void draw(struct grid *grid, struct area area, const struct sheet *sheet)
{
    question_draw(grid, area.row, sheet);
}

static void assert_question(const char *expected)
{
    assert_part(scene, draw, 1, 80, expected);
}

static void test_asks_for_the_aspect_in_front(void **state)
{
    (void)state;
    assert_question("▸ Body outline (taikei)   1  2 (3) 4  5   weight 18  under 2: reject\n");
    scene_do(scene, COMMAND_DOWN, 0);
    assert_question("▸ Tail tube (ozutsu)   1  2 (3) 4  5   weight 8\n");
    scene_do(scene, COMMAND_SCORE, 5);
    scene_do(scene, COMMAND_UP, 0);
    assert_question("▸ Tail tube (ozutsu)   1  2  3  4 [5]  weight 8\n");
}

static void test_a_fish_that_is_done(void **state)
{
    (void)state;
    scene_judge(scene, "h");
    scene_do(scene, COMMAND_EARLIER, 0);
    assert_question("▸ Done. Enter: to the front; capital letter or /: an aspect to correct\n");
    scene_do(scene, COMMAND_ASPECT, 1);
    assert_question("▸ Done. To correct: Tail tube (ozutsu)   1  2 [3] 4  5   weight 8\n");
}

static void test_other_modes(void **state)
{
    static const struct {
        enum sheet_mode mode;
        const char *expected;
    } modes[] = {
        {SHEET_PICK_FAULT, "▸ Fault, by the number beside it\n"},
        {SHEET_PICK_ASPECT, "▸ Aspect, by the number beside it\n"},
        {SHEET_MENU, "▸ What is to be done?\n"},
        {SHEET_LENGTH, "▸ Length in mm: _\n"},
        {SHEET_TAG, "▸ Tag: _\n"},
        {SHEET_NOTE, "▸ Which note?\n"},
        {SHEET_NOTE_TEXT, "▸ Note: _\n"},
        {SHEET_VERDICT, "▸ Which verdict by hand?\n"},
        {SHEET_REASON, "▸ HOLD by hand, because:\n"},
        {SHEET_REASON_TEXT, "▸ HOLD by hand, because: _\n"},
        {SHEET_NEXT_BOWL, "▸ Fish in the next bowl (Enter: 60 again): _\n"},
    };
    (void)state;
    scene->sheet.chosen = VERDICT_HOLD;
    for (size_t i = 0; i < sizeof modes / sizeof modes[0]; i++) {
        scene->sheet.mode = modes[i].mode;
        assert_question(modes[i].expected);
    }
    scene->sheet.expected = 0;
    assert_question("▸ Fish in the next bowl (Enter: not known): _\n");
}

/* Of a long line the end is shown: that is where the typing happens. */
static void test_long_lines_show_their_end(void **state)
{
    (void)state;
    scene->sheet.mode = SHEET_NOTE_TEXT;
    for (int i = 0; i < 50; i++)
        strcat(scene->sheet.line, "白");
    strcat(scene->sheet.line, "end");
    struct grid grid;
    struct text text;
    grid_init(&grid, 1, 80);
    text_init(&text);
    question_draw(&grid, 0, &scene->sheet);
    grid_text(&grid, &text);
    assert_non_null(strstr(text.data, "▸ Note: 白"));
    assert_non_null(strstr(text.data, "白end_\n"));
    text_done(&text);
    grid_done(&grid);
}

/* The whole row is where the hand is. */
static void test_the_row_stands_out(void **state)
{
    (void)state;
    struct grid grid;
    grid_init(&grid, 1, 80);
    question_draw(&grid, 0, &scene->sheet);
    for (int i = 0; i < 80; i++)
        assert_int_equal(grid.cells[i].style, STYLE_CURSOR);
    grid_done(&grid);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_asks_for_the_aspect_in_front, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_a_fish_that_is_done, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_other_modes, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_long_lines_show_their_end, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_the_row_stands_out, set_up, tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
