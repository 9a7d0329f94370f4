#include "senbetsu/print/fates_text.h"
#include "support/test.h"

static void assert_reads(struct fates fates, const char *expected)
{
    struct text out;
    text_init(&out);
    text_add(&out, "fish: ");
    fates_text(&fates, &out);
    assert_string_equal(out.data + 6, expected);
    text_done(&out);
}

static void names_each_fate_that_any_fish_had(void **state)
{
    (void)state;
    assert_reads((struct fates){0}, "");
    assert_reads((struct fates){.fish = {[FATE_PASSED_ON] = 3}}, "passed-on 3");
    assert_reads(
        (struct fates){
            .fish = {[FATE_UNDECIDED] = 5, [FATE_POND_GRADE] = 20, [FATE_PUT_DOWN] = 40}},
        "pond-grade 20, put-down 40, not decided 5");
}

static void says_that_a_number_is_wrong(void **state)
{
    (void)state;
    assert_reads((struct fates){.fish = {[FATE_KEPT_APART] = 9}, .over = 2},
                 "kept-apart 9, 2 more than were rejected");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(names_each_fate_that_any_fish_had),
        cmocka_unit_test(says_that_a_number_is_wrong),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
