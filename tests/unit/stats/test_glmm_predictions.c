#include "private.h"
#include "senbetsu/stats/glmm/predictions.h"
#include "support/parent_file.h"
#include "support/test.h"

#include <math.h>

static void assert_near(double actual, double expected, double tolerance)
{
    if (!(fabs(actual - expected) <= tolerance))
        fail_msg("%.9g came out, %.9g is expected", actual, expected);
}

static struct parent_file file;

static struct parent_model *fit_file(const char *path)
{
    struct parent_model *model;
    struct err err;
    parent_file_read(&file, path);
    assert_ok(parent_model_new(&file.data, PARENT_ALL_TERMS, &model, &err), &err);
    return model;
}

static struct parent_model *fit_large(void)
{
    return fit_file("tests/data/parent_model/farm_large_data.csv");
}

static const struct parent_cross middle = {
    .season = PARENT_TYPICAL,
    .variety = PARENT_ANY_VARIETY,
    .level = {PARENT_WITHOUT, PARENT_WITHOUT, PARENT_WITHOUT, PARENT_WITHOUT},
};

static void the_mean_adds_up(void **state)
{
    (void)state;
    struct parent_model *model = fit_large();
    const struct parent_effects *effects = parent_model_effects(model);
    double seasons = 0;
    for (int i = 0; i < file.data.seasons; i++)
        seasons += effects->seasons[i].estimate / file.data.seasons;
    assert_near(parent_model_expect(model, &middle).mean, seasons, 1e-9);
    struct parent_cross cross = {2, 0, {3, 4, PARENT_NEW, 5}};
    assert_near(parent_model_expect(model, &cross).mean,
                effects->seasons[2].estimate + effects->levels[PARENT_DAM][3].estimate +
                    effects->levels[PARENT_SIRE][4].estimate +
                    effects->levels[PARENT_SPAWNING][5].estimate,
                1e-9);
    parent_model_free(model);
}

/* Given the estimates, a level varies as its standard deviation says and a new one as its term. */
static void the_conditional_variance_is_that_of_the_levels(void **state)
{
    (void)state;
    struct parent_model *model = fit_large();
    const struct parent_effects *effects = parent_model_effects(model);
    for (int term = 0; term < PARENT_TERMS; term++) {
        struct parent_cross cross = middle;
        cross.level[term] = 1;
        double se = effects->levels[term][1].se, sd = effects->sd[term];
        assert_near(parent_model_expect(model, &cross).conditional_variance, se * se, 1e-9);
        cross.level[term] = PARENT_NEW;
        assert_near(parent_model_expect(model, &cross).conditional_variance, sd * sd, 1e-9);
    }
    parent_model_free(model);
}

static void a_difference_leaves_out_what_both_share(void **state)
{
    (void)state;
    struct parent_model *model = fit_large();
    struct parent_cross cross = {2, 0, {3, 4, PARENT_NEW, PARENT_WITHOUT}}, other = cross;
    double pair = parent_model_effects(model)->sd[PARENT_PAIR];
    struct parent_expectation same = parent_model_difference(model, &cross, &cross);
    assert_near(same.mean, 0, 1e-12);
    assert_near(same.conditional_variance, 2 * pair * pair, 1e-9); /* two new pairs */
    cross.level[PARENT_PAIR] = other.level[PARENT_PAIR] = PARENT_WITHOUT;
    assert_near(parent_model_difference(model, &cross, &cross).variance, 0, 1e-12);
    other.level[PARENT_DAM] = 5;
    struct parent_expectation dams = parent_model_difference(model, &cross, &other);
    const struct parent_level *levels = parent_model_effects(model)->levels[PARENT_DAM];
    assert_near(dams.mean, levels[3].estimate - levels[5].estimate, 1e-9);
    struct parent_expectation back = parent_model_difference(model, &other, &cross);
    assert_near(back.mean, -dams.mean, 1e-12);
    assert_near(back.variance, dams.variance, 1e-12);
    parent_model_free(model);
}

/* The standard deviation of sires is estimated at zero here; that is no proof that sires are all
 * alike. */
static void zero_is_not_certain(void **state)
{
    (void)state;
    struct parent_model *model = fit_file("tests/data/parent_model/farm_small_data.csv");
    struct parent_cross with = middle;
    with.level[PARENT_SIRE] = 0;
    struct parent_expectation sire = parent_model_difference(model, &with, &middle);
    assert_near(sire.conditional_variance, 0, 1e-12);
    assert_true(sire.variance > 0.001);
    parent_model_free(model);
}

