/* A first cull typed through the real tally: fish and scoops, an undo, the program killed in the
 * middle, the line cut, two sorters, and the numbers come out as a hand adds them up. */
#include "walk.h"
#include <signal.h>

/* 107 of 1000 tallied, 4 of them kept: no rate of the lot. */
static void assert_not_done(const struct farm *farm)
{
    struct text rates;
    text_init(&rates);
    assert_int_equal(
        farm_run(farm, &rates, "rates", "--by", "spawning", "--stage", "second", "--csv", NULL), 0);
    if (strstr(rates.data, "spawning,K25-1,2025,second,107,4,") == NULL ||
        strstr(rates.data, ",at-work,") == NULL)
        fail_msg("another rate: %s", rates.data);
    text_done(&rates);
}

/* Export gives the tally as a row of rounds, and reading that row again changes nothing. */
static void assert_round_trip(const struct farm *farm)
{
    char path[160];
    struct text said;
    text_init(&said);
    snprintf(path, sizeof path, "%s/rounds.csv", farm->folder);
    assert_int_equal(farm_run(farm, NULL, "export", "rounds", path, NULL), 0);
    assert_int_equal(farm_run(farm, &said, "import", "rounds", path, NULL), 0);
    if (strstr(said.data, "1 read, 0 new, 0 changed, 1 as before") == NULL)
        fail_msg("reading it again: %s", said.data);
    text_clear(&said);
    assert_int_equal(farm_run(farm, &said, "export", "rounds", NULL), 0);
    if (strstr(said.data, ",pick,1000,,,4,counted,,102,1,") == NULL)
        fail_msg("another row: %s", said.data);
    remove(path);
    text_done(&said);
}

static void test_from_the_first_key_through_a_kill(void **state)
{
    struct terminal *terminal = farm_screens(*state, 24, 80, NULL);
    walk_to_tally(terminal, "3", "1", "1000");
    assert_shows(terminal, "second · pick");
    press(terminal, "+ + + Enter 1 1 0");
    assert_shows(terminal, "tallied    7");
    press(terminal, "-");
    assert_shows(terminal, "Undone: ");
    assert_shows(terminal, "tallied    6");
    press(terminal, "*");
    assert_shows(terminal, "fish in each scoop:");
    press(terminal, "4 8 + 5 2 + 5 0 Enter");
    assert_shows(terminal, "a key is a SCOOP");
    assert_shows(terminal, "50.0 ±2.3 %");
    press(terminal, "0 0 +");
    assert_shows(terminal, "tallied    156");
    terminal_signal(terminal, SIGKILL);
    assert_int_equal(terminal_status(terminal), 128 + SIGKILL);
    terminal_close(terminal);

    terminal = farm_screens(*state, 24, 80, NULL);
    assert_shows(terminal, "a key is a SCOOP");
    assert_shows(terminal, "tallied    156");
    assert_shows(terminal, "still      844 fish");
    press(terminal, "-");
    assert_shows(terminal, "tallied    106");
    press(terminal, "* . 1");
    assert_shows(terminal, "dead       1");
    assert_shows(terminal, "tallied    107");
    press(terminal, "q");
    assert_shows(terminal, "tallied, ");
    assert_shows(terminal, "by kikusui-second");
    press(terminal, "5");
    assert_shows(terminal, "The fish of this round are tallied");
    terminal_close(terminal);
    assert_not_done(*state);
    assert_round_trip(*state);
    assert_int_equal(farm_run(*state, NULL, "check", NULL), 0);
}

