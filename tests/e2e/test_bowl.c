/* The whole job on screen, from an empty ledger to the evening's list: parents and a spawning, a
 * round, a bowl judged to its end with the program killed in the middle, the pass, the list. */
#include "walk.h"
#include <signal.h>
#include <unistd.h>

#define CODE "水25-1"

static void fill_in(struct terminal *terminal, const char *value)
{
    terminal_type(terminal, value);
    press(terminal, "Enter");
}

/* A parent that the spawning names and the ledger does not know yet. */
static void enter_parent(struct terminal *terminal, const char *code, const char *born)
{
    assert_shows(terminal, "A parent that is not in the ledger yet");
    assert_shows(terminal, code);
    fill_in(terminal, "Kikusui");
    fill_in(terminal, born);
    press(terminal, "F2");
}

static void enter_spawning(struct terminal *terminal)
{
    assert_shows(terminal, "This ledger is new.");
    press(terminal, "+");
    assert_shows(terminal, "Dam (oya)");
    fill_in(terminal, CODE);
    fill_in(terminal, "2025-06-01");
    fill_in(terminal, "Kikusui");
    fill_in(terminal, "D1");
    fill_in(terminal, "S1;S2");
    fill_in(terminal, "3");
    fill_in(terminal, "240000");
    fill_in(terminal, "200000");
    fill_in(terminal, "milt mixed");
    enter_parent(terminal, "D1", "2018");
    enter_parent(terminal, "S1", "2017");
    enter_parent(terminal, "S2", "2017");
    assert_shows(terminal, "Spawning " CODE " is in the ledger.");
    assert_shows(terminal, "D1");
}

static void begin_round(struct terminal *terminal)
{
    press(terminal, "Enter");
    assert_shows(terminal, CODE ": Kikusui");
    press(terminal, "+");
    assert_shows(terminal, "Which cull");
    press(terminal, "6 Enter Enter Enter");
    assert_shows(terminal, "kikusui-harvest");
    press(terminal, "Enter");
    fill_in(terminal, "2");
    press(terminal, "Enter");
    assert_shows(terminal, "basin [cell]"); /* as places are set */
    press(terminal, "Left");
    assert_shows(terminal, "[basin] cell");
    press(terminal, "Enter Enter");
    assert_shows(terminal, CODE ": harvest");
}

/* Fish 1 to 3 and the beginning of fish 4. */
static void judge_first_half(struct terminal *terminal)
{
    judge(terminal, "Enter", 1);
    assert_shows(terminal, "50.0, too early to keep");
    judge(terminal, "s", 2);
    assert_shows(terminal, "Bent spine");
    judge(terminal, "W 5 Enter", 3);
    assert_shows(terminal, "57.0 points");
    press(terminal, "4 4 4");
    assert_shows(terminal, "8 of 11 open");
}

static void judge_second_half(struct terminal *terminal)
{
    assert_shows(terminal, "3 of 8");
    assert_shows(terminal, "8 of 11 open");
    assert_shows(terminal, "▸ P E C T O R A L   F I N S");
    judge(terminal, "Enter", 4);
    assert_shows(terminal, "58.5 points");
    judge(terminal, "w Enter", 5);
    assert_shows(terminal, "40.0 points");
    judge(terminal, "x Enter", 6);
    judge(terminal, "1 Enter", 7);
    assert_shows(terminal, "41.0, Body outline");
    judge(terminal, "y Enter", 8);
    assert_shows(terminal, "8 of 8");
}

static void record_pass(struct terminal *terminal)
{
    press(terminal, "5");
    assert_shows(terminal, "pass of the harvest cull");
    assert_shows(terminal, "no place left");
    press(terminal, "Enter");
    assert_shows(terminal, "Enter again records the pass");
    press(terminal, "Enter");
    assert_shows(terminal, "The pass is recorded: 2 keep, 3 hold, 3 reject.");
}

/* The first number was a slip: it is taken, told, and said anew. */
static void say_fates(struct terminal *terminal)
{
    press(terminal, "-");
    assert_shows(terminal, "Where the 3 rejects went (the others: not decided)");
    fill_in(terminal, "11");
    press(terminal, "F2");
    assert_shows(terminal, "Rejects: pond-grade 11, 8 more than were rejected.");
    press(terminal, "r");
    fill_in(terminal, "1");
    press(terminal, "Enter Enter");
    fill_in(terminal, "1");
    assert_shows(terminal, "Rejects: pond-grade 1, put-down 1, not decided 1.");
}

