/* The README's list of keys is the table's own. */
#include "senbetsu/ui/bindings.h"
#include "support/source.h"
#include "support/test.h"

static const char begin[] =
    "<!-- keys: made from the program's own table; a test holds them against it -->\n";
static const char end[] = "<!-- end of keys -->\n";

static void test_lists_every_key(void **state)
{
    (void)state;
    struct text readme, expected;
    source_file("README.md", &readme);
    const char *from = strstr(readme.data, begin);
    const char *to = strstr(readme.data, end);
    assert_non_null(from);
    assert_non_null(to);
    text_init(&expected);
    text_add_bytes(&expected, readme.data, (size_t)(from - readme.data));
    text_add(&expected, begin);
    bindings_markdown(&expected);
    text_add(&expected, to);
    assert_as_in_source("README.md", expected.data);
    text_done(&expected);
    text_done(&readme);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_lists_every_key),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