/* Dams of a single season whose shares are known as good as exactly. With fixed effects integrated
 * out, and all standard deviations alike beforehand, the square of the standard deviation has an
 * inverse gamma distribution with mean S ÷ (dams - 4), S the sum of squares around the mean: a
 * closed form of the normal distribution. A new dam varies around the mean of all by 1 + 1/dams
 * times that.
 */
static void a_new_dam_varies_as_the_closed_form_says(void **state)
{
    (void)state;
    enum { DAMS = 16 };
    struct parent_row rows[DAMS];
    double logits[DAMS], mean = 0, squares = 0;
    for (int i = 0; i < DAMS; i++) {
        double wanted = -1 + 0.5 * sin(2.5 * i);
        rows[i] = (struct parent_row){.level = {i, 0, 0, i}, .n = 100000000};
        rows[i].level[PARENT_PAIR] = i;
        rows[i].kept = llround(1e8 / (1 + exp(-wanted)));
        logits[i] = wanted;
        mean += wanted / DAMS;
    }
    for (int i = 0; i < DAMS; i++)
        squares += (logits[i] - mean) * (logits[i] - mean);
    struct parent_data data = {rows, DAMS, 1, 1, {DAMS, 1, DAMS, DAMS}};
    struct parent_model *model;
    struct err err;
    assert_ok(parent_model_new(&data, 1u << PARENT_DAM, &model, &err), &err);
    struct parent_cross fresh = middle;
    fresh.level[PARENT_DAM] = PARENT_NEW;
    struct parent_expectation expectation = parent_model_expect(model, &fresh);
    assert_near(expectation.mean, mean, 1e-4);
    assert_near(expectation.conditional_variance, squares / DAMS, 1e-4); /* maximum likelihood */
    double closed = squares / (DAMS - 4) * (1 + 1.0 / DAMS);
    assert_near(expectation.variance / closed, 1, 0.05);
    parent_model_free(model);
}

/* Each pair set once: its part cannot be told from the spawning's, and is not nothing. */
static void a_pair_that_was_set_once_has_a_sixth_of_its_spawning(void **state)
{
    (void)state;
    parent_file_read(&file, "tests/data/parent_model/farm_large_data.csv");
    for (size_t i = 0; i < file.data.row_count; i++)
        file.rows[i].level[PARENT_PAIR] = file.rows[i].level[PARENT_SPAWNING];
    file.data.levels[PARENT_PAIR] = file.data.levels[PARENT_SPAWNING];
    struct parent_model *model;
    struct err err;
    assert_ok(parent_model_new(&file.data, PARENT_ALL_TERMS, &model, &err), &err);
    const struct parent_effects *effects = parent_model_effects(model);
    double sd = effects->sd[PARENT_SPAWNING];
    assert_int_equal(effects->fit[PARENT_PAIR], PARENT_SAME_AS_SPAWNING);
    assert_true(sd > 0.1);
    struct parent_cross cross = middle;
    cross.level[PARENT_PAIR] = PARENT_NEW;
    assert_near(parent_model_expect(model, &cross).conditional_variance, sd * sd / 6, 1e-9);
    cross.level[PARENT_PAIR] = 5;
    assert_near(parent_model_expect(model, &cross).conditional_variance, sd * sd / 6, 1e-9);
    cross.level[PARENT_SPAWNING] = PARENT_NEW;
    assert_near(parent_model_expect(model, &cross).conditional_variance, sd * sd, 1e-9);
    parent_model_free(model);
}

/* Seasons 0 and 1 have varieties 0 and 1, season 2 has variety 2 alone, and nothing of variety 3
 * was kept. A typical season is one of the variety's own. */
static void varieties_that_never_met_have_their_own_seasons(void **state)
{
    (void)state;
    parent_file_read(&file, "tests/data/parent_model/farm_small_data.csv");
    file.data.varieties = 4;
    for (size_t i = 0; i < file.data.row_count; i++)
        file.rows[i].variety = file.rows[i].season == 2 ? 2 : (int)i % 2;
    file.rows[0].variety = 3;
    file.rows[0].kept = 0;
    struct parent_model *model;
    struct err err;
    assert_ok(parent_model_new(&file.data, PARENT_ALL_TERMS, &model, &err), &err);
    const struct parent_effects *effects = parent_model_effects(model);
    struct parent_cross cross = middle;
    cross.variety = 2;
    assert_near(parent_model_expect(model, &cross).mean, effects->seasons[2].estimate, 1e-9);
    cross.variety = 0;
    assert_near(parent_model_expect(model, &cross).mean,
                (effects->seasons[0].estimate + effects->seasons[1].estimate) / 2 +
                    effects->varieties[0].estimate,
                1e-9);
    assert_true(parent_model_knows(model, 0) && parent_model_knows(model, 2));
    assert_false(parent_model_knows(model, 3));
    parent_model_free(model);
}

