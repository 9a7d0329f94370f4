/* Two programs on one ledger: each at its own bowl, both in one round's totals. */
#include "walk.h"

static struct terminal *screens_of(const struct farm *farm, const char *judge_name)
{
    const char *command[] = {
        getenv("SENBETSU_PROGRAM"), "--ledger", farm->ledger, "--judge", judge_name, NULL};
    return terminal_open(&(struct terminal_setup){.command = command});
}

static void test_each_at_a_bowl(void **state)
{
    struct terminal *ines = screens_of(*state, "Ines");
    walk_to_round(ines, "", "6");
    walk_to_bowl(ines, "3");
    struct terminal *ryo = screens_of(*state, "Ryo");
    assert_shows(ryo, "K25-1");
    press(ryo, "Down Enter Enter");
    assert_shows(ryo, "+ next bowl");
    walk_to_bowl(ryo, "3");

    judge(ines, "Enter", 1);
    judge(ryo, "s", 1);
    assert_shows(ryo, "2 of 6");
    judge(ines, "Enter", 2);
    assert_shows(ines, "3 of 6");
    judge(ryo, "Enter", 2);
    judge(ryo, "Enter", 3);
    assert_shows(ryo, "5 of 6");
    judge(ines, "j", 3);
    assert_shows(ines, "6 of 6");
    terminal_close(ines);
    terminal_close(ryo);

    struct text fish;
    text_init(&fish);
    export_fish(*state, &fish);
    assert_non_null(strstr(fish.data, "harvest,1,3,Ines,"));
    assert_non_null(strstr(fish.data, "harvest,2,3,Ryo,"));
    text_done(&fish);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_each_at_a_bowl, farm_setup, farm_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
