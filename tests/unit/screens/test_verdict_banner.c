#include "scene.h"
#include "senbetsu/screens/mark.h"
#include "senbetsu/screens/verdict_banner.h"
#include "senbetsu/ui/big.h"
#include "support/test.h"

static struct scene *bowl(void)
{
    struct standard standard = scene_standard();
    return scene_new(&standard, 60);
}

/* The caption, and the style in which the whole plate stands. */
static void assert_plate(const struct scene *scene, const char *caption, enum style style)
{
    struct grid grid;
    struct text text;
    grid_init(&grid, 1 + BIG_ROWS, PLATE_COLUMNS);
    text_init(&text);
    verdict_banner_draw(&grid, (struct area){0, 0, grid.rows, grid.columns}, &scene->sheet);
    grid_text(&grid, &text);
    *strchr(text.data, '\n') = '\0';
    assert_string_equal(text.data, caption);
    for (int i = 0; i < grid.rows * grid.columns; i++)
        assert_int_equal(grid.cells[i].style, style);
    text_done(&text);
    grid_done(&grid);
}

static void test_empty_before_the_first_verdict(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    assert_plate(scene, "", STYLE_PLAIN);
    scene_free(scene);
}

static void test_says_which_fish_and_why(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    scene_judge(scene, "k");
    assert_plate(scene, " fish 1                        75.0 points", STYLE_KEEP);
    scene_judge(scene, "h");
    assert_plate(scene, " fish 2                        50.0 points", STYLE_HOLD);
    scene_judge(scene, "r");
    assert_plate(scene, " fish 3                Bent spine (magari)", STYLE_REJECT);
    scene_judge(scene, "l");
    assert_plate(scene, " fish 4  0.0, Body outline (taikei) under…", STYLE_REJECT);
    scene_free(scene);
}

static void test_second_look_names_the_bowl(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    scene_judge(scene, "rh");
    scene_second_look(scene);
    scene_judge(scene, "k");
    assert_plate(scene, " fish 2 of bowl 3              75.0 points", STYLE_KEEP);
    scene_free(scene);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_empty_before_the_first_verdict),
        cmocka_unit_test(test_says_which_fish_and_why),
        cmocka_unit_test(test_second_look_names_the_bowl),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