/* In a pick round the fish not picked are the rest of the lot. */
static void test_every_size_and_without_colour(void **state)
{
    static const char *const mono[] = {"NO_COLOR=1", NULL};
    struct terminal *terminal = farm_screens(*state, 24, 80, mono);
    walk_to_tally(terminal, "3", "1", "500");
    press(terminal, "+ +");
    assert_shows(terminal, "the rest of the lot");
    assert_false(terminal_coloured(terminal));
    terminal_resize(terminal, 40, 120);
    assert_shows(terminal, "- undo  . more");
    press(terminal, "+");
    assert_shows(terminal, "tallied    3");
    terminal_resize(terminal, 10, 40);
    assert_shows(terminal, "Nothing is lost.");
    terminal_resize(terminal, 24, 80);
    assert_shows(terminal, "tallied    3");
    terminal_hang_up(terminal);
    terminal_status(terminal);
    terminal_close(terminal);
    terminal = farm_screens(*state, 24, 80, NULL);
    assert_shows(terminal, "tallied    3");
    terminal_close(terminal);
}

/* Each sees the other's fish and takes back only his own. */
static void test_two_sorters_at_one_tally(void **state)
{
    const struct farm *farm = *state;
    const char *command[] = {
        getenv("SENBETSU_PROGRAM"), "--ledger", farm->ledger, "--judge", "Ryo", NULL};
    struct terminal *ines = farm_screens(farm, 24, 80, NULL);
    walk_to_tally(ines, "3", "2", "");
    press(ines, "1 1 1");
    assert_shows(ines, "tallied    3");
    struct terminal *ryo = terminal_open(&(struct terminal_setup){.command = command});
    assert_shows(ryo, "K25-1");
    press(ryo, "Down Enter Enter");
    assert_shows(ryo, "tallied    3");
    press(ryo, "-");
    assert_shows(ryo, "You have no key left to undo.");
    press(ryo, "2 2");
    assert_shows(ryo, "tallied    5");
    press(ines, "-");
    assert_shows(ines, "tallied    4");
    press(ryo, "-");
    assert_shows(ryo, "tallied    3");
    terminal_close(ines);
    terminal_close(ryo);
}

/* Black fry have no standard: scoops are kept and rejected without reasons, and both sides together
 * are what went into the round. */
static void test_black_fry_by_the_scoop(void **state)
{
    struct terminal *terminal = farm_screens(*state, 24, 80, NULL);
    struct text rounds;
    walk_to_tally(terminal, "1", "1", "");
    assert_shows(terminal, "black · pick");
    press(terminal, "* 4 8 + 5 2 Enter + 0 0");
    assert_shows(terminal, "tallied    150");
    assert_shows(terminal, "100 ±4.0 %");
    press(terminal, "q");
    assert_shows(terminal, "tallied, ");
    terminal_close(terminal);
    text_init(&rounds);
    assert_int_equal(farm_run(*state, &rounds, "export", "rounds", NULL), 0);
    if (strstr(rounds.data, ",pick,150,scooped,0.04,50,scooped,0.04,100,0,") == NULL)
        fail_msg("another row: %s", rounds.data);
    text_done(&rounds);
}

/* Numbers out of a notebook stand, whatever is pressed afterwards. */
static void test_a_round_that_is_done_says_so(void **state)
{
    struct terminal *terminal = farm_screens(*state, 24, 80, NULL);
    assert_shows(terminal, "R25-1");
    press(terminal, "Enter");
    assert_shows(terminal, "stated, 2025-");
    press(terminal, "Enter");
    assert_shows(terminal, "Done: 10205 kept was stated on 2025-");
    press(terminal, "+ q");
    assert_shows(terminal, "K 10205");
    terminal_close(terminal);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_from_the_first_key_through_a_kill, farm_setup,
                                        farm_teardown),
        cmocka_unit_test_setup_teardown(test_every_size_and_without_colour, farm_setup,
                                        farm_teardown),
        cmocka_unit_test_setup_teardown(test_black_fry_by_the_scoop, farm_setup, farm_teardown),
        cmocka_unit_test_setup_teardown(test_two_sorters_at_one_tally, farm_setup, farm_teardown),
        cmocka_unit_test_setup_teardown(test_a_round_that_is_done_says_so, farm_setup_seasons,
                                        farm_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
