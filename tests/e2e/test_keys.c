/* What a fish costs: an obvious reject and a good average one at most two keys, an average one with
 * a single exception at most four, on the letters and on the keypad alone. */
#include "walk.h"

static int keys_in(const char *keys)
{
    int count = 1;
    for (; *keys != '\0'; keys++)
        count += *keys == ' ';
    return count;
}

static void judge_within(struct terminal *terminal, const char *keys, int fish, int most)
{
    assert_true(keys_in(keys) <= most);
    judge(terminal, keys, fish);
}

/* Three fish, then what the ledger has of them: the scores in the standard's order. */
static void assert_costs(struct farm *farm, const char *reject, const char *average,
                         const char *exception)
{
    struct terminal *terminal = walk_to_first_fish(farm, "3");
    judge_within(terminal, reject, 1, 2);
    assert_shows(terminal, "Bent spine");
    judge_within(terminal, average, 2, 2);
    assert_shows(terminal, "50.0 points");
    judge_within(terminal, exception, 3, 4);
    assert_shows(terminal, "3 of 3");
    terminal_close(terminal);

    struct text fish;
    text_init(&fish);
    export_fish(farm, &fish);
    assert_non_null(strstr(fish.data, "harvest,1,1,Ines,"));
    assert_non_null(strstr(fish.data, ",spine,,,,,,,,,,,"));
    assert_non_null(strstr(fish.data, ",3,3,3,3,3,3,3,3,3,3,3"));
    assert_non_null(strstr(fish.data, ",3,3,3,3,2,3,3,3,3,3,3"));
    text_done(&fish);
}

static void test_letters(void **state)
{
    assert_costs(*state, "s", "Enter", "W 2 Enter");
}

static void test_keypad_alone(void **state)
{
    assert_costs(*state, "* 1", "Enter", "/ 5 2 Enter");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_letters, farm_setup, farm_teardown),
        cmocka_unit_test_setup_teardown(test_keypad_alone, farm_setup, farm_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
