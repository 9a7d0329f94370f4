#include "senbetsu/core/usual_age.h"
#include "support/test.h"

/* A spawning of late May is culled first in July and lifted in the autumn. */
static void culls_have_their_age(void **state)
{
    (void)state;
    assert_int_equal(usual_age("Kohaku", STAGE_FIRST)->first_day, 28);
    assert_int_equal(usual_age("Kohaku", STAGE_FIRST)->last_day, 45);
    assert_int_equal(usual_age("", STAGE_HARVEST)->first_day, 110);
    assert_int_equal(usual_age("Showa", STAGE_BLACK)->last_day, 7);
}

static void some_have_none(void **state)
{
    (void)state;
    assert_null(usual_age("Kohaku", STAGE_BLACK));
    assert_null(usual_age("Showa", STAGE_FOURTH));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(culls_have_their_age),
        cmocka_unit_test(some_have_none),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
