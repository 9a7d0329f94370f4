/* The sheet's screen as text. tests/data/screens holds what each state must look like; read the
 * files over after SENBETSU_REGENERATE=1. */
#include "scene.h"
#include "senbetsu/screens/sheet_view.h"
#include "support/test.h"

#include <unistd.h>

static void look(const struct scene *scene, int rows, int columns, int page, const char *name)
{
    struct grid grid;
    char whole[128];
    grid_init(&grid, rows, columns);
    sheet_view_draw(&grid, &scene->sheet, &scene->letters, page);
    snprintf(whole, sizeof whole, "sheet-%s-%dx%d", name, columns, rows);
    assert_screen(&grid, whole);
    grid_done(&grid);
}

/* At the least size and at a comfortable one. */
static void look_at_both(const struct scene *scene, const char *name)
{
    look(scene, 24, 80, 0, name);
    look(scene, 40, 120, 0, name);
}

static struct scene *bowl(void)
{
    struct standard standard = scene_standard();
    return scene_new(&standard, 60);
}

static struct scene *middle_of_bowl(void)
{
    struct scene *scene = bowl();
    scene_judge(scene, "krrhkrlrrkhrkrrh");
    return scene;
}

static void test_fresh_bowl(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    look_at_both(scene, "fresh");
    scene_free(scene);
}

static void test_middle_of_bowl(void **state)
{
    (void)state;
    struct scene *scene = middle_of_bowl();
    for (int i = 0; i < 4; i++)
        scene_do(scene, COMMAND_SCORE, i + 1);
    scene_do(scene, COMMAND_FAULT, 6);
    look_at_both(scene, "middle");
    scene_free(scene);
}

static void type(struct scene *scene, const char *text)
{
    for (; *text != '\0'; text++)
        scene_do(scene, COMMAND_TYPE, *text);
    scene_do(scene, COMMAND_ACCEPT, 0);
}

static void test_earlier_fish(void **state)
{
    (void)state;
    struct scene *scene = middle_of_bowl();
    scene_do(scene, COMMAND_EARLIER, 0);
    scene_do(scene, COMMAND_ENTER_MODE, SHEET_LENGTH);
    type(scene, "132");
    scene_do(scene, COMMAND_ENTER_MODE, SHEET_TAG);
    type(scene, "392141000123456");
    scene_do(scene, COMMAND_ENTER_MODE, SHEET_NOTE);
    scene_do(scene, COMMAND_CHOOSE, 4);
    scene_do(scene, COMMAND_ASPECT, 4);
    look_at_both(scene, "earlier");
    scene_do(scene, COMMAND_ENTER_MODE, SHEET_VERDICT);
    scene_do(scene, COMMAND_CHOOSE, 1);
    look(scene, 24, 80, 0, "reason");
    scene_do(scene, COMMAND_CHOOSE, 2);
    scene_do(scene, COMMAND_EARLIER, 0);
    scene_do(scene, COMMAND_LATER, 0);
    look(scene, 24, 80, 0, "by-hand");
    scene_free(scene);
}

static void test_modes(void **state)
{
    static const struct {
        enum sheet_mode mode;
        const char *name;
    } modes[] = {
        {SHEET_PICK_FAULT, "pick-fault"},
        {SHEET_PICK_ASPECT, "pick-aspect"},
        {SHEET_MENU, "menu"},
        {SHEET_LENGTH, "length"},
        {SHEET_NOTE, "note"},
        {SHEET_VERDICT, "verdict"},
        {SHEET_NEXT_BOWL, "next-bowl"},
    };
    (void)state;
    struct scene *scene = middle_of_bowl();
    for (size_t i = 0; i < sizeof modes / sizeof modes[0]; i++) {
        scene_do(scene, COMMAND_ENTER_MODE, (int)modes[i].mode);
        if (modes[i].mode == SHEET_LENGTH)
            scene_do(scene, COMMAND_TYPE, '7');
        look(scene, 24, 80, 0, modes[i].name);
    }
    scene_free(scene);
}

static void test_largest_standard(void **state)
{
    (void)state;
    struct standard standard = scene_largest_standard();
    struct scene *scene = scene_new(&standard, 400);
    for (int i = 0; i < 216; i++)
        scene_judge(scene, i % 3 == 0 ? "k" : "r");
    for (int i = 0; i < 12; i++)
        scene_do(scene, COMMAND_SCORE, i % 10);
    scene_do(scene, COMMAND_FAULT, 23);
    scene_do(scene, COMMAND_FAULT, 5);
    look_at_both(scene, "largest");
    scene_do(scene, COMMAND_ENTER_MODE, SHEET_PICK_FAULT);
    look(scene, 24, 80, 2, "largest-pick");
    scene_do(scene, COMMAND_CANCEL, 0);
    look(scene, 30, 200, 0, "largest");
    scene_free(scene);
}

static void test_wide_characters(void **state)
{
    (void)state;
    struct standard standard = scene_standard();
    for (int i = 0; i < standard.aspect_count; i++)
        strcpy(standard.aspects[i].label, i % 2 == 0 ? "白地の白さと全体の清潔さ" : "体形");
    for (int i = 0; i < standard.fault_count; i++)
        strcpy(standard.faults[i].label, i % 2 == 0 ? "背骨の曲がりと尾筒の歪み" : "目欠");
    struct scene *scene = scene_new(&standard, 12);
    strcpy(scene->sheet.heading.spawning, "令和八年-十四");
    strcpy(scene->sheet.heading.judge, "鈴木愛子");
    strcpy(scene->sheet.heading.variety, "菊水");
    strcpy(scene->sheet.heading.pair, "紅白七 × 白金二");
    scene_judge(scene, "kr");
    look_at_both(scene, "wide");
    scene_free(scene);
}

static void test_second_look(void **state)
{
    (void)state;
    struct scene *scene = middle_of_bowl();
    scene_judge(scene, "hh");
    scene_second_look(scene);
    scene_judge(scene, "kr");
    scene_do(scene, COMMAND_SCORE, 5);
    scene_do(scene, COMMAND_SCORE, 1);
    look_at_both(scene, "second-look");
    scene_free(scene);
}

static void test_full_bowl_without_places(void **state)
{
    (void)state;
    struct standard standard = scene_standard();
    struct scene *scene = scene_new(&standard, 12);
    scene->port.places = -1;
    scene_judge(scene, "krrhkrrrrkhr");
    look(scene, 24, 80, 0, "full");
    scene_free(scene);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_fresh_bowl),       cmocka_unit_test(test_middle_of_bowl),
        cmocka_unit_test(test_earlier_fish),     cmocka_unit_test(test_modes),
        cmocka_unit_test(test_largest_standard), cmocka_unit_test(test_wide_characters),
        cmocka_unit_test(test_second_look),      cmocka_unit_test(test_full_bowl_without_places),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
