#include "scene.h"
#include "senbetsu/screens/side_panel.h"
#include "support/test.h"

static struct scene *bowl(void)
{
    struct standard standard = scene_standard();
    return scene_new(&standard, 60);
}

static void assert_edge(const struct scene *scene, const char *expected)
{
    assert_part(scene, side_panel_draw, EDGE_ROWS, EDGE_COLUMNS, expected);
}

static void test_counts_bowl_and_round(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    scene_judge(scene, "krhrr");
    assert_edge(scene, "bowl       5 of 60\nK 1 H 1 R 3\n\n"
                       "round     5 of 240\nK 1 H 1 R 3\n\n"
                       "360 fish an hour\nplaces     1 of 20\nno cut line yet\n");
    scene_free(scene);
}

static void test_without_places_and_numbers(void **state)
{
    (void)state;
    struct standard standard = scene_standard();
    struct scene *scene = scene_new(&standard, 0);
    scene->port.places = -1;
    scene_judge(scene, "r");
    assert_edge(scene, "bowl             1\nK 0 H 0 R 1\n\n"
                       "round            1\nK 0 H 0 R 1\n\n"
                       "pace not known\n\n\n");
    scene_free(scene);
}

static void assert_cut(struct scene *scene, struct cut cut, const char *expected)
{
    char whole[512];
    snprintf(whole, sizeof whole,
             "bowl       0 of 60\nK 0 H 0 R 0\n\nround     0 of 240\nK 0 H 0 R 0\n\n"
             "pace not known\nplaces     0 of 20\n%s\n",
             expected);
    scene->sheet.cut = cut;
    assert_edge(scene, whole);
}

static void test_tells_the_cut_line(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    int64_t unit = score_unit(&scene->standard);
    assert_cut(scene, (struct cut){.kind = CUT_UNKNOWN}, "no cut line yet");
    assert_cut(scene, (struct cut){.kind = CUT_ALL}, "keep all that pass");
    assert_cut(scene, (struct cut){.kind = CUT_NONE}, "keep no more");
    assert_cut(scene, (struct cut){.kind = CUT_AT, .score = 100 * unit}, "keep from 100.0 up");
    assert_cut(scene, (struct cut){.kind = CUT_AT, .score = 200 * unit / 3}, "keep from 66.7 up");
    scene_free(scene);
}

static void test_says_more_where_there_is_room(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    scene_judge(scene, "krk");
    assert_part(scene, side_panel_draw, 14, 24,
                "bowl             3 of 60\nK 2  H 0  R 1\nR·······················\n\n"
                "round           3 of 240\nK 2  H 0  R 1\n························\n\n"
                "pace not known\nplaces           2 of 20\nno cut line yet\n\n\n\n");
    scene_free(scene);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_counts_bowl_and_round),
        cmocka_unit_test(test_without_places_and_numbers),
        cmocka_unit_test(test_tells_the_cut_line),
        cmocka_unit_test(test_says_more_where_there_is_room),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
