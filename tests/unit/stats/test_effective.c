#include "senbetsu/stats/effective.h"
#include "support/test.h"

#include <math.h>

static bool near(double a, double b)
{
    return fabs(a - b) < 1e-12;
}

/* 99 dams with one sire, and two pairs: U.S. Fish and Wildlife Service, Inland Salmonid Broodstock
 * Management Handbook. The others are worked out from the formula. */
static void numbers_of_parents_come_out_as_published(void **state)
{
    (void)state;
    static const struct {
        int dams, sires;
        double effective, inbreeding;
    } seasons[] = {
        {99, 1, 3.96, 1 / 7.92}, {2, 2, 4, 0.125}, {1, 1, 2, 0.25},
        {1, 3, 3, 1.0 / 6},      {5, 5, 10, 0.05}, {25, 25, 50, 0.01},
    };
    for (size_t i = 0; i < sizeof seasons / sizeof *seasons; i++) {
        double effective = effective_parents(seasons[i].dams, seasons[i].sires);
        assert_true(near(effective, seasons[i].effective));
        assert_true(near(inbreeding_per_generation(effective), seasons[i].inbreeding));
    }
    assert_true(effective_parents(0, 4) == 0);
}

/* 900 of 1000 tosai from one dam and 100 from another: 1 ÷ (0.81 + 0.01). */
static void unequal_parts_count_for_less(void **state)
{
    (void)state;
    const double even[] = {40, 40, 40}, uneven[] = {900, 100, 0}, none[] = {0, 0};
    assert_true(near(effective_number(even, 3), 3));
    assert_true(near(effective_number(uneven, 3), 1 / 0.82));
    assert_true(effective_number(none, 2) == 0);
}

/* Two tosai taken at random, of dams and sires that are not related, are akin by (Σp² of the dams +
 * Σp² of the sires) ÷ 8, which is 1 ÷ (2 · effective number). */
static void the_effective_number_tells_the_kinship_of_the_young(void **state)
{
    (void)state;
    const double dams[] = {500, 300, 200}, sires[] = {700, 300};
    double kinship = (0.25 + 0.09 + 0.04 + 0.49 + 0.09) / 8;
    double effective = effective_parents(effective_number(dams, 3), effective_number(sires, 2));
    assert_true(near(inbreeding_per_generation(effective), kinship));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_of_parents_come_out_as_published),
        cmocka_unit_test(unequal_parts_count_for_less),
        cmocka_unit_test(the_effective_number_tells_the_kinship_of_the_young),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
