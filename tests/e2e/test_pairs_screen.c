/* From a season's spawnings to the pairs over the seasons, to a cross that was not tried yet, to a
 * pair's spawnings and their rounds, and to the printed page. */
#include "support/farm.h"

#include <string.h>

static struct terminal *walk_to_pairs(const struct farm *farm, int rows, int columns,
                                      const char *const *environment)
{
    struct terminal *terminal = farm_screens(farm, rows, columns, environment);
    assert_shows(terminal, "senbetsu: seasons and spawnings");
    press(terminal, "5");
    assert_shows(terminal, "Season 2025: from the eggs to the fish kept");
    press(terminal, "+");
    assert_shows(terminal, "Pairs over the seasons: first to harvest cull");
    return terminal;
}

static void test_it_looks_like_this(void **state)
{
    struct terminal *terminal = walk_to_pairs(*state, 24, 80, NULL);
    assert_screen(terminal, "pairs-80x24");
    terminal_close(terminal);
    terminal = walk_to_pairs(*state, 40, 120, NULL);
    assert_screen(terminal, "pairs-120x40");
    terminal_close(terminal);
}

static void test_neither_colour_nor_utf8_is_needed(void **state)
{
    static const char *const environment[] = {"LC_ALL=C", "TERM=vt100", NULL};
    struct terminal *terminal = walk_to_pairs(*state, 24, 80, environment);
    assert_false(terminal_coloured(terminal));
    assert_screen(terminal, "pairs-ascii");
    terminal_close(terminal);
}

static void save_page(struct terminal *terminal, const char *path)
{
    press(terminal, "s Delete");
    assert_shows(terminal, "Save the page of the pairs");
    terminal_type(terminal, path);
    press(terminal, "Enter");
    assert_shows(terminal, "The page of the pairs is in ");
}

/* The form offers the sires that there is a cross with; the cross asked for comes to the front. */
static void ask_kd1_with_ks2(struct terminal *terminal)
{
    press(terminal, "+");
    assert_shows(terminal, "What if these two spawned?");
    press(terminal, "2");
    assert_shows(terminal, "[KD1]");
    press(terminal, "Enter 2");
    assert_shows(terminal, "[KS2]");
    press(terminal, "Enter");
    assert_shows(terminal, "KD1 × KS2: untried, its dam has 1 culled");
    assert_shows(terminal, ">?KD1 × KS2");
}

static void test_from_the_season_to_a_cross_to_paper(void **state)
{
    const struct farm *farm = *state;
    char path[128];
    struct text printed;
    snprintf(path, sizeof path, "%s/pairs.txt", farm->folder);
    struct terminal *terminal = walk_to_pairs(farm, 24, 80, NULL);
    ask_kd1_with_ks2(terminal);
    assert_screen(terminal, "pairs-cross-80x24");
    press(terminal, "p");
    assert_shows(terminal, "The page of the pairs");
    save_page(terminal, path);
    press(terminal, "q");
    assert_shows(terminal, ">?KD1 × KS2");
    terminal_close(terminal);
    text_init(&printed);
    assert_int_equal(farm_run(farm, &printed, "pairs", NULL), 0);
    farm_assert_file(path, printed.data);
    text_done(&printed);
}

static void test_a_cross_asked_for_stays_when_others_are_hidden(void **state)
{
    struct terminal *terminal = walk_to_pairs(*state, 24, 80, NULL);
    assert_shows(terminal, "KD2 × KS1  ");
    press(terminal, "/");
    assert_shows(terminal, "6 untried hidden");
    assert_hides(terminal, "KD2 × KS1  ");
    ask_kd1_with_ks2(terminal);
    assert_shows(terminal, "5 untried hidden");
    press(terminal, "Enter");
    assert_shows(terminal, "KD1 and KS2 never spawned together");
    press(terminal, "u");
    assert_shows(terminal, "KD2 × KS1  ");
    assert_shows(terminal, ">?KD1 × KS2");
    terminal_close(terminal);
}

