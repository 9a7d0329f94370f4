#include "scene.h"
#include "senbetsu/screens/sheet_lists.h"
#include "support/test.h"

typedef void (*draw_list)(struct grid *grid, struct area area, const struct sheet *sheet,
                          const struct letters *letters, int page);

static struct text drawn(const struct scene *scene, draw_list draw, int rows, int columns, int page)
{
    struct grid grid;
    struct text text;
    grid_init(&grid, rows, columns);
    text_init(&text);
    draw(&grid, (struct area){0, 0, rows, columns}, &scene->sheet, &scene->letters, page);
    grid_text(&grid, &text);
    grid_done(&grid);
    return text;
}

static void assert_shows(const struct scene *scene, draw_list draw, int rows, int columns,
                         const char *part)
{
    struct text text = drawn(scene, draw, rows, columns, 0);
    if (strstr(text.data, part) == NULL)
        fail_msg("\"%s\" is not in\n%s", part, text.data);
    text_done(&text);
}

/* Wherever the hand goes and however few rows there are, its aspect is in sight. */
static void test_the_hand_is_always_in_sight(void **state)
{
    (void)state;
    struct standard standard = scene_largest_standard();
    struct scene *scene = scene_new(&standard, 60);
    for (int aspect = 0; aspect < STANDARD_ASPECTS; aspect++) {
        char hand[64];
        scene->sheet.aspect = aspect;
        snprintf(hand, sizeof hand, "▸ %c Aspect number %d of", scene->letters.aspects[aspect],
                 aspect + 1);
        for (int rows = 5; rows <= STANDARD_ASPECTS; rows++)
            assert_shows(scene, aspects_draw, rows, 60, hand);
    }
    scene_free(scene);
}

static void test_tells_how_many_are_out_of_sight(void **state)
{
    (void)state;
    struct standard standard = scene_largest_standard();
    struct scene *scene = scene_new(&standard, 60);
    scene->sheet.aspect = 12;
    assert_shows(scene, aspects_draw, 11, 40, "  ↑ 8 more");
    assert_shows(scene, aspects_draw, 11, 40, "  ↓ 7 more");
    scene_free(scene);
}

static void test_scores_and_floors(void **state)
{
    (void)state;
    struct standard standard = scene_standard();
    struct scene *scene = scene_new(&standard, 60);
    scene_do(scene, COMMAND_SCORE, 1);
    scene_do(scene, COMMAND_SCORE, 5);
    assert_shows(scene, aspects_draw, 11, 35, "  B Body outline       1! min 2 ×18\n");
    assert_shows(scene, aspects_draw, 11, 35, "  T Tail tube          5         ×8\n");
    assert_shows(scene, aspects_draw, 11, 35, "▸ H Head shape         ·         ×8\n");
    assert_shows(scene, aspects_draw, 11, 60, "[1] 2  3  4  5");
    assert_shows(scene, aspects_draw, 11, 24, "  B Body outline      1!\n");
    scene_free(scene);
}

/* All of them, with letters and effects, also where there are more than rows. */
static void test_every_fault_is_shown(void **state)
{
    (void)state;
    struct standard standard = scene_largest_standard();
    struct scene *scene = scene_new(&standard, 60);
    assert_int_equal(fault_columns(&standard, 26), 1);
    assert_int_equal(fault_columns(&standard, 11), 3);
    for (int i = 0; i < STANDARD_FAULTS; i++) {
        char start[16];
        snprintf(start, sizeof start, "%c %d ", scene->letters.faults[i], i + 1);
        if (scene->letters.faults[i] != '\0')
            assert_shows(scene, faults_draw, 11, 60, start);
    }
    scene_free(scene);
}

static void test_faults_seen(void **state)
{
    (void)state;
    struct standard standard = scene_standard();
    struct scene *scene = scene_new(&standard, 60);
    scene_do(scene, COMMAND_FAULT, 7);
    assert_shows(scene, faults_draw, 10, 24, " s Bent spine (magari) R\n");
    assert_shows(scene, faults_draw, 10, 24, "✓f Nose line red    -5.5\n");
    assert_shows(scene, faults_draw, 10, 40, "reject\n");
    assert_shows(scene, faults_draw, 10, 40, "hold\n");
    scene_free(scene);
}

/* In the pick layers every page names its twelve, and the letters step back. */
static void test_numbers_while_picking(void **state)
{
    (void)state;
    struct standard standard = scene_largest_standard();
    struct scene *scene = scene_new(&standard, 60);
    scene->sheet.mode = SHEET_PICK_FAULT;
    struct text first = drawn(scene, faults_draw, 26, 40, 0);
    assert_non_null(strstr(first.data, " 1 1 of"));
    assert_non_null(strstr(first.data, " + 12 of"));
    assert_non_null(strstr(first.data, "   13 of"));
    struct text third = drawn(scene, faults_draw, 26, 40, 2);
    assert_non_null(strstr(third.data, "   24 of"));
    assert_non_null(strstr(third.data, " 2 26 of"));
    text_done(&first);
    text_done(&third);
    scene->sheet.mode = SHEET_PICK_ASPECT;
    assert_shows(scene, aspects_draw, 24, 60, "  0 Aspect number 10");
    assert_shows(scene, faults_draw, 26, 40, " o 1 of");
    scene_free(scene);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_the_hand_is_always_in_sight),
        cmocka_unit_test(test_tells_how_many_are_out_of_sight),
        cmocka_unit_test(test_scores_and_floors),
        cmocka_unit_test(test_every_fault_is_shown),
        cmocka_unit_test(test_faults_seen),
        cmocka_unit_test(test_numbers_while_picking),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
