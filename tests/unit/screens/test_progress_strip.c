#include "scene.h"
#include "senbetsu/screens/progress_strip.h"
#include "support/test.h"

static struct scene *bowl_of(int expected)
{
    struct standard standard = scene_standard();
    return scene_new(&standard, expected);
}

static void test_shows_the_whole_bowl(void **state)
{
    (void)state;
    struct scene *scene = bowl_of(12);
    scene_judge(scene, "krhlk");
    assert_part(scene, progress_strip_draw, 2, 30, "KRHRK ····· ··\n      ▲  10\n");
    scene_do(scene, COMMAND_EARLIER, 0);
    assert_part(scene, progress_strip_draw, 2, 30, "KRHRK ····· ··\n    ▲    10\n");
    scene_free(scene);
}

static void test_grows_where_no_number_is_known(void **state)
{
    (void)state;
    struct scene *scene = bowl_of(0);
    assert_part(scene, progress_strip_draw, 2, 30, "·\n▲\n");
    scene_judge(scene, "kr");
    assert_part(scene, progress_strip_draw, 2, 30, "KR·\n  ▲\n");
    scene_free(scene);
}

/* A bowl that just fits is not cut. */
static void test_scrolls_around_the_fish(void **state)
{
    (void)state;
    struct scene *scene = bowl_of(30);
    assert_part(scene, progress_strip_draw, 2, 35,
                "····· ····· ····· ····· ····· ·····\n▲        10          20          30\n");
    assert_part(scene, progress_strip_draw, 2, 34,
                "      ····· ····· ·····        15▸\n      ▲        10\n");
    scene_judge(scene, "rrrrrrrrrrrrrrr");
    assert_part(scene, progress_strip_draw, 2, 34,
                "◂5    RRRRR RRRRR ·····        10▸\n"
                "         10       ▲  20\n");
    scene_judge(scene, "rrrrrrrrrrrrrr");
    assert_part(scene, progress_strip_draw, 2, 34,
                "◂15   RRRRR RRRRR RRRR·\n"
                "         20           ▲\n");
    scene_free(scene);
}

static void test_second_look_has_no_numbers(void **state)
{
    (void)state;
    struct scene *scene = bowl_of(60);
    scene_judge(scene, "hhhhhhhhhhhh");
    scene_second_look(scene);
    assert_part(scene, progress_strip_draw, 2, 30, "····· ····· ··\n▲\n");
    scene_free(scene);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_shows_the_whole_bowl),
        cmocka_unit_test(test_grows_where_no_number_is_known),
        cmocka_unit_test(test_scrolls_around_the_fish),
        cmocka_unit_test(test_second_look_has_no_numbers),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
