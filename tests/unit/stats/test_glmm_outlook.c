#include "senbetsu/stats/glmm/outlook.h"
#include "support/parent_file.h"
#include "support/test.h"

#include <math.h>

enum { DRAWS = 4000 };

static void assert_near(double actual, double expected, double tolerance)
{
    if (!(fabs(actual - expected) <= tolerance))
        fail_msg("%.9g came out, %.9g is expected", actual, expected);
}

static struct parent_model *fit(void)
{
    static struct parent_file file;
    struct parent_model *model;
    struct err err;
    parent_file_read(&file, "tests/data/parent_model/farm_large_data.csv");
    assert_ok(parent_model_new(&file.data, PARENT_ALL_TERMS, &model, &err), &err);
    return model;
}

static struct parent_cross cross_of(int dam, int sire, int pair)
{
    return (struct parent_cross){
        PARENT_TYPICAL, PARENT_ANY_VARIETY, {dam, sire, pair, PARENT_WITHOUT}};
}

/* 0.05 of the normal distribution lie above 1.6449. */
static void a_share_is_expected_with_its_interval(void **state)
{
    (void)state;
    struct parent_model *model = fit();
    struct parent_cross cross = cross_of(0, 0, 0);
    struct parent_outlook outlook;
    parent_outlook_find(model, &cross, 1, DRAWS, 1, &outlook);
    struct parent_expectation run = parent_model_expect(model, &cross);
    cross.level[PARENT_SPAWNING] = PARENT_NEW;
    struct parent_expectation next = parent_model_expect(model, &cross);
    assert_near(outlook.expected, 1 / (1 + exp(-run.mean)), 1e-12);
    assert_near(log(outlook.interval.high / (1 - outlook.interval.high)),
                run.mean + 1.644854 * sqrt(run.variance), 1e-5);
    assert_near(log(outlook.interval.low / (1 - outlook.interval.low)),
                run.mean - 1.644854 * sqrt(run.variance), 1e-5);
    assert_near(log(outlook.spawning.high / (1 - outlook.spawning.high)),
                run.mean + 1.644854 * sqrt(next.variance), 1e-5);
    assert_true(next.variance > run.variance + 0.01);
    parent_model_free(model);
}

/* Parents of whom nothing is known are alike: three of eight are the best. */
static void chances_are_shared_among_equals(void **state)
{
    (void)state;
    enum { CROSSES = 8 };
    struct parent_model *model = fit();
    struct parent_cross crosses[CROSSES];
    struct parent_outlook outlooks[CROSSES];
    double sum = 0;
    for (int i = 0; i < CROSSES; i++)
        crosses[i] = cross_of(PARENT_NEW, PARENT_NEW, PARENT_NEW);
    parent_outlook_find(model, crosses, CROSSES, DRAWS, 1, outlooks);
    double share = (double)OUTLOOK_BEST / CROSSES, error = sqrt(share * (1 - share) / DRAWS);
    for (int i = 0; i < CROSSES; i++) {
        assert_near(outlooks[i].best, share, 4 * error);
        sum += outlooks[i].best;
    }
    assert_near(sum, OUTLOOK_BEST, 1e-9);
    parent_model_free(model);
}

static void rank(const struct parent_model *model, struct parent_outlook *ret, int count)
{
    struct parent_cross crosses[8];
    for (int dam = 0; dam < count; dam++)
        crosses[dam] = cross_of(dam, PARENT_NEW, PARENT_NEW);
    parent_outlook_find(model, crosses, count, DRAWS, 1, ret);
}

static void better_dams_have_better_chances(void **state)
{
    (void)state;
    enum { DAMS = 8 };
    struct parent_model *model = fit();
    const struct parent_level *dams = parent_model_effects(model)->levels[PARENT_DAM];
    struct parent_outlook outlooks[DAMS], again[DAMS];
    rank(model, outlooks, DAMS);
    for (int i = 0; i < DAMS; i++)
        for (int j = 0; j < DAMS; j++)
            if (dams[i].estimate > dams[j].estimate + 0.1)
                assert_true(outlooks[i].best > outlooks[j].best);
    rank(model, again, DAMS);
    assert_memory_equal(outlooks, again, sizeof outlooks);
    rank(model, outlooks, OUTLOOK_BEST);
    for (int i = 0; i < OUTLOOK_BEST; i++)
        assert_true(outlooks[i].best == 1);
    parent_model_free(model);
}

/* Eight crosses of two varieties are two contests of four. */
static void each_variety_has_its_own_best(void **state)
{
    (void)state;
    enum { CROSSES = 8 };
    struct parent_file file;
    struct parent_model *model;
    struct parent_cross crosses[CROSSES];
    struct parent_outlook outlooks[CROSSES];
    struct err err;
    double sums[2] = {0};
    parent_file_read(&file, "tests/data/parent_model/farm_large_data.csv");
    file.data.varieties = 2;
    for (size_t i = 0; i < file.data.row_count; i++)
        file.rows[i].variety = file.rows[i].level[PARENT_DAM] % 2;
    assert_ok(parent_model_new(&file.data, PARENT_ALL_TERMS, &model, &err), &err);
    for (int i = 0; i < CROSSES; i++) {
        crosses[i] = cross_of(i, PARENT_NEW, PARENT_NEW);
        crosses[i].variety = i % 2;
    }
    parent_outlook_find(model, crosses, CROSSES, DRAWS, 1, outlooks);
    for (int i = 0; i < CROSSES; i++)
        sums[i % 2] += outlooks[i].best;
    assert_near(sums[0], OUTLOOK_BEST, 1e-9);
    assert_near(sums[1], OUTLOOK_BEST, 1e-9);
    parent_model_free(model);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_share_is_expected_with_its_interval),
        cmocka_unit_test(chances_are_shared_among_equals),
        cmocka_unit_test(better_dams_have_better_chances),
        cmocka_unit_test(each_variety_has_its_own_best),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
