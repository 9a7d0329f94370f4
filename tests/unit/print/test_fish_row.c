#include "senbetsu/print/fish_row.h"
#include "support/test.h"

#include "cull_sample.h"

static int by_number(const void *left, const void *right)
{
    return ((const struct fish_ref *)left)->row->number -
           ((const struct fish_ref *)right)->row->number;
}

static void refers_to_the_rows_in_order(void **state)
{
    (void)state;
    const struct fish_row rows[] = {sample_fish(1, 3, VERDICT_KEEP, "", ""),
                                    sample_fish(1, 1, VERDICT_KEEP, "", ""),
                                    sample_fish(1, 2, VERDICT_KEEP, "", "")};
    struct fish_ref *order = fish_sorted(rows, 3, by_number);
    assert_ptr_equal(order[0].row, &rows[1]);
    assert_ptr_equal(order[1].row, &rows[2]);
    assert_ptr_equal(order[2].row, &rows[0]);
    free(order);
}

static void gives_something_to_free_for_no_rows(void **state)
{
    (void)state;
    struct fish_ref *order = fish_sorted(NULL, 0, by_number);
    assert_non_null(order);
    free(order);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(refers_to_the_rows_in_order),
        cmocka_unit_test(gives_something_to_free_for_no_rows),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
