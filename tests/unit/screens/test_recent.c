#include "scene.h"
#include "senbetsu/screens/recent.h"
#include "support/test.h"

static struct scene *bowl(void)
{
    struct standard standard = scene_standard();
    return scene_new(&standard, 60);
}

static void test_nearest_first(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    assert_part(scene, recent_draw, 2, 40, "\n\n");
    scene_judge(scene, "krhl");
    assert_part(scene, recent_draw, 5, 40,
                "    4 R Body outline (taikei) under 2\n    3 H 50.0\n"
                "    2 R Bent spine (magari)\n    1 K 75.0\n\n");
    assert_part(scene, recent_draw, 2, 24, "    4 R Body outline (…\n    3 H 50.0\n");
    scene_free(scene);
}

static void test_before_the_one_in_front(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    scene_judge(scene, "kh");
    scene_do(scene, COMMAND_EARLIER, 0);
    assert_part(scene, recent_draw, 2, 40, "    1 K 75.0\n\n");
    scene_free(scene);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_nearest_first),
        cmocka_unit_test(test_before_the_one_in_front),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
