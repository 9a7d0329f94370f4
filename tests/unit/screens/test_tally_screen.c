#include "senbetsu/screens/tally_screen.h"
#include "senbetsu/screens/tally_view.h"
#include "support/fake_tally.h"
#include "support/test.h"
#include "support/views.h"

static struct tally_screen open_screen(struct fake_tally *fake)
{
    struct tally_screen screen;
    tally_screen_init(&screen, &fake->sheet);
    return screen;
}

/* Characters as keys; '\n' is Enter. */
static void type(struct tally_screen *screen, const char *keys)
{
    for (; *keys != '\0'; keys++)
        tally_screen_key(screen, *keys == '\n' ? (struct key){KEY_RETURN, 0} : key_of(*keys));
}

static void test_letters_and_digits_name_reasons(void **state)
{
    struct fake_tally *fake = *state;
    struct tally_screen screen = open_screen(fake);
    const char letters[] = {screen.letters.faults[1], '\0'};
    type(&screen, "1");
    assert_string_equal(fake->sheet.now.last.reason, "spine");
    type(&screen, letters);
    assert_string_equal(fake->sheet.now.last.reason, "jaw");
    type(&screen, "0n");
    assert_string_equal(fake->sheet.now.last.reason, "");
    type(&screen, "+\n m");
    assert_int_equal(fake->sheet.tallied.rejected.number, 4);
    assert_int_equal(fake->sheet.tallied.kept.number, 3);
    assert_int_equal(fake->sheet.tallied.dead.number, 1);
    assert_true(tally_screen_key(&screen, key_of('4')).alert);
    assert_true(tally_screen_key(&screen, key_of('V')).alert);
}

/* Everything with the keys of a number pad. */
static void test_the_keypad_suffices(void **state)
{
    struct fake_tally *fake = *state;
    struct tally_screen screen = open_screen(fake);
    type(&screen, "*48+52+5");
    assert_int_equal(fake->sheet.mode, TALLY_SIZE);
    type(&screen, "-50\n");
    assert_int_equal(fake->sheet.now.scoop.fish, 150);
    type(&screen, "+0*+1-.1");
    assert_int_equal(fake->sheet.tallied.kept.number, 51);
    assert_int_equal(fake->sheet.tallied.rejected.number, 50);
    assert_int_equal(fake->sheet.tallied.dead.number, 1);
    type(&screen, ".2");
    assert_int_equal(fake->sheet.mode, TALLY_SIZE);
    type(&screen, "-");
    assert_int_equal(fake->sheet.mode, TALLY_COUNTING);
    type(&screen, ".9");
    assert_true(screen.help);
    type(&screen, "5");
    assert_false(screen.help);
    assert_int_equal(fake->sheet.tallied.rejected.number, 50);
    type(&screen, ".-.");
    assert_true(tally_screen_key(&screen, key_of('0')).leave);
}

/* The caller opens it; the tally stays as it was. */
static void test_other_screens_are_asked_for(void **state)
{
    struct fake_tally *fake = *state;
    struct tally_screen screen = open_screen(fake);
    type(&screen, "g");
    assert_int_equal(screen.wanted, TALLY_FIRST_LOOK);
    type(&screen, "+");
    assert_int_equal(screen.wanted, 0);
    type(&screen, ".3");
    assert_int_equal(screen.wanted, TALLY_FIRST_LOOK);
    type(&screen, "t");
    assert_int_equal(screen.wanted, TALLY_SAMPLES);
    type(&screen, ".4");
    assert_int_equal(screen.wanted, TALLY_SAMPLES);
    assert_int_equal(fake->sheet.mode, TALLY_COUNTING);
    assert_int_equal(fake->sheet.tallied.kept.number, 1);
}

