#include "scene.h"
#include "senbetsu/screens/sheet_screen.h"
#include "support/test.h"

static struct scene *scene;
static struct sheet_screen screen;

static int set_up(void **state)
{
    (void)state;
    struct standard standard = scene_standard();
    scene = scene_new(&standard, 60);
    sheet_screen_init(&screen, &scene->sheet);
    return 0;
}

static int tear_down(void **state)
{
    (void)state;
    scene_free(scene);
    return 0;
}

static struct sheet_effects press(enum key_kind kind, uint32_t code)
{
    return sheet_screen_key(&screen, (struct key){kind, code});
}

/* The loop's part: time passes until nothing is held any more. */
static struct sheet_effects settle(void)
{
    struct sheet_effects effects = {0};
    while (screen.reader.count > 0) {
        scene->port.now_ms += sheet_screen_timeout(&screen);
        effects = press(KEY_NONE, 0);
    }
    return effects;
}

static struct sheet_effects by_hand(const char *keys)
{
    struct sheet_effects effects = {0};
    for (; *keys != '\0'; keys++) {
        effects = *keys == '\r' ? press(KEY_RETURN, 0) : press(KEY_CHARACTER, (uint32_t)*keys);
        if (screen.reader.count > 0)
            effects = settle();
    }
    return effects;
}

static void burst(const char *keys)
{
    for (; *keys != '\0'; keys++) {
        scene->port.now_ms += 2;
        if (*keys == '\r')
            press(KEY_RETURN, 0);
        else
            press(KEY_CHARACTER, (uint32_t)*keys);
    }
}

static const struct fish *fish(int number)
{
    return &scene->sheet.fish[number - 1];
}

static void assert_no_scores(const struct fish *of)
{
    for (int i = 0; i < scene->standard.aspect_count; i++)
        assert_int_equal(of->judgement.scores[i], SCORE_NONE);
}

static void test_a_hand_scores(void **state)
{
    (void)state;
    press(KEY_CHARACTER, '4');
    assert_no_scores(fish(1));
    settle();
    assert_int_equal(fish(1)->judgement.scores[0], 4);
    assert_true(sheet_screen_timeout(&screen) > READER_GAP_MS);
    by_hand("52");
    assert_int_equal(fish(1)->judgement.scores[1], 5);
    assert_int_equal(fish(1)->judgement.scores[2], 2);
}

/* Two keys so close that the first is still held keep their order. */
static void test_fast_hands_lose_nothing(void **state)
{
    (void)state;
    press(KEY_CHARACTER, '4');
    press(KEY_CHARACTER, 'y');
    press(KEY_CHARACTER, '5');
    press(KEY_RETURN, 0);
    settle();
    assert_int_equal(fish(1)->judgement.scores[0], 4);
    assert_int_equal(fish(1)->judgement.scores[1], 5);
    assert_int_equal(fish(1)->judgement.faults, 1u << 6);
    assert_true(fish(1)->closed);
}

static void test_a_reader_fills_the_tag(void **state)
{
    (void)state;
    burst("392141000123456\r");
    settle();
    assert_string_equal(fish(1)->tag, "392141000123456");
    assert_no_scores(fish(1));
    assert_false(fish(1)->closed);
}

static void test_a_reader_after_a_hand(void **state)
{
    (void)state;
    by_hand("4");
    press(KEY_CHARACTER, '5');
    scene->port.now_ms += READER_GAP_MS;
    burst("392141000123456\r");
    settle();
    assert_int_equal(fish(1)->judgement.scores[0], 4);
    assert_int_equal(fish(1)->judgement.scores[1], 5);
    assert_int_equal(fish(1)->judgement.scores[2], SCORE_NONE);
    assert_string_equal(fish(1)->tag, "392141000123456");
}

/* Not a digit of it becomes a score, and the sentence stays until the next key. */
static void test_a_garbled_reading(void **state)
{
    (void)state;
    burst("39214100012\r");
    assert_no_scores(fish(1));
    assert_string_equal(fish(1)->tag, "");
    assert_false(fish(1)->closed);
    assert_non_null(strstr(scene->sheet.message, "sent 11 digits"));
    by_hand("4");
    assert_int_equal(fish(1)->judgement.scores[0], 4);
    assert_string_equal(scene->sheet.message, "");
}

static void test_a_reader_that_ends_late(void **state)
{
    (void)state;
    burst("392141000123456");
    assert_true(sheet_screen_timeout(&screen) > READER_GAP_MS);
    scene->port.now_ms += 2 * READER_GAP_MS;
    press(KEY_RETURN, 0);
    assert_string_equal(fish(1)->tag, "392141000123456");
    assert_false(fish(1)->closed);
}

static void test_a_reader_in_any_mode(void **state)
{
    (void)state;
    by_hand(".4");
    assert_int_equal(scene->sheet.mode, SHEET_LENGTH);
    burst("392141000123456\r");
    settle();
    assert_string_equal(fish(1)->tag, "392141000123456");
    assert_int_equal(fish(1)->length_mm, 0);
}

