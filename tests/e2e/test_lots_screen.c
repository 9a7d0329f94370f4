/* A summer of a pond through the real screens: a lot is counted, loses fish, is split, is put
 * together with fish of another spawning and culled as a mixed lot; the program is killed in
 * between, and the numbers come out as a hand adds them up. */
#include "walk.h"
#include <signal.h>

static void open_lots(struct terminal *terminal, const char *keys, const char *code)
{
    char title[32];
    assert_shows(terminal, "senbetsu: seasons and spawnings");
    assert_shows(terminal, code);
    press(terminal, keys);
    press(terminal, "Enter");
    snprintf(title, sizeof title, "%s: Kikusui", code);
    assert_shows(terminal, title);
    press(terminal, "/");
    snprintf(title, sizeof title, "%s: lots", code);
    assert_shows(terminal, title);
}

/* Opens the form of fish, where `what` is chosen by its number. */
static void say_fish(struct terminal *terminal, const char *what, const char *fish)
{
    press(terminal, "+ Up");
    assert_shows(terminal, "They were");
    press(terminal, what);
    press(terminal, "Enter");
    press(terminal, fish);
    press(terminal, "F2");
    assert_shows(terminal, "Recorded; - undoes it");
}

static void kill_program(struct terminal *terminal)
{
    terminal_signal(terminal, SIGKILL);
    assert_int_equal(terminal_status(terminal), 128 + SIGKILL);
    terminal_close(terminal);
}

/* 1000 counted, 12 dead, 5 lost, 2 found; 400 of them go into a lot of their own in pond 9. */
static void live_through_summer(struct terminal *terminal)
{
    assert_shows(terminal, "203000");
    say_fish(terminal, "1", "1 0 0 0");
    assert_shows(terminal, "1000 counted");
    say_fish(terminal, "2", "1 2");
    say_fish(terminal, "3", "5");
    say_fish(terminal, "4", "2");
    assert_shows(terminal, "985 counted");
    press(terminal, "5");
    assert_shows(terminal, "By the book: 985 counted");
    press(terminal, "4 0 0 Enter Enter Enter Enter 9 F2");
    assert_shows(terminal, "585 counted");
    assert_shows(terminal, "2 of K25-1");
    assert_shows(terminal, "in 9");
    assert_shows(terminal, "400 counted");
}

/* What stands in a form and is not saved is all that is lost. */
static void kill_in_a_form(const struct farm *farm, struct terminal *terminal)
{
    press(terminal, "5");
    assert_shows(terminal, "By the book: 585 counted");
    press(terminal, "7");
    kill_program(terminal);
    terminal = farm_screens(farm, 24, 80, NULL);
    open_lots(terminal, "Down", "K25-1");
    assert_shows(terminal, "585 counted");
    assert_shows(terminal, "400 counted");
    assert_shows(terminal, "dead 12; lost 5; found 2");
    terminal_close(terminal);
}

/* The 400 and another spawning's 200 become a mixed lot; it comes apart and together again. */
static void put_together(struct terminal *terminal)
{
    press(terminal, "Down 6");
    assert_shows(terminal, "Merge with");
    press(terminal, "3");
    assert_shows(terminal, "[K25-2]");
    assert_shows(terminal, "mixed 1");
    press(terminal, "F2");
    assert_shows(terminal, "The lots are merged");
    assert_shows(terminal, "mixed 1, mixed");
    assert_shows(terminal, "600 counted");
    assert_shows(terminal, "mixed from K25-1;K25-2");
    press(terminal, "-");
    assert_shows(terminal, "- again undoes");
    press(terminal, "-");
    assert_shows(terminal, "Undone:");
    assert_shows(terminal, "400 counted");
    assert_hides(terminal, "600 counted");
    press(terminal, "6 3");
    assert_shows(terminal, "[K25-2]");
    press(terminal, "F2");
    assert_shows(terminal, "600 counted");
}

