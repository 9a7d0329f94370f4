/* A whole evening in the real program, from an empty ledger to the list, in each of the two ways
 * in which judged fish wait: 60 fish for 20 places, Enter for most; the tie and its closer look,
 * the pass, a correction, the pass again, the second look. After each step every screen and every
 * command must give the same numbers of the round. */
#include "walk.h"
#include <stdlib.h>

#define SPAWNING "V26-1"

enum { FISH = 60, PLACES = 20 };

static const char parents[] = "parent,sex,variety,born,dam,sire,note\n"
                              "Tamaki,f,Kikusui,2019,,,\n"
                              "Minato,m,Kikusui,2020,,,\n";
static const char spawnings[] =
    "spawning,season,date,variety,dam,sires,siring,eggs,hatched,note\n" SPAWNING
    ",2026,2026-05-30,Kikusui,Tamaki,Minato,single,,,\n";

struct evening {
    const struct farm *farm;
    struct terminal *terminal;
    bool cells;
};

static void import(const struct farm *farm, const char *kind, const char *content)
{
    char path[160];
    farm_file(farm, "in.csv", content, path, sizeof path);
    assert_int_equal(farm_run(farm, NULL, "import", kind, path, NULL), 0);
    remove(path);
}

/* The fish come quicker than any hand: no key is a bounce. */
static struct evening begin(const struct farm *farm, bool cells)
{
    import(farm, "parents", parents);
    import(farm, "spawnings", spawnings);
    const char *command[] = {getenv("SENBETSU_PROGRAM"),
                             "--ledger",
                             farm->ledger,
                             "--judge",
                             "Ines",
                             "--bounce",
                             "0",
                             NULL};
    struct terminal *terminal =
        terminal_open(&(struct terminal_setup){.command = command, .rows = 24, .columns = 80});
    assert_shows(terminal, SPAWNING);
    press(terminal, "Enter");
    assert_shows(terminal, SPAWNING ": Kikusui");
    press(terminal, "+");
    assert_shows(terminal, "Which cull");
    press(terminal, "6 Enter Enter Enter Enter");
    terminal_type(terminal, "20");
    press(terminal, "Enter");
    terminal_type(terminal, "60");
    press(terminal, "Enter");
    assert_shows(terminal, "[cell]");
    press(terminal, cells ? "F2" : "1 F2");
    assert_shows(terminal, "0 bowls, 20 places");
    walk_to_bowl(terminal, "60");
    return (struct evening){farm, terminal, cells};
}

/* How often a part stands in a text. */
static int occurrences(const char *text, const char *part)
{
    int count = 0;
    for (; (text = strstr(text, part)) != NULL; text += strlen(part))
        count++;
    return count;
}

static void assert_command_says(const struct evening *evening, const char *part, const char *first,
                                const char *second, const char *third)
{
    struct text said;
    text_init(&said);
    assert_int_equal(farm_run(evening->farm, &said, first, second, third, NULL), 0);
    if (strstr(said.data, part) == NULL)
        fail_msg("%s says no \"%s\":\n%s", first, part, said.data);
    text_done(&said);
}

/* On the round's screen: its numbers there and one screen back, and on the command line. */
static void assert_numbers(const struct evening *evening, int keep, int hold, int reject)
{
    char screen[64], kept[16], held[16], part[96];
    struct terminal *terminal = evening->terminal;
    snprintf(kept, sizeof kept, "K %d", keep);
    snprintf(held, sizeof held, "H %d", hold);
    snprintf(screen, sizeof screen, "%-8s%-8sR %d", kept, held, reject);
    assert_shows(terminal, screen);
    press(terminal, "q");
    assert_shows(terminal, SPAWNING ": Kikusui");
    assert_shows(terminal, screen);
    press(terminal, "Enter");
    assert_shows(terminal, "20 places");

    struct text list;
    text_init(&list);
    assert_int_equal(farm_run(evening->farm, &list, "list", "--spawning", SPAWNING, "--stage",
                              "harvest", "--csv", NULL),
                     0);
    assert_int_equal(occurrences(list.data, ",reject,fault spine,"), reject);
    text_done(&list);
    snprintf(part, sizeof part, "take out %d, look again %d, keep %d, not judged 0: 60 in all",
             reject, hold, keep);
    struct text page;
    text_init(&page);
    assert_int_equal(
        farm_run(evening->farm, &page, "list", "--spawning", SPAWNING, "--stage", "harvest", NULL),
        0);
    if (strstr(page.data, part) == NULL)
        fail_msg("the list says no \"%s\":\n%s", part, page.data);
    text_done(&page);
    snprintf(part, sizeof part, "keep %d, hold %d, reject %d", keep, hold, reject);
    assert_command_says(evening, part, "day", NULL, NULL);
    snprintf(part, sizeof part, ",harvest,60,%d,", keep);
    assert_command_says(evening, part, "rates", "--by=spawning", "--csv");
    snprintf(part, sizeof part, "in 60 counted, kept %d counted, rejected %d", keep, reject);
    assert_command_says(evening, part, "season", NULL, NULL);
}

