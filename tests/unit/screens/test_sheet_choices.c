#include "scene.h"
#include "senbetsu/screens/sheet_bindings.h"
#include "senbetsu/screens/sheet_choices.h"
#include "support/test.h"

static struct text drawn(const struct scene *scene)
{
    struct grid grid;
    struct text text;
    grid_init(&grid, 11, 60);
    text_init(&text);
    choices_draw(&grid, (struct area){0, 0, 11, 60}, &scene->sheet);
    grid_text(&grid, &text);
    grid_done(&grid);
    return text;
}

static void assert_offered(const struct scene *scene, int digit, const char *words)
{
    char line[128];
    snprintf(line, sizeof line, "  %d   %s\n", digit, words);
    struct text text = drawn(scene);
    if (strstr(text.data, line) == NULL)
        fail_msg("\"%d %s\" is not in\n%s", digit, words, text.data);
    text_done(&text);
}

static struct scene *in_mode(enum sheet_mode mode)
{
    struct standard standard = scene_standard();
    struct scene *scene = scene_new(&standard, 60);
    scene->sheet.mode = mode;
    return scene;
}

static void test_only_where_there_are_choices(void **state)
{
    (void)state;
    for (int mode = 0; mode < SHEET_MODE_COUNT; mode++) {
        bool choice = mode == SHEET_MENU || mode == SHEET_NOTE || mode == SHEET_VERDICT ||
                      mode == SHEET_REASON;
        assert_int_equal(choices_offered((enum sheet_mode)mode), choice);
    }
}

/* Every row of the table that the menu's keys come from, to its last letter. */
static void test_the_menu_is_its_table(void **state)
{
    (void)state;
    struct scene *scene = in_mode(SHEET_MENU);
    struct text text = drawn(scene);
    for (int i = 0; i < binding_count; i++)
        if (bindings[i].context == CONTEXT_SHEET_MENU && bindings[i].help != NULL)
            assert_non_null(strstr(text.data, bindings[i].help));
    text_done(&text);
    scene_free(scene);
}

static void test_ready_notes(void **state)
{
    (void)state;
    struct scene *scene = in_mode(SHEET_NOTE);
    for (int digit = 1; digit <= 9; digit++)
        if (sheet_ready(&scene->sheet, digit) != NULL)
            assert_offered(scene, digit, sheet_ready(&scene->sheet, digit));
    assert_offered(scene, 0, "type it");
    scene_free(scene);
}

static void test_ready_reasons(void **state)
{
    (void)state;
    struct scene *scene = in_mode(SHEET_REASON);
    for (int verdict = VERDICT_KEEP; verdict < VERDICT_COUNT; verdict++) {
        scene->sheet.chosen = (enum verdict)verdict;
        for (int digit = 1; digit <= 9; digit++)
            if (sheet_ready(&scene->sheet, digit) != NULL)
                assert_offered(scene, digit, sheet_ready(&scene->sheet, digit));
    }
    scene_free(scene);
}

/* The digits do what the screen says they do. */
static void test_verdicts(void **state)
{
    (void)state;
    for (int digit = 1; digit <= 3; digit++) {
        struct scene *scene = in_mode(SHEET_VERDICT);
        scene_do(scene, COMMAND_CHOOSE, digit);
        enum verdict chosen = scene->sheet.chosen;
        scene->sheet.mode = SHEET_VERDICT;
        assert_offered(scene, digit, verdict_terms[chosen].word);
        scene_free(scene);
    }
}

static void test_a_hand_verdict_can_be_taken_away(void **state)
{
    (void)state;
    struct scene *scene = in_mode(SHEET_VERDICT);
    struct text without = drawn(scene);
    assert_null(strstr(without.data, "take the verdict"));
    scene->sheet.fish[0].judgement.by_hand = VERDICT_KEEP;
    assert_offered(scene, 0, "take the verdict by hand away");
    text_done(&without);
    scene_free(scene);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_only_where_there_are_choices),
        cmocka_unit_test(test_the_menu_is_its_table),
        cmocka_unit_test(test_ready_notes),
        cmocka_unit_test(test_ready_reasons),
        cmocka_unit_test(test_verdicts),
        cmocka_unit_test(test_a_hand_verdict_can_be_taken_away),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
