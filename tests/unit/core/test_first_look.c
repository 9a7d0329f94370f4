#include "senbetsu/core/first_look.h"
#include "support/test.h"

/* A letter is a fish: g is good, n is not; a digit before it says how many. */
static struct first_look looked(const char *fish)
{
    struct first_look look = {.looked_at = 0};
    int times = 0;
    for (; *fish != '\0'; fish++) {
        if (*fish >= '0' && *fish <= '9') {
            times = 10 * times + *fish - '0';
            continue;
        }
        for (int i = 0; i < (times == 0 ? 1 : times); i++)
            first_look_add(&look, *fish == 'g');
        times = 0;
    }
    return look;
}

static void assert_advice(const char *fish, enum first_look_advice advice, int64_t missing)
{
    struct first_look look = looked(fish);
    if (first_look_advice(&look) != advice || first_look_missing(&look) != missing)
        fail_msg("%s: advice %d, %d missing", fish, first_look_advice(&look),
                 (int)first_look_missing(&look));
}

static void test_fish_add_up(void **state)
{
    (void)state;
    struct first_look look = looked("3g17n2g18n4g");
    assert_int_equal(look.looked_at, 44);
    assert_int_equal(look.good, 9);
    assert_int_equal(look.good_in_dish[0], 3);
    assert_int_equal(look.good_in_dish[1], 2);
}

static void test_the_first_dish(void **state)
{
    (void)state;
    assert_advice("", LOOK_UNFINISHED, 20);
    assert_advice("9g10n", LOOK_UNFINISHED, 1);
    assert_advice("5g15n", LOOK_AS_PLANNED, 0);
    assert_advice("6g14n", LOOK_AS_PLANNED, 0);
    assert_advice("7g13n", LOOK_MORE_ROOM, 0);
    assert_advice("20g", LOOK_MORE_ROOM, 0);
}

static void test_a_poor_dish_asks_for_another(void **state)
{
    (void)state;
    assert_advice("4g16n", LOOK_AGAIN, 20);
    assert_advice("20n19n", LOOK_AGAIN, 1);
    assert_advice("4g16n4g16n", LOOK_HARDLY_WORTH, 0);
    assert_advice("16n4g15n5g", LOOK_AS_PLANNED, 0);
    assert_advice("4g16n12g8n", LOOK_AS_PLANNED, 0);
}

/* The rule has nothing to say of a third dish. */
static void test_more_fish_change_nothing(void **state)
{
    (void)state;
    assert_advice("4g16n4g16n20g", LOOK_HARDLY_WORTH, 0);
    assert_advice("7g13n40n", LOOK_MORE_ROOM, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_fish_add_up),
        cmocka_unit_test(test_the_first_dish),
        cmocka_unit_test(test_a_poor_dish_asks_for_another),
        cmocka_unit_test(test_more_fish_change_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
