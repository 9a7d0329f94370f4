#include "scene.h"
#include "senbetsu/screens/fish_front.h"
#include "support/test.h"

static void draw(struct grid *grid, struct area area, const struct sheet *sheet)
{
    fish_front_draw(grid, area, sheet, 1);
}

static struct scene *bowl(void)
{
    struct standard standard = scene_standard();
    return scene_new(&standard, 60);
}

static void test_number_and_state(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    assert_part(scene, draw, 6, 36, "fish\n  ██    11 of 11 open\n ███\n  ██\n  ██\n ████\n");
    scene_judge(scene, "h");
    scene_do(scene, COMMAND_EARLIER, 0);
    scene->sheet.fish[0].length_mm = 132;
    strcpy(scene->sheet.fish[0].tag, "392141000123456");
    assert_part(scene, draw, 6, 36,
                "fish  132 mm  tag 392141000123456\n  ██    0 of 11 open\n ███    HOLD\n"
                "  ██    50.0\n  ██\n ████\n");
    scene_free(scene);
}

static void test_fish_of_a_second_look(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    scene_judge(scene, "hr");
    scene_second_look(scene);
    assert_part(scene, draw, 6, 36,
                "fish of bowl 3\n  ██    11 of 11 open\n ███\n  ██\n  ██\n ████\n");
    scene_free(scene);
}

/* A number too long for large letters is still there. */
static void test_long_numbers(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    scene->sheet.fish[0].number = 999999;
    assert_part(scene, draw, 6, 36, "fish\n        11 of 11 open\n\n999999\n\n\n");
    scene_free(scene);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_number_and_state),
        cmocka_unit_test(test_fish_of_a_second_look),
        cmocka_unit_test(test_long_numbers),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
