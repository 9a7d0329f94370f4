#include "senbetsu/base/date.h"
#include "support/test.h"

static void a_fixed_clock_stands_until_it_is_moved(void **state)
{
    (void)state;
    int64_t now = INT64_C(1781430000000);
    struct clock clock = clock_fixed(&now);
    assert_true(clock_now(&clock) == now);
    assert_int_equal(clock.offset_minutes, 0);
    now += 1500;
    assert_true(clock_now(&clock) == INT64_C(1781430001500));
}

static int64_t counting(void *context)
{
    return ++*(int64_t *)context;
}

static void any_function_can_be_a_clock(void **state)
{
    (void)state;
    int64_t count = 41;
    struct clock clock = {.now_ms = counting, .context = &count};
    assert_int_equal(clock_now(&clock), 42);
    assert_int_equal(clock_now(&clock), 43);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_fixed_clock_stands_until_it_is_moved),
        cmocka_unit_test(any_function_can_be_a_clock),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
