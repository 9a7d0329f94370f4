#include "support/test.h"

#include "senbetsu/core/count.h"
#include "senbetsu/core/fates.h"

static struct fates stated(void)
{
    return (struct fates){.fish = {[FATE_POND_GRADE] = 20, [FATE_PUT_DOWN] = 35}};
}

static void the_rest_goes_to_the_fate_of_the_round(void **state)
{
    (void)state;
    struct fates fates = stated();
    fates_settle(&fates, 60, FATE_PUT_DOWN);
    assert_int_equal(fates.fish[FATE_PUT_DOWN], 40);
    assert_int_equal(fates.fish[FATE_POND_GRADE], 20);
    assert_int_equal(fates.fish[FATE_UNDECIDED], 0);
    assert_int_equal(fates.over, 0);
}

static void the_rest_of_a_round_without_a_fate_is_not_decided(void **state)
{
    (void)state;
    struct fates fates = stated();
    fates_settle(&fates, 60, FATE_UNDECIDED);
    assert_int_equal(fates.fish[FATE_UNDECIDED], 5);
    fates = (struct fates){0};
    fates_settle(&fates, 60, FATE_UNDECIDED);
    assert_int_equal(fates.fish[FATE_UNDECIDED], 60);
    assert_false(fates_any(&fates));
}

static void more_than_were_rejected_are_told(void **state)
{
    (void)state;
    struct fates fates = stated();
    fates_settle(&fates, 50, FATE_PUT_DOWN);
    assert_int_equal(fates.over, 5);
    assert_int_equal(fates.fish[FATE_PUT_DOWN], 35);
}

static void uncounted_rejects_have_no_rest(void **state)
{
    (void)state;
    struct fates fates = stated();
    struct fates before = fates;
    fates_settle(&fates, NOT_COUNTED, FATE_PUT_DOWN);
    assert_true(fates_equal(&fates, &before));
}

static void they_add_up(void **state)
{
    (void)state;
    struct fates total = {0};
    struct fates fates = stated();
    assert_false(fates_any(&total));
    assert_true(fates_any(&fates));
    fates_settle(&fates, 50, FATE_UNDECIDED);
    fates_add(&total, &fates);
    fates_add(&total, &fates);
    assert_int_equal(total.fish[FATE_POND_GRADE], 40);
    assert_int_equal(total.over, 10);
    assert_false(fates_equal(&total, &fates));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_rest_goes_to_the_fate_of_the_round),
        cmocka_unit_test(the_rest_of_a_round_without_a_fate_is_not_decided),
        cmocka_unit_test(more_than_were_rejected_are_told),
        cmocka_unit_test(uncounted_rejects_have_no_rest),
        cmocka_unit_test(they_add_up),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