/* Every sixth fish has a bent spine, and two in twelve white ground of the best: 10 rejects, and 9
 * fish that are better than typical. */
static void judge_bowl(struct evening *evening)
{
    for (int fish = 1; fish <= FISH; fish++)
        judge(evening->terminal, fish % 6 == 0 ? "s" : fish % 7 == 3 ? "W 5 Enter" : "Enter", fish);
    assert_shows(evening->terminal, "All 60 fish of bowl 1 are judged");
    press(evening->terminal, "q");
}

static void record_pass(struct evening *evening, const char *told)
{
    press(evening->terminal, "5");
    assert_shows(evening->terminal, "pass of the harvest cull");
    press(evening->terminal, "Enter Enter");
    assert_shows(evening->terminal, told);
}

/* What the tie leaves to a person: in cells the tied fish one by one, in basins so many of the hold
 * basin. */
static void take_the_best(struct evening *evening)
{
    struct terminal *terminal = evening->terminal;
    press(terminal, "5");
    assert_shows(terminal, "42 fish tie at 50.0 for 12 places: 5 takes a closer look");
    press(terminal, "5");
    assert_shows(terminal, "closer look");
    for (int fish = 0; fish < 12; fish++)
        press(terminal, "+");
    if (evening->cells) {
        assert_shows(terminal, "all places are taken");
        press(terminal, "* *");
        assert_shows(terminal, "The tie is decided: 12 taken, 30 not.");
    } else {
        assert_shows(terminal, "All places are taken");
        press(terminal, "q");
    }
    assert_shows(terminal, "K 20    H 30    R 10");
    press(terminal, "q");
    assert_shows(terminal, "20 places");
}

/* Fish 3, which was kept, has a bent spine after all. */
static void correct_a_fish(struct evening *evening)
{
    struct terminal *terminal = evening->terminal;
    press(terminal, "Up Enter");
    assert_shows(terminal, "Body outline");
    press(terminal, "# 3 Enter");
    assert_shows(terminal, "NOW KEEP 57.0");
    press(terminal, "s");
    assert_shows(terminal, "NOW REJECT");
    assert_shows(terminal, "The pass is out of date: 1 fish judged since.");
    press(terminal, "q");
    assert_shows(terminal, "The pass is out of date: 1 fish judged since. 5 passes again.");
}

/* The place that has become free is given away as the first twelve were. */
static void fill_the_free_place(struct evening *evening)
{
    struct terminal *terminal = evening->terminal;
    press(terminal, "5");
    assert_shows(terminal, evening->cells ? "1 place is free, and 30 fish tied for it: 5 takes"
                                          : "30 fish tie at 50.0 for 1 place: 5 takes");
    press(terminal, "5");
    assert_shows(terminal, "closer look");
    press(terminal, "+");
    assert_shows(terminal, "record the pass next");
    press(terminal, "q");
    assert_shows(terminal, "K 20    H 29    R 11");
    press(terminal, "q");
    assert_shows(terminal, "20 places");
}

/* All 29 held ones are looked at again: the first three are rejected, the rest stay as they are. */
static void look_again(struct evening *evening)
{
    struct terminal *terminal = evening->terminal;
    press(terminal, "4");
    assert_shows(terminal, "second look");
    assert_shows(terminal, "0 of 29");
    for (int fish = 1; fish <= 3; fish++) {
        char done[16];
        snprintf(done, sizeof done, "%d of 29", fish);
        press(terminal, "s");
        assert_shows(terminal, done);
    }
    press(terminal, "q");
    assert_shows(terminal, "20 places");
}

static void whole_evening(const struct farm *farm, bool cells)
{
    struct evening evening = begin(farm, cells);
    judge_bowl(&evening);
    assert_numbers(&evening, 8, 42, 10);
    take_the_best(&evening);
    assert_numbers(&evening, 20, 30, 10);
    record_pass(&evening, "The pass is recorded: 20 keep, 30 hold, 10 reject.");
    assert_numbers(&evening, 20, 30, 10);
    correct_a_fish(&evening);
    assert_numbers(&evening, 19, 30, 11);
    fill_the_free_place(&evening);
    assert_numbers(&evening, 20, 29, 11);
    record_pass(&evening, "The pass is recorded: 20 keep, 29 hold, 11 reject.");
    assert_numbers(&evening, 20, 29, 11);
    look_again(&evening);
    assert_numbers(&evening, 20, 26, 14);
    terminal_close(evening.terminal);
}

static void an_evening_with_cells(void **state)
{
    whole_evening(*state, true);
}

static void an_evening_with_basins(void **state)
{
    whole_evening(*state, false);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(an_evening_with_cells, farm_setup_empty, farm_teardown),
        cmocka_unit_test_setup_teardown(an_evening_with_basins, farm_setup_empty, farm_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