static void test_further_reasons_by_page(void **state)
{
    struct fake_tally *fake = *state;
    struct standard *standard = &fake->sheet.standard;
    standard->fault_count = STANDARD_FAULTS;
    for (int i = 0; i < STANDARD_FAULTS; i++)
        snprintf(standard->faults[i].code, sizeof standard->faults[i].code, "fault%d", i + 1);
    struct tally_screen screen = open_screen(fake);
    type(&screen, "/1");
    assert_string_equal(fake->sheet.now.last.reason, "fault10");
    type(&screen, "/0");
    assert_string_equal(fake->sheet.now.last.reason, "fault19");
    type(&screen, "//7");
    assert_string_equal(fake->sheet.now.last.reason, "fault26");
    type(&screen, "///2");
    assert_string_equal(fake->sheet.now.last.reason, "fault11");
    assert_int_equal(fake->sheet.mode, TALLY_COUNTING);
}

/* By number and at the fish: what does nothing says so, and nothing is recorded. */
static void test_a_wrong_key_is_named(void **state)
{
    struct fake_tally *fake = *state;
    struct tally_screen screen = open_screen(fake);
    type(&screen, ".");
    assert_true(tally_screen_key(&screen, key_of('7')).alert);
    assert_string_equal(fake->sheet.message, "7 does nothing here; 9 shows the keys.");
    assert_int_equal(fake->sheet.mode, TALLY_MENU);
    type(&screen, "-");
    assert_true(tally_screen_key(&screen, key_of('Z')).alert);
    assert_string_equal(fake->sheet.message, "Z does nothing here; ? shows the keys.");
    assert_int_equal(fake->stroke_count, 0);
}

/* The letters of the tally itself are none that a standard may give to a fault. */
static void test_letters_are_shared_out(void **state)
{
    (void)state;
    for (const char *letter = STANDARD_SMALL_LETTERS; *letter != '\0'; letter++)
        assert_null(binding_find(CONTEXT_TALLY, key_of(*letter)));
    for (char letter = 'A'; letter <= 'Z'; letter++)
        assert_null(binding_find(CONTEXT_TALLY, key_of(letter)));
}

static void test_waiting_looks_into_the_ledger(void **state)
{
    struct fake_tally *fake = *state;
    struct tally_screen screen = open_screen(fake);
    fake_tally_by_another(fake, TALLY_KEEP);
    tally_screen_key(&screen, (struct key){KEY_NONE, 0});
    assert_int_equal(fake->sheet.tallied.kept.number, 1);
    assert_false(tally_screen_key(&screen, (struct key){KEY_RESIZED, 0}).leave);
    assert_false(tally_screen_key(&screen, (struct key){KEY_HANGUP, 0}).leave);
}

static void test_draws_help_and_too_small(void **state)
{
    struct fake_tally *fake = *state;
    struct tally_screen screen = open_screen(fake);
    struct grid grid;
    struct text text;
    text_init(&text);
    grid_init(&grid, GRID_MIN_ROWS, GRID_MIN_COLUMNS);
    type(&screen, "?");
    tally_screen_draw(&screen, &grid);
    grid_text(&grid, &text);
    assert_non_null(strstr(text.data, "Keys: At the tally"));
    assert_non_null(strstr(text.data, "leave the tally"));
    grid_done(&grid);
    grid_init(&grid, GRID_MIN_ROWS - 1, GRID_MIN_COLUMNS);
    text_clear(&text);
    tally_screen_draw(&screen, &grid);
    grid_text(&grid, &text);
    assert_null(strstr(text.data, "tally"));
    grid_done(&grid);
    text_done(&text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_fake_tally(test_letters_and_digits_name_reasons),
        on_fake_tally(test_the_keypad_suffices),
        on_fake_tally(test_other_screens_are_asked_for),
        on_fake_tally(test_further_reasons_by_page),
        on_fake_tally(test_a_wrong_key_is_named),
        cmocka_unit_test(test_letters_are_shared_out),
        on_fake_tally(test_waiting_looks_into_the_ledger),
        on_fake_tally(test_draws_help_and_too_small),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