enum { CROSSES = 4, DRAWS = 20000 };

/* Two crosses that were set, of the same dam; one of known parents that was not; one of which only
 * the dam is known. */
static const struct parent_cross drawn_crosses[CROSSES] = {
    {PARENT_TYPICAL, PARENT_ANY_VARIETY, {0, 0, 0, PARENT_WITHOUT}},
    {2, PARENT_ANY_VARIETY, {0, 2, 1, PARENT_NEW}},
    {PARENT_TYPICAL, PARENT_ANY_VARIETY, {3, 4, PARENT_NEW, PARENT_WITHOUT}},
    {PARENT_TYPICAL, PARENT_ANY_VARIETY, {5, PARENT_NEW, PARENT_NEW, PARENT_NEW}},
};

/* Mean and variance of what is drawn are those that are expected, and so is how crosses differ. The
 * mean is that at the estimates in one and over all standard deviations in the other. */
static void draws_are_as_expected(void **state)
{
    (void)state;
    struct parent_model *model = fit_large();
    struct parent_draws *draws = parent_draws_new(model, drawn_crosses, CROSSES, 7);
    double square[CROSSES] = {0}, apart[CROSSES] = {0}, sum[CROSSES] = {0}, drawn[CROSSES];
    struct parent_expectation expected[CROSSES], difference[CROSSES];
    for (int i = 0; i < CROSSES; i++) {
        expected[i] = parent_model_expect(model, &drawn_crosses[i]);
        difference[i] = parent_model_difference(model, &drawn_crosses[i], &drawn_crosses[0]);
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
    struct parent_draws *draws = parent_draws_new(model, drawn_crosses, CROSSES, 7);
    struct parent_draws *same = parent_draws_new(model, drawn_crosses, CROSSES, 7);
    struct parent_draws *different = parent_draws_new(model, drawn_crosses, CROSSES, 8);
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

enum { BEST_DRAWS = 4000 };

static struct parent_cross cross_of(int dam, int sire, int pair)
{
    return (struct parent_cross){
        PARENT_TYPICAL, PARENT_ANY_VARIETY, {dam, sire, pair, PARENT_WITHOUT}};
}

/* 0.05 of the normal distribution lie above 1.6449. */
static void a_share_is_expected_with_its_interval(void **state)
{
    (void)state;
    struct parent_model *model = fit_large();
    struct parent_cross cross = cross_of(0, 0, 0);
    struct parent_prediction prediction;
    parent_model_predict(model, &cross, 1, BEST_DRAWS, 1, NULL, &prediction);
    struct parent_expectation run = parent_model_expect(model, &cross);
    cross.level[PARENT_SPAWNING] = PARENT_NEW;
    struct parent_expectation next = parent_model_expect(model, &cross);
    assert_near(prediction.expected, 1 / (1 + exp(-run.mean)), 1e-12);
    assert_near(log(prediction.interval.high / (1 - prediction.interval.high)),
                run.mean + 1.644854 * sqrt(run.variance), 1e-5);
    assert_near(log(prediction.interval.low / (1 - prediction.interval.low)),
                run.mean - 1.644854 * sqrt(run.variance), 1e-5);
    assert_near(log(prediction.spawning.high / (1 - prediction.spawning.high)),
                run.mean + 1.644854 * sqrt(next.variance), 1e-5);
    assert_true(next.variance > run.variance + 0.01);
    parent_model_free(model);
}

/* Crosses that are asked for together are worked out in another way, all from what is known of dams
 * and sires: the answers are the same. The last has a pair with other parents than its own. */
static void many_are_expected_as_each_alone(void **state)
{
    (void)state;
    const struct parent_cross crosses[] = {cross_of(0, 0, 0),
                                           cross_of(3, 4, PARENT_NEW),
                                           cross_of(5, PARENT_NEW, PARENT_NEW),
                                           cross_of(PARENT_NEW, 2, PARENT_WITHOUT),
                                           cross_of(PARENT_NEW, PARENT_NEW, PARENT_NEW),
                                           cross_of(7, 3, 0)};
    enum { MANY = sizeof crosses / sizeof *crosses };
    struct parent_model *model = fit_large();
    struct parent_prediction predictions[MANY];
    parent_model_predict(model, crosses, MANY, 1, 1, NULL, predictions);
    for (int i = 0; i < MANY; i++) {
        struct parent_expectation alone = parent_model_expect(model, &crosses[i]);
        struct interval interval = parent_share_interval(alone.mean, alone.variance);
        assert_near(predictions[i].expected, parent_share(alone.mean), 1e-9);
        assert_near(predictions[i].interval.low, interval.low, 1e-9);
        assert_near(predictions[i].interval.high, interval.high, 1e-9);
    }
    parent_model_free(model);
}

/* Parents of whom nothing is known are alike: three of eight are the best. */
static void chances_are_shared_among_equals(void **state)
{
    (void)state;
    enum { EIGHT = 8 };
    struct parent_model *model = fit_large();
    struct parent_cross crosses[EIGHT];
    struct parent_prediction predictions[EIGHT];
    double sum = 0;
    for (int i = 0; i < EIGHT; i++)
        crosses[i] = cross_of(PARENT_NEW, PARENT_NEW, PARENT_NEW);
    parent_model_predict(model, crosses, EIGHT, BEST_DRAWS, 1, NULL, predictions);
    double share = (double)PREDICTION_BEST / EIGHT, error = sqrt(share * (1 - share) / BEST_DRAWS);
    for (int i = 0; i < EIGHT; i++) {
        assert_near(predictions[i].best, share, 4 * error);
        sum += predictions[i].best;
    }
    assert_near(sum, PREDICTION_BEST, 1e-9);
    parent_model_free(model);
}

static void rank(const struct parent_model *model, struct parent_prediction *ret, int count)
{
    struct parent_cross crosses[8];
    for (int dam = 0; dam < count; dam++)
        crosses[dam] = cross_of(dam, PARENT_NEW, PARENT_NEW);
    parent_model_predict(model, crosses, count, BEST_DRAWS, 1, NULL, ret);
}

static void better_dams_have_better_chances(void **state)
{
    (void)state;
    enum { DAMS = 8 };
    struct parent_model *model = fit_large();
    const struct parent_level *dams = parent_model_effects(model)->levels[PARENT_DAM];
    struct parent_prediction predictions[DAMS], again[DAMS];
    rank(model, predictions, DAMS);
    for (int i = 0; i < DAMS; i++)
        for (int j = 0; j < DAMS; j++)
            if (dams[i].estimate > dams[j].estimate + 0.1)
                assert_true(predictions[i].best > predictions[j].best);
    rank(model, again, DAMS);
    assert_memory_equal(predictions, again, sizeof predictions);
    rank(model, predictions, PREDICTION_BEST);
    for (int i = 0; i < PREDICTION_BEST; i++)
        assert_true(predictions[i].best == 1);
    parent_model_free(model);
}

/* Eight crosses of two varieties are two contests of four. */
static void each_variety_has_its_own_best(void **state)
{
    (void)state;
    enum { EIGHT = 8 };
    struct parent_model *model;
    struct parent_cross crosses[EIGHT];
    struct parent_prediction predictions[EIGHT];
    struct err err;
    double sums[2] = {0};
    parent_file_read(&file, "tests/data/parent_model/farm_large_data.csv");
    file.data.varieties = 2;
    for (size_t i = 0; i < file.data.row_count; i++)
        file.rows[i].variety = file.rows[i].level[PARENT_DAM] % 2;
    assert_ok(parent_model_new(&file.data, PARENT_ALL_TERMS, &model, &err), &err);
    for (int i = 0; i < EIGHT; i++) {
        crosses[i] = cross_of(i, PARENT_NEW, PARENT_NEW);
        crosses[i].variety = i % 2;
    }
    parent_model_predict(model, crosses, EIGHT, BEST_DRAWS, 1, NULL, predictions);
    for (int i = 0; i < EIGHT; i++)
        sums[i % 2] += predictions[i].best;
    assert_near(sums[0], PREDICTION_BEST, 1e-9);
    assert_near(sums[1], PREDICTION_BEST, 1e-9);
    parent_model_free(model);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_mean_adds_up),
        cmocka_unit_test(the_conditional_variance_is_that_of_the_levels),
        cmocka_unit_test(a_difference_leaves_out_what_both_share),
        cmocka_unit_test(zero_is_not_certain),
        cmocka_unit_test(varieties_that_never_met_have_their_own_seasons),
        cmocka_unit_test(a_pair_that_was_set_once_has_a_sixth_of_its_spawning),
        cmocka_unit_test(a_new_dam_varies_as_the_closed_form_says),
        cmocka_unit_test(draws_are_as_expected),
        cmocka_unit_test(a_seed_draws_the_same_again),
        cmocka_unit_test(a_share_is_expected_with_its_interval),
        cmocka_unit_test(many_are_expected_as_each_alone),
        cmocka_unit_test(chances_are_shared_among_equals),
        cmocka_unit_test(better_dams_have_better_chances),
        cmocka_unit_test(each_variety_has_its_own_best),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