static void read_list(struct terminal *terminal)
{
    press(terminal, "6");
    assert_shows(terminal, "take out 3, look again 3, keep 2, not judged 0: 8 in all");
    assert_shows(terminal, "Rejects go: pond-grade 1, put-down 1, not decided 1");
    assert_shows(terminal, "Read before you begin");
    press(terminal, "End");
    assert_shows(terminal,
                 "Reject basin: 3 fish, all out: pond-grade 1, put-down 1, not decided 1.");
    press(terminal, "q");
    assert_shows(terminal, CODE ": harvest");
}

/* Each part after the one before. */
static void assert_in_order(const char *text, const char *const *parts)
{
    for (; *parts != NULL; parts++) {
        const char *found = strstr(text, *parts);
        if (found == NULL)
            fail_msg("\"%s\" is not where it should be; there is left:\n%s", *parts, text);
        text = found + strlen(*parts);
    }
}

static void assert_printed(const struct farm *farm)
{
    static const char *const rows[] = {"1,2,reject,fault spine,",
                                       "1,5,reject,score,",
                                       "1,7,reject,floor body,",
                                       "1,1,hold,places,",
                                       "1,6,hold,fault wound,",
                                       "1,8,hold,score,",
                                       NULL};
    static const char *const lines[] = {CODE,
                                        "2 places",
                                        "Read before you begin",
                                        "Count: reject 3 ______   hold 3 ______   keep 2 ______",
                                        "Reject basin: 3 fish, all out",
                                        "Put down 1",
                                        "Guidance",
                                        NULL};
    struct text text;
    text_init(&text);
    assert_int_equal(
        farm_run(farm, &text, "list", "--spawning", CODE, "--stage", "harvest", "--csv", NULL), 0);
    assert_in_order(text.data, rows);
    text_clear(&text);
    assert_int_equal(farm_run(farm, &text, "list", "--spawning", CODE, "--stage", "harvest", NULL),
                     0);
    assert_in_order(text.data, lines);
    text_done(&text);
}

static void test_from_bowl_to_list(void **state)
{
    const struct farm *farm = *state;
    struct terminal *terminal = farm_screens(farm, 24, 80, NULL);
    enter_spawning(terminal);
    begin_round(terminal);
    walk_to_bowl(terminal, "8");
    judge_first_half(terminal);
    terminal_signal(terminal, SIGKILL);
    assert_int_equal(terminal_status(terminal), 128 + SIGKILL);
    terminal_close(terminal);

    terminal = farm_screens(farm, 24, 80, NULL);
    judge_second_half(terminal);
    press(terminal, "q");
    assert_shows(terminal, "bowl 1");
    record_pass(terminal);
    say_fates(terminal);
    read_list(terminal);
    press(terminal, "q q q");
    assert_int_equal(terminal_status(terminal), 0);
    terminal_close(terminal);
    assert_printed(farm);
    assert_int_equal(farm_run(farm, NULL, "check", NULL), 0);
}

/* Held fish come up one after another and are judged again; the first judgement stays. With places
 * they wait in cells, and so are known. */
static void test_second_look(void **state)
{
    const struct farm *farm = *state;
    struct terminal *terminal = farm_screens(farm, 24, 80, NULL);
    walk_to_round(terminal, "3", "");
    walk_to_bowl(terminal, "3");
    judge(terminal, "y Enter", 1);
    judge(terminal, "Enter", 2);
    judge(terminal, "x Enter", 3);
    press(terminal, "q 4");
    assert_shows(terminal, "second look");
    assert_shows(terminal, "NOW bowl 1, 11 open");
    judge(terminal, "y Enter", 1);
    assert_shows(terminal, "50.0 points");
    judge(terminal, "s", 3);
    press(terminal, "q");
    assert_shows(terminal, "bowl 1");
    press(terminal, "q q q");
    assert_int_equal(terminal_status(terminal), 0);
    terminal_close(terminal);
    static const char *const rows[] = {"1,1,50.0,1,keep,score", "1,2,50.0,1,keep,score",
                                       "1,3,,,reject,fault spine", NULL};
    struct text text;
    text_init(&text);
    assert_int_equal(farm_run(farm, &text, "pass", "--spawning", "K25-1", "--stage", "harvest",
                              "--dry-run", "--csv", NULL),
                     0);
    assert_in_order(text.data, rows);
    text_done(&text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_from_bowl_to_list, farm_setup_empty, farm_teardown),
        cmocka_unit_test_setup_teardown(test_second_look, farm_setup, farm_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