/* An obvious reject: 1 key. A good average fish: 1. An average one with one exception: 3. */
static void test_few_keys_a_fish(void **state)
{
    (void)state;
    by_hand("s");
    assert_true(fish(1)->closed);
    assert_int_equal(fish(1)->sent, VERDICT_REJECT);
    by_hand("\r");
    assert_true(fish(2)->closed);
    by_hand("P2\r");
    assert_true(fish(3)->closed);
    assert_int_equal(fish(3)->judgement.scores[3], 2);
}

static void test_the_keypad_alone(void **state)
{
    (void)state;
    by_hand("*1");
    assert_int_equal(fish(1)->sent, VERDICT_REJECT);
    by_hand("/42\r");
    assert_int_equal(fish(2)->judgement.scores[3], 2);
    assert_true(fish(2)->closed);
    by_hand(".4132\r");
    assert_int_equal(fish(3)->length_mm, 132);
    by_hand(".713");
    assert_int_equal(fish(3)->judgement.by_hand, VERDICT_KEEP);
    assert_true(by_hand(".0").leave);
    struct sheet_effects effects = by_hand(".840\r");
    assert_true(effects.next_bowl);
    assert_int_equal(effects.expected, 40);
}

static void test_pages_of_the_pick_layer(void **state)
{
    (void)state;
    struct standard standard = scene_largest_standard();
    scene_free(scene);
    scene = scene_new(&standard, 60);
    sheet_screen_init(&screen, &scene->sheet);
    by_hand("**");
    assert_int_equal(screen.page, 1);
    by_hand("3");
    assert_int_equal(fish(1)->judgement.faults, 1u << 14);
    assert_int_equal(screen.page, 0);
    by_hand("****");
    assert_int_equal(screen.page, 0);
}

static void test_help_comes_and_goes(void **state)
{
    (void)state;
    struct grid grid;
    struct text text;
    grid_init(&grid, 24, 80);
    text_init(&text);
    by_hand("?");
    sheet_screen_draw(&screen, &grid);
    grid_text(&grid, &text);
    assert_non_null(strstr(text.data, "any key: back"));
    press(KEY_RESIZED, 0);
    press(KEY_NONE, 0);
    assert_true(screen.help);
    by_hand("s");
    assert_false(screen.help);
    assert_int_equal(fish(1)->judgement.faults, 0);
    text_done(&text);
    grid_done(&grid);
}

/* A tag read while the help is up is not lost, and not half of it scored. */
static void test_a_reader_under_the_help(void **state)
{
    (void)state;
    by_hand("?");
    burst("392141000123456\r");
    settle();
    assert_string_equal(fish(1)->tag, "392141000123456");
    assert_no_scores(fish(1));
}

static void test_unknown_keys_alert(void **state)
{
    (void)state;
    assert_true(by_hand("Z").alert);
    assert_string_equal(scene->sheet.message, "No aspect has the letter Z.");
    assert_false(press(KEY_ESCAPE, 0).alert);
    assert_string_equal(scene->sheet.message, "This key does nothing here; ? shows the keys.");
    assert_true(by_hand("9").alert);
    assert_no_scores(fish(1));
}

static void assert_absent(const char *keys, const char *sentence)
{
    enum sheet_mode mode = scene->sheet.mode;
    assert_true(by_hand(keys).alert);
    assert_string_equal(scene->sheet.message, sentence);
    assert_int_equal(scene->sheet.mode, mode);
}

/* A key that does nothing says so, and leaves the layer as it is. */
static void test_keys_that_are_not_offered_say_so(void **state)
{
    (void)state;
    assert_absent("z", "No fault has the letter z.");
    assert_absent("#", "# does nothing here; ? shows the keys.");
    by_hand("*");
    assert_absent("+", "No fault has the number + here.");
    assert_absent("z", "z does nothing here; - goes back.");
    by_hand("-/");
    assert_absent("+", "No aspect has the number + here.");
    by_hand("-.");
    assert_absent("+", "+ does nothing here; - goes back.");
    assert_false(press(KEY_PAGE_UP, 0).alert);
    assert_string_equal(scene->sheet.message, "This key does nothing here; - goes back.");
    assert_no_scores(fish(1));
}

static void test_a_long_wait_reads_the_round_again(void **state)
{
    (void)state;
    scene->port.places = 7;
    press(KEY_NONE, 0);
    assert_int_equal(scene->sheet.round.places, 7);
}

static void test_too_small(void **state)
{
    (void)state;
    struct grid grid;
    struct text text;
    grid_init(&grid, 23, 80);
    text_init(&text);
    sheet_screen_draw(&screen, &grid);
    grid_text(&grid, &text);
    assert_non_null(strstr(text.data, "Nothing is lost."));
    text_done(&text);
    grid_done(&grid);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_a_hand_scores, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_fast_hands_lose_nothing, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_a_reader_fills_the_tag, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_a_reader_after_a_hand, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_a_garbled_reading, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_a_reader_that_ends_late, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_a_reader_in_any_mode, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_few_keys_a_fish, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_the_keypad_alone, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_pages_of_the_pick_layer, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_help_comes_and_goes, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_a_reader_under_the_help, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_unknown_keys_alert, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_keys_that_are_not_offered_say_so, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_a_long_wait_reads_the_round_again, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_too_small, set_up, tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
