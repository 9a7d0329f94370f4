/* The way from the seasons to their rates, to a spawning and back, and to the season book. */
#include "support/farm.h"

/* The season is that of the spawning in front, here the latest. */
static struct terminal *walk_to_rates(const struct farm *farm, int rows, int columns,
                                      const char *const *environment)
{
    struct terminal *terminal = farm_screens(farm, rows, columns, environment);
    assert_shows(terminal, "senbetsu: seasons and spawnings");
    press(terminal, "5");
    assert_shows(terminal, "Season 2025: from the eggs to the fish kept");
    return terminal;
}

static void test_it_looks_like_this(void **state)
{
    struct terminal *terminal = walk_to_rates(*state, 24, 80, NULL);
    assert_screen(terminal, "rates-80x24");
    terminal_close(terminal);
    terminal = walk_to_rates(*state, 40, 120, NULL);
    assert_screen(terminal, "rates-120x40");
    terminal_close(terminal);
}

/* Bars are full, half full and empty by their characters alone. */
static void test_neither_colour_nor_utf8_is_needed(void **state)
{
    static const char *const environment[] = {"LC_ALL=C", "TERM=vt100", NULL};
    struct terminal *terminal = walk_to_rates(*state, 24, 80, environment);
    assert_false(terminal_coloured(terminal));
    assert_screen(terminal, "rates-ascii");
    terminal_close(terminal);
}

static void test_seasons_lie_side_by_side(void **state)
{
    struct terminal *terminal = walk_to_rates(*state, 24, 80, NULL);
    assert_shows(terminal, "◂ 2024");
    press(terminal, "Left");
    assert_shows(terminal, "◂ 2023   2025 ▸");
    press(terminal, "4");
    assert_shows(terminal, "Season 2023");
    press(terminal, "Left");
    assert_shows(terminal, "There is no further season in that direction.");
    press(terminal, "6");
    assert_shows(terminal, "Season 2024");
    terminal_close(terminal);
}

static void test_a_spawning_is_opened_and_left_again(void **state)
{
    struct terminal *terminal = walk_to_rates(*state, 24, 80, NULL);
    press(terminal, "Left");
    assert_shows(terminal, "> R24-1, Kohaku");
    press(terminal, "Down");
    assert_shows(terminal, "> K24-1, Kikusui");
    press(terminal, "Enter");
    assert_shows(terminal, "K24-1: Kikusui");
    press(terminal, "q");
    assert_shows(terminal, "> K24-1, Kikusui");
    press(terminal, "End");
    assert_shows(terminal, "> All together");
    press(terminal, "Enter");
    assert_shows(terminal, "Select a spawning first.");
    press(terminal, "0");
    assert_shows(terminal, "senbetsu: seasons and spawnings");
    terminal_close(terminal);
}

static void test_a_mixed_lot_is_opened_and_left_again(void **state)
{
    const struct farm *farm = *state;
    char path[128];
    farm_file(farm, "lots.csv",
              "spawning,lot,date,event,number,how,cv,into_spawning,into_lot,pond,note\n"
              "S25-1,,2025-09-20,transfer,,,,B25-1;S25-1,barn,,\n"
              "B25-1,,2025-09-20,transfer,,,,B25-1;S25-1,barn,,\n",
              path, sizeof path);
    assert_int_equal(farm_run(farm, NULL, "import", "lots", path, NULL), 0);
    struct terminal *terminal = walk_to_rates(farm, 24, 80, NULL);
    press(terminal, "End Up");
    assert_shows(terminal, "> barn");
    press(terminal, "Enter");
    assert_shows(terminal, "mixed from B25-1;S25-1     ");
    press(terminal, "q");
    assert_shows(terminal, "> barn");
    terminal_close(terminal);
}

/* The same book as the command writes. */
static void test_the_season_goes_to_paper(void **state)
{
    const struct farm *farm = *state;
    char path[128];
    struct text printed;
    snprintf(path, sizeof path, "%s/book.txt", farm->folder);
    struct terminal *terminal = walk_to_rates(farm, 24, 80, NULL);
    press(terminal, "4 5");
    assert_shows(terminal, "The season book");
    assert_shows(terminal, "Season book 2024");
    press(terminal, "s Delete");
    assert_shows(terminal, "Save the season book");
    terminal_type(terminal, path);
    press(terminal, "Enter");
    assert_shows(terminal, "The season book is in ");
    press(terminal, "q");
    assert_shows(terminal, "Season 2024: from the eggs");
    terminal_close(terminal);
    text_init(&printed);
    assert_int_equal(farm_run(farm, &printed, "season", "--year", "2024", NULL), 0);
    farm_assert_file(path, printed.data);
    text_done(&printed);
}

static void test_a_new_ledger_has_no_season(void **state)
{
    struct terminal *terminal = farm_screens(*state, 24, 80, NULL);
    assert_shows(terminal, "This ledger is new.");
    press(terminal, "r");
    assert_shows(terminal, "There is no spawning yet; add one first.");
    terminal_close(terminal);
}

#define on_seasons(test) cmocka_unit_test_setup_teardown(test, farm_setup_seasons, farm_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_seasons(test_it_looks_like_this),
        on_seasons(test_neither_colour_nor_utf8_is_needed),
        on_seasons(test_seasons_lie_side_by_side),
        on_seasons(test_a_spawning_is_opened_and_left_again),
        on_seasons(test_a_mixed_lot_is_opened_and_left_again),
        on_seasons(test_the_season_goes_to_paper),
        cmocka_unit_test_setup_teardown(test_a_new_ledger_has_no_season, farm_setup_empty,
                                        farm_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
