/* The first day with a new ledger: all that is entered on screens before a fish is judged, and what
 * they answer to a slip. */
#include "support/farm.h"

static struct terminal *first_start(const struct farm *farm)
{
    const char *command[] = {getenv("SENBETSU_PROGRAM"), "--ledger", farm->ledger, NULL};
    return terminal_open(&(struct terminal_setup){.command = command});
}

/* Types a text that has no blanks into the line in front. */
static void type(struct terminal *terminal, const char *text)
{
    char keys[128] = "";
    for (; *text != '\0'; text++)
        snprintf(keys + strlen(keys), sizeof keys - strlen(keys), "%c ", *text);
    press(terminal, keys);
}

static void say_who(struct terminal *terminal)
{
    assert_shows(terminal, "Who judges?");
    press(terminal, "F2");
    assert_shows(terminal, "This is required.");
    type(terminal, "Ines");
    press(terminal, "Enter");
    assert_shows(terminal, "judge: Ines");
    assert_shows(terminal, "This ledger is new.");
}

/* K1 × P2;P3 of a Kikusui, none of the parents in the ledger. */
static void add_spawning(struct terminal *terminal)
{
    press(terminal, "+");
    assert_shows(terminal, "A new spawning");
    type(terminal, "K1");
    press(terminal, "Enter");
    type(terminal, "2026-06-31");
    press(terminal, "Enter");
    type(terminal, "Kikusui");
    press(terminal, "Enter");
    type(terminal, "O7");
    press(terminal, "Enter");
    type(terminal, "P2;P3");
    press(terminal, "Enter Right Right F2");
    assert_shows(terminal, "The calendar has no day \"2026-06-31\".");
    press(terminal, "Delete");
    type(terminal, "2026-06-14");
    press(terminal, "F2");
    static const char *const parents[] = {"O7", "P2", "P3"};
    for (int i = 0; i < 3; i++) {
        assert_shows(terminal, "A parent that is not in the ledger yet");
        assert_shows(terminal, parents[i]);
        press(terminal, "F2");
    }
    assert_shows(terminal, "Spawning K1 is in the ledger.");
    assert_shows(terminal, "O7 × P2;P3 (pooled)");
}

static void begin_round(struct terminal *terminal)
{
    press(terminal, "Enter");
    assert_shows(terminal, "+ begin a round");
    press(terminal, "Enter");
    assert_shows(terminal, "Which cull");
    press(terminal, "6");
    assert_shows(terminal, "[kikusui-harvest]");
    press(terminal, "Down Down Down Down 2 0 F2");
    assert_shows(terminal, "20 places, by kikusui-harvest");
}

/* Two more fish turn up in the bowl; the hand is on it when its sheet has been left. */
static void count_anew(struct terminal *terminal)
{
    press(terminal, "q");
    assert_shows(terminal, "> bowl 1");
    press(terminal, "/");
    assert_shows(terminal, "How many fish the bowl holds");
    press(terminal, "1 2 Enter");
    assert_shows(terminal, "Bowl 1 holds 12 fish.");
    assert_shows(terminal, "0 of 12");
    press(terminal, "+");
    assert_shows(terminal, "Fish in it");
    press(terminal, "8 Enter");
    assert_shows(terminal, "0 of 8");
}

static void test_from_nothing_to_the_first_bowl(void **state)
{
    struct terminal *terminal = first_start(*state);
    say_who(terminal);
    add_spawning(terminal);
    begin_round(terminal);
    press(terminal, "+");
    assert_shows(terminal, "Fish in it");
    press(terminal, "1 0 Enter");
    assert_shows(terminal, "0 of 10");
    count_anew(terminal);
    terminal_close(terminal);

    struct text parents;
    text_init(&parents);
    assert_int_equal(farm_run(*state, &parents, "export", "parents", NULL), 0);
    assert_non_null(strstr(parents.data, "O7,f,"));
    assert_non_null(strstr(parents.data, "P2,m,"));
    assert_non_null(strstr(parents.data, "P3,m,"));
    text_done(&parents);
}

/* Neither a spawning nor a round nor a bowl is begun twice; the form stays as it was typed. */
static void test_nothing_is_begun_twice(void **state)
{
    struct terminal *terminal = first_start(*state);
    say_who(terminal);
    add_spawning(terminal);
    press(terminal, "+");
    assert_shows(terminal, "A new spawning");
    type(terminal, "K1");
    press(terminal, "Enter 2 0 2 6 Enter x F2");
    assert_shows(terminal, "The code is already used by a spawning of 2026.");
    press(terminal, "Escape");
    assert_shows(terminal, "Esc again leaves");
    press(terminal, "Escape");
    assert_shows(terminal, "add a spawning");
    begin_round(terminal);
    press(terminal, "+");
    assert_shows(terminal, "Fish in it");
    press(terminal, "5 Enter");
    assert_shows(terminal, "0 of 5");
    press(terminal, "q");
    assert_shows(terminal, "+ next bowl");
    press(terminal, "+");
    assert_shows(terminal, "Bowl number");
    press(terminal, "Up Delete 1 F2");
    assert_shows(terminal, "Bowl 1 exists already; choose it in the list.");
    press(terminal, "Escape");
    assert_shows(terminal, "Esc again leaves");
    press(terminal, "Escape");
    assert_shows(terminal, "+ next bowl");
    press(terminal, "q");
    assert_shows(terminal, "+ begin a round");
    press(terminal, "+");
    assert_shows(terminal, "Which cull");
    press(terminal, "1 F2");
    assert_shows(terminal, "There is no standard for Kikusui at this cull (black)");
    press(terminal, "6 F2");
    assert_shows(terminal, "The harvest cull of this lot has been begun");
    terminal_close(terminal);
}

/* The name is asked once; a list that cannot be written stays on the screen. */
static void test_the_name_is_known_from_then_on(void **state)
{
    struct terminal *terminal = first_start(*state);
    say_who(terminal);
    add_spawning(terminal);
    begin_round(terminal);
    press(terminal, "q");
    assert_shows(terminal, "+ begin a round");
    press(terminal, "q");
    assert_shows(terminal, "add a spawning");
    press(terminal, "q");
    assert_int_equal(terminal_status(terminal), 0);
    terminal_close(terminal);

    terminal = first_start(*state);
    assert_shows(terminal, "judge: Ines");
    press(terminal, "Enter");
    assert_shows(terminal, "+ begin a round");
    press(terminal, "l");
    assert_shows(terminal, "The cull list");
    press(terminal, "s");
    assert_shows(terminal, "Save the list");
    press(terminal, "Delete");
    type(terminal, "/nowhere/list.txt");
    press(terminal, "Enter");
    assert_shows(terminal, "Its folder is not there");
    press(terminal, "Delete");
    type(terminal, "/dev");
    press(terminal, "Enter");
    assert_shows(terminal, "/dev is a folder; name a file in it.");
    terminal_close(terminal);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_from_nothing_to_the_first_bowl, farm_setup_empty,
                                        farm_teardown),
        cmocka_unit_test_setup_teardown(test_nothing_is_begun_twice, farm_setup_empty,
                                        farm_teardown),
        cmocka_unit_test_setup_teardown(test_the_name_is_known_from_then_on, farm_setup_empty,
                                        farm_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