static void test_lines_are_sorted_by_any_column(void **state)
{
    static const char *const headings[] = {"▼best3",    "▼inbr%",  "▼dam × sires",
                                           "▼rests on", "▼○ raw%", "▼● exp%"};
    struct terminal *terminal = walk_to_pairs(*state, 24, 80, NULL);
    press(terminal, "Home");
    assert_shows(terminal, "> KD1 × KS1");
    for (size_t i = 0; i < sizeof headings / sizeof headings[0]; i++) {
        press(terminal, i % 2 == 0 ? "*" : "s");
        assert_shows(terminal, headings[i]);
        assert_shows(terminal, "KD1 × KS1: 1 spawning in 1 season");
    }
    terminal_close(terminal);
}

static void test_each_cull_has_its_picture_and_its_page(void **state)
{
    const struct farm *farm = *state;
    char path[128];
    struct text printed;
    snprintf(path, sizeof path, "%s/first.txt", farm->folder);
    struct terminal *terminal = walk_to_pairs(farm, 24, 80, NULL);
    press(terminal, "Left");
    assert_shows(terminal, "There is no further cull");
    press(terminal, "6 6");
    assert_shows(terminal, "Pairs over the seasons: first cull");
    press(terminal, "5");
    save_page(terminal, path);
    terminal_close(terminal);
    text_init(&printed);
    assert_int_equal(farm_run(farm, &printed, "pairs", "--stage", "first", NULL), 0);
    farm_assert_file(path, printed.data);
    text_done(&printed);
}

static void test_a_pair_leads_to_its_spawnings_and_their_rounds(void **state)
{
    struct terminal *terminal = walk_to_pairs(*state, 24, 80, NULL);
    press(terminal, "s s s Home");
    assert_shows(terminal, "▼dam × sires");
    press(terminal, "Down Down Down Down");
    assert_shows(terminal, "KD2 × KS2: 1 spawning in 1 season");
    press(terminal, "Enter");
    assert_shows(terminal, "95 % interval");
    assert_screen(terminal, "pair-80x24");
    press(terminal, "Down Enter");
    assert_shows(terminal, "second");
    assert_shows(terminal, "begin a round");
    press(terminal, "q");
    assert_shows(terminal, "95 % interval");
    press(terminal, "0");
    assert_shows(terminal, "KD2 × KS2: 1 spawning in 1 season");
    press(terminal, "q");
    assert_shows(terminal, "Season 2025: from the eggs");
    terminal_close(terminal);
}

/* Without a model the raw rates are there still. */
static void test_too_few_rounds_leave_the_raw_rates(void **state)
{
    struct terminal *terminal = farm_screens(*state, 24, 80, NULL);
    assert_shows(terminal, "senbetsu: seasons and spawnings");
    press(terminal, "x");
    assert_shows(terminal, "Pairs over the seasons");
    assert_shows(terminal, "0+0");
    assert_screen(terminal, "pairs-trouble-80x24");
    terminal_close(terminal);
}

static void test_a_new_ledger_has_no_pairs(void **state)
{
    struct terminal *terminal = farm_screens(*state, 24, 80, NULL);
    assert_shows(terminal, "This ledger is new.");
    press(terminal, "4");
    assert_shows(terminal, "no pair has spawned yet");
    press(terminal, "Enter");
    assert_shows(terminal, "There is no pair here");
    press(terminal, "+");
    assert_shows(terminal, "There are no parents to cross yet.");
    terminal_close(terminal);
}

#define on_seasons(test) cmocka_unit_test_setup_teardown(test, farm_setup_seasons, farm_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_seasons(test_it_looks_like_this),
        on_seasons(test_neither_colour_nor_utf8_is_needed),
        on_seasons(test_from_the_season_to_a_cross_to_paper),
        on_seasons(test_a_cross_asked_for_stays_when_others_are_hidden),
        on_seasons(test_lines_are_sorted_by_any_column),
        on_seasons(test_each_cull_has_its_picture_and_its_page),
        on_seasons(test_a_pair_leads_to_its_spawnings_and_their_rounds),
        cmocka_unit_test_setup_teardown(test_too_few_rounds_leave_the_raw_rates, farm_setup,
                                        farm_teardown),
        cmocka_unit_test_setup_teardown(test_a_new_ledger_has_no_pairs, farm_setup_empty,
                                        farm_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
