#include "senbetsu/stats/glmm/draws.h"
#include "support/parent_file.h"
#include "support/test.h"

#include <math.h>

enum { CROSSES = 4, DRAWS = 20000 };

/* Two crosses that were set, of the same dam; one of known parents that was not; one of which only
 * the dam is known. */
static const struct parent_cross crosses[CROSSES] = {
    {PARENT_TYPICAL, PARENT_ANY_VARIETY, {0, 0, 0, PARENT_WITHOUT}},
    {2, PARENT_ANY_VARIETY, {0, 2, 1, 3}},
    {PARENT_TYPICAL, PARENT_ANY_VARIETY, {3, 4, PARENT_NEW, PARENT_WITHOUT}},
    {PARENT_TYPICAL, PARENT_ANY_VARIETY, {5, PARENT_NEW, PARENT_NEW, PARENT_NEW}},
};

static struct parent_model *fit_large(void)
{
    static struct parent_file file;
    struct parent_model *model;
    struct err err;
    parent_file_read(&file, "tests/data/parent_model/farm_large_data.csv");
    assert_ok(parent_model_new(&file.data, PARENT_ALL_TERMS, &model, &err), &err);
    return model;
}

/* Mean and variance of what is drawn are those that are expected, and so is how crosses differ. The
 * mean is that at the estimates in one and over all standard deviations in the other. */
static void draws_are_as_expected(void **state)
{
    (void)state;
    struct parent_model *model = fit_large();
    struct parent_draws *draws = parent_draws_new(model, crosses, CROSSES, 7);
    double square[CROSSES] = {0}, apart[CROSSES] = {0}, sum[CROSSES] = {0}, drawn[CROSSES];
    struct parent_expectation expected[CROSSES], difference[CROSSES];
    for (int i = 0; i < CROSSES; i++) {
        expected[i] = parent_model_expect(model, &crosses[i]);
        difference[i] = parent_model_difference(model, &crosses[i], &crosses[0]);
    }
    for (int draw = 0; draw < DRAWS; draw++) {
        parent_draws_next(draws, drawn);
        for (int i = 0; i < CROSSES; i++) {
            double off = drawn[i] - expected[i].mean, between = drawn[i] - drawn[0];
            sum[i] += off;
            square[i] += off * off;
            apart[i] += pow(between - difference[i].mean, 2);
        }
    }
    for (int i = 0; i < CROSSES; i++) {
        assert_true(fabs(sum[i] / DRAWS) < 0.1 * sqrt(expected[i].variance));
        assert_true(fabs(square[i] / DRAWS / expected[i].variance - 1) < 0.05);
        assert_true(i == 0 || fabs(apart[i] / DRAWS / difference[i].variance - 1) < 0.05);
    }
    parent_draws_free(draws);
    parent_model_free(model);
}

static void a_seed_draws_the_same_again(void **state)
{
    (void)state;
    struct parent_model *model = fit_large();
    double first[CROSSES], again[CROSSES], other[CROSSES];
    struct parent_draws *draws = parent_draws_new(model, crosses, CROSSES, 7);
    struct parent_draws *same = parent_draws_new(model, crosses, CROSSES, 7);
    struct parent_draws *different = parent_draws_new(model, crosses, CROSSES, 8);
    parent_draws_next(draws, first);
    parent_draws_next(same, again);
    parent_draws_next(different, other);
    assert_memory_equal(first, again, sizeof first);
    assert_memory_not_equal(first, other, sizeof first);
    parent_draws_free(draws);
    parent_draws_free(same);
    parent_draws_free(different);
    parent_model_free(model);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(draws_are_as_expected),
        cmocka_unit_test(a_seed_draws_the_same_again),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
