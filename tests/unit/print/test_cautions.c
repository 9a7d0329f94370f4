#include "support/test.h"

#include "senbetsu/print/cautions.h"

static bool any_says(const char *part)
{
    for (const char *const *caution = cautions; *caution != NULL; caution++)
        if (strstr(*caution, part) != NULL)
            return true;
    return false;
}

static void say_what_must_be_said(void **state)
{
    (void)state;
    static const char *const parts[] = {
        "AVMA Guidelines for the Euthanasia of Animals",
        "WOAH Aquatic Code",
        "not yet dead",
        "chilling",
        "flushing",
        "vet",
        "local law",
        "local rule",
        "drains",
        "food or feed",
        "release",
        "unlawful",
        "move nothing",
        "KHV",
        "disinfect",
        "Healthy ponds first",
        "gloves",
        "RCD",
        "low-voltage",
        "not alone",
    };
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
        if (!any_says(parts[i]))
            fail_msg("no caution says \"%s\"", parts[i]);
}

/* A dose has a number in it: there is none. */
static void are_plain_ascii_without_numbers(void **state)
{
    (void)state;
    for (const char *const *caution = cautions; *caution != NULL; caution++)
        for (const char *at = *caution; *at != '\0'; at++) {
            assert_in_range(*at, ' ', '~');
            assert_false('0' <= *at && *at <= '9');
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(say_what_must_be_said),
        cmocka_unit_test(are_plain_ascii_without_numbers),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
