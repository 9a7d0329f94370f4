#include "senbetsu/stats/glmm/expect.h"
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
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
