#include "senbetsu/report/pair_text.h"
#include "support/test.h"

static void assert_pair(const char *dam, const char *sires, enum siring siring,
                        const char *expected)
{
    struct spawning spawning = {.siring = siring};
    char text[NOTE_SIZE];
    snprintf(spawning.dam, sizeof spawning.dam, "%s", dam);
    snprintf(spawning.sires, sizeof spawning.sires, "%s", sires);
    assert_string_equal(pair_text(&spawning, text, sizeof text), expected);
}

static void test_pairs(void **state)
{
    (void)state;
    assert_pair("K7", "P2", SIRING_SINGLE, "K7 × P2");
    assert_pair("K7", "P2;P3", SIRING_POOLED, "K7 × P2;P3 (pooled)");
    assert_pair("", "P2", SIRING_SINGLE, "? × P2");
    assert_pair("K7", "", SIRING_GROUP, "K7 × ?");
    assert_pair("", "", SIRING_SINGLE, "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_pairs)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