/* The mixed lot's own round: a mark is made, the program killed, and the hand comes back. */
static void cull_the_mixed_lot(const struct farm *farm, struct terminal *terminal)
{
    press(terminal, "End");
    say_fish(terminal, "2", "4");
    assert_shows(terminal, "596 counted");
    press(terminal, "Enter");
    assert_shows(terminal, "mixed from K25-1;K25-2");
    press(terminal, "+");
    assert_shows(terminal, "[mixed 1]");
    press(terminal, "6 Enter Enter 2 F2");
    assert_shows(terminal, "a key is a FISH");
    press(terminal, "1 1 0");
    assert_shows(terminal, "tallied    3");
    kill_program(terminal);
    terminal = farm_screens(farm, 24, 80, NULL);
    assert_shows(terminal, "tallied    3");
    assert_shows(terminal, "lot mixed 1");
    press(terminal, "q");
    assert_shows(terminal, "mixed 1: Kikusui  mixed from K25-1;K25-2");
    assert_shows(terminal, "tallied, ");
    press(terminal, "+");
    assert_shows(terminal, "Which cull");
    press(terminal, "6 Enter Enter 2 F2");
    assert_shows(terminal, "The harvest cull of this lot has been begun");
    press(terminal, "Escape");
    assert_shows(terminal, "Esc again leaves");
    press(terminal, "Escape q");
    assert_shows(terminal, "mixed harvest mixed 1");
    terminal_close(terminal);
}

/* The day is that of the clock. */
static void assert_lots(const struct farm *farm)
{
    static const char *const events[] = {
        ",count,1000,counted,", ",dead,12,counted,",      ",lost,5,counted,",
        ",found,2,counted,",    ",transfer,400,counted,", ",move,",
        ",count,200,counted,",  ",transfer,,,",           ",dead,4,counted,",
    };
    struct text text;
    text_init(&text);
    assert_int_equal(farm_run(farm, &text, "export", "lots", NULL), 0);
    for (size_t i = 0; i < sizeof events / sizeof *events; i++)
        if (strstr(text.data, events[i]) == NULL)
            fail_msg("%s is not in:\n%s", events[i], text.data);
    text_clear(&text);
    assert_int_equal(farm_run(farm, &text, "export", "rounds", NULL), 0);
    if (strstr(text.data, "K25-1;K25-2,mixed 1,harvest,") == NULL)
        fail_msg("no round of the mixed lot:\n%s", text.data);
    text_done(&text);
    assert_int_equal(farm_run(farm, NULL, "check", NULL), 0);
}

static void test_a_summer(void **state)
{
    const struct farm *farm = *state;
    struct terminal *terminal = farm_screens(farm, 24, 80, NULL);
    open_lots(terminal, "Down", "K25-1");
    live_through_summer(terminal);
    kill_in_a_form(farm, terminal);

    terminal = farm_screens(farm, 24, 80, NULL);
    open_lots(terminal, "Down Down Down", "K25-2");
    say_fish(terminal, "1", "2 0 0");
    press(terminal, "q q q");
    assert_int_equal(terminal_status(terminal), 0);
    terminal_close(terminal);

    terminal = farm_screens(farm, 24, 80, NULL);
    open_lots(terminal, "Down", "K25-1");
    put_together(terminal);
    cull_the_mixed_lot(farm, terminal);
    assert_lots(farm);
}

/* Of all fish of two spawnings. */
static void mix_a_lot(const struct farm *farm)
{
    char path[160];
    farm_file(farm, "lots.csv",
              "spawning,lot,date,event,number,into_spawning,into_lot\n"
              "K25-1,,2025-09-01,count,30,,\n"
              "K25-2,,2025-09-01,count,20,,\n"
              "K25-1,,2025-09-02,transfer,,K25-1;K25-2,barn\n"
              "K25-2,,2025-09-02,transfer,,K25-1;K25-2,barn\n",
              path, sizeof path);
    assert_int_equal(farm_run(farm, NULL, "import", "lots", path, NULL), 0);
}

/* Its name typed for a spawning's lot would make a second lot of that name. */
static void test_a_mixed_lot_is_not_begun_twice(void **state)
{
    const struct farm *farm = *state;
    mix_a_lot(farm);
    struct terminal *terminal = farm_screens(farm, 24, 80, NULL);
    open_lots(terminal, "Down", "K25-1");
    press(terminal, "5");
    assert_shows(terminal, "Into lot");
    press(terminal, "1 Enter Enter Enter Backspace b a r n F2");
    assert_shows(terminal, "Lot barn is mixed from K25-1;K25-2");
    press(terminal, "Escape");
    assert_shows(terminal, "Esc again leaves");
    press(terminal, "Escape q");
    assert_shows(terminal, "K25-1: Kikusui");
    press(terminal, "+");
    assert_shows(terminal, "Which cull");
    press(terminal, "6 Enter b a r n F2");
    assert_shows(terminal, "Lot barn is mixed from K25-1;K25-2");
    terminal_close(terminal);
}

