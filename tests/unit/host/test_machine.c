#include "senbetsu/host/machine.h"
#include "support/test.h"

static void test_the_clock_counts_milliseconds(void **state)
{
    (void)state;
    struct clock clock = machine_clock();
    int64_t now = clock_now(&clock);
    assert_true(now > 1700000000000); /* 2023 */
    assert_true(clock_now(&clock) >= now);
}

static void assert_offset(const char *zone, int minutes)
{
    setenv("TZ", zone, 1);
    assert_int_equal(machine_clock().offset_minutes, minutes);
}

/* POSIX zones count west of UTC, the clock east of it. */
static void test_local_time(void **state)
{
    (void)state;
    assert_offset("UTC", 0);
    assert_offset("XXX-05:30", 330);
    assert_offset("XXX-14", 840);
    assert_offset("XXX+11", -660);
}

static void test_seeds_differ(void **state)
{
    (void)state;
    uint8_t first[16] = {0}, second[16] = {0};
    machine_seed(first);
    machine_seed(second);
    assert_memory_not_equal(first, second, sizeof first);
}

static void test_the_name_fits(void **state)
{
    (void)state;
    char name[4] = "";
    machine_name(name, sizeof name);
    assert_in_range(strlen(name), 1, 3);
}

static void test_a_network_is_told_from_a_disk(void **state)
{
    (void)state;
    assert_true(machine_is_network(0x6969));
    assert_true(machine_is_network((unsigned long)(int)0xff534d42)); /* f_type may be signed */
    assert_false(machine_is_network(0xef53));                        /* ext4 */
    assert_false(machine_shares("/"));
    assert_false(machine_shares("/no/such/file"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_the_clock_counts_milliseconds),
        cmocka_unit_test(test_local_time),
        cmocka_unit_test(test_seeds_differ),
        cmocka_unit_test(test_the_name_fits),
        cmocka_unit_test(test_a_network_is_told_from_a_disk),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