/* A bowl of a mixed lot is judged like any other. */
static void test_a_bowl_of_a_mixed_lot(void **state)
{
    const struct farm *farm = *state;
    static const char *const mono[] = {"NO_COLOR=1", NULL};
    mix_a_lot(farm);
    struct terminal *terminal = farm_screens(farm, 24, 80, mono);
    open_lots(terminal, "Down", "K25-1");
    assert_shows(terminal, "barn, mixed");
    assert_false(terminal_coloured(terminal));
    press(terminal, "End Enter");
    assert_shows(terminal, "barn: Kikusui");
    press(terminal, "+");
    assert_shows(terminal, "[barn]");
    press(terminal, "6 F2");
    assert_shows(terminal, "mixed: harvest barn");
    walk_to_bowl(terminal, "2");
    assert_shows(terminal, "lot barn");
    judge(terminal, "Enter", 1);
    press(terminal, "s q");
    assert_shows(terminal, "mixed: harvest barn");
    press(terminal, "6");
    assert_shows(terminal, "mixed, Kikusui, lot barn, harvest");
    terminal_close(terminal);
    terminal = farm_screens(farm, 24, 80, NULL);
    assert_shows(terminal, "mixed harvest barn");
    terminal_close(terminal);
}

/* More fish left than the lot had; those that are in the pond all the same can be put together. */
static void test_an_overdrawn_lot_is_put_together(void **state)
{
    const struct farm *farm = *state;
    char path[128];
    farm_file(farm, "lots.csv",
              "spawning,lot,date,event,number,into_lot\nK25-1,,2025-07-01,count,100,\n"
              "K25-1,,2025-07-02,transfer,30,west\nK25-1,west,2025-07-03,lost,35,\n",
              path, sizeof path);
    assert_int_equal(farm_run(farm, NULL, "import", "lots", path, NULL), 0);
    struct terminal *terminal = farm_screens(farm, 24, 80, NULL);
    open_lots(terminal, "Down", "K25-1");
    assert_shows(terminal, "5 too many taken");
    press(terminal, "6");
    assert_shows(terminal, "[west of K25-1]");
    press(terminal, "F2");
    assert_shows(terminal, "The lots are merged");
    assert_shows(terminal, "not known");
    assert_hides(terminal, "too many taken");
    terminal_close(terminal);
}

/* Not a fault of the ledger, but a number that somebody should look at. */
static void test_check_remarks_on_overdrawn_lots(void **state)
{
    const struct farm *farm = *state;
    char path[128];
    struct text out;
    text_init(&out);
    farm_file(farm, "lots.csv",
              "spawning,date,event,number\nK25-1,2025-07-01,count,100\n"
              "K25-1,2025-07-02,lost,130\n",
              path, sizeof path);
    assert_int_equal(farm_run(farm, NULL, "import", "lots", path, NULL), 0);
    assert_int_equal(farm_run(farm, &out, "check", NULL), 0);
    assert_non_null(strstr(out.data,
                           "Remark: 30 more fish left lot K25-1 than it had; a number is wrong.\n"
                           "Nothing is wrong: "));
    text_done(&out);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_a_summer, farm_setup, farm_teardown),
        cmocka_unit_test_setup_teardown(test_a_mixed_lot_is_not_begun_twice, farm_setup,
                                        farm_teardown),
        cmocka_unit_test_setup_teardown(test_a_bowl_of_a_mixed_lot, farm_setup, farm_teardown),
        cmocka_unit_test_setup_teardown(test_an_overdrawn_lot_is_put_together, farm_setup,
                                        farm_teardown),
        cmocka_unit_test_setup_teardown(test_check_remarks_on_overdrawn_lots, farm_setup,
                                        farm_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
