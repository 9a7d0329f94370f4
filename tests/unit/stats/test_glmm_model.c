#include "senbetsu/stats/glmm/model.h"
#include "support/cells.h"
#include "support/parent_file.h"
#include "support/test.h"

#include <math.h>

static void assert_near(const char *what, double actual, double expected, double tolerance)
{
    if (!(fabs(actual - expected) <= tolerance))
        fail_msg("%s: %.9g came out, %.9g is expected", what, actual, expected);
}

/* Fits of R's lme4, function glmer, binomial with Laplace's approximation; where its data come from
 * stands in each file. */
static const struct reference {
    const char *name;
    unsigned terms;
    enum parent_fit fit[PARENT_TERMS]; /* dam, sire, pair, spawning */
} references[] = {
    {"cbpp_dam",
     1u << PARENT_DAM | 1u << PARENT_SIRE | 1u << PARENT_PAIR,
     {PARENT_FITTED, PARENT_ONE_LEVEL, PARENT_SAME_AS_DAM, PARENT_NOT_ASKED}},
    {"cbpp_dam_spawning",
     PARENT_ALL_TERMS,
     {PARENT_FITTED, PARENT_ONE_LEVEL, PARENT_SAME_AS_DAM, PARENT_FITTED}},
    {"salamander_summer",
     PARENT_ALL_TERMS,
     {PARENT_FITTED, PARENT_FITTED, PARENT_SINGLE_FISH, PARENT_SINGLE_FISH}},
    {"farm_small", PARENT_ALL_TERMS, {PARENT_FITTED}},
    {"farm_dam_only", PARENT_ALL_TERMS, {PARENT_FITTED}},
    {"farm_large", PARENT_ALL_TERMS, {PARENT_FITTED}},
};

struct fitted {
    struct parent_file file;
    struct parent_model *model;
    const struct parent_effects *effects;
};

/* Seasons and varieties, times what a name in the file is made of: it has one mean a season, or the
 * first variety's mean and the others as differences from it. */
static void make_row(const struct parent_file *file, const char *name, double *row)
{
    double *varieties = row + file->data.seasons;
    int first = parent_file_find(file, NAMED_VARIETY, "rbxrb");
    if (strncmp(name, "season", strlen("season")) == 0) {
        row[parent_file_find(file, NAMED_SEASON, name + strlen("season"))] = 1;
    } else if (strcmp(name, "(Intercept)") == 0) {
        row[0] = varieties[first] = 1;
    } else {
        varieties[parent_file_find(file, NAMED_VARIETY, name + strlen("variety"))] = 1;
        varieties[first] = -1;
    }
}

static double fixed_estimate(const struct fitted *fitted, int level)
{
    const struct parent_effects *effects = fitted->effects;
    int seasons = fitted->file.data.seasons;
    if (level < seasons)
        return effects->seasons[level].estimate;
    return effects->varieties == NULL ? 0 : effects->varieties[level - seasons].estimate;
}

static struct parent_level fixed_effect(const struct fitted *fitted, const char *name)
{
    int levels = fitted->file.data.seasons + fitted->file.data.varieties;
    double row[2 * NAMES] = {0}, variance = 0;
    struct parent_level sum = {0};
    make_row(&fitted->file, name, row);
    for (int i = 0; i < levels; i++) {
        sum.estimate += row[i] * fixed_estimate(fitted, i);
        for (int j = 0; j < levels; j++)
            variance += row[i] * row[j] * fitted->effects->covariance[i * levels + j];
    }
    sum.se = sqrt(variance);
    return sum;
}

static int term_named(const char *name)
{
    int term = 0;
    while (term < PARENT_TERMS && strcmp(named_kinds[term], name) != 0)
        term++;
    return term;
}

static void assert_row(const struct fitted *fitted, const char *kind, const char *level,
                       double estimate, double se)
{
    int term = term_named(kind);
    if (strcmp(kind, "loglik") == 0) {
        assert_near(kind, fitted->effects->loglik, estimate, 1e-3);
    } else if (strcmp(kind, "sd") == 0) {
        assert_near(level, fitted->effects->sd[term_named(level)], estimate, 2e-3);
    } else if (strcmp(kind, "fixed") == 0) {
        struct parent_level effect = fixed_effect(fitted, level);
        assert_near(level, effect.estimate, estimate, 2e-3);
        assert_near(level, effect.se, se, 2e-3);
    } else {
        assert_in_range(term, 0, PARENT_TERMS - 1);
        int number = parent_file_find(&fitted->file, term, level);
        assert_near(level, fitted->effects->levels[term][number].estimate, estimate, 2e-3);
        assert_near(level, fitted->effects->levels[term][number].se, se, 2e-3);
    }
}

static void assert_rows(const struct fitted *fitted, const char *name)
{
    char path[256];
    struct text text;
    struct csv csv;
    struct err err;
    snprintf(path, sizeof path, "tests/data/parent_model/%s_lme4.csv", name);
    source_file(path, &text);
    assert_ok(csv_parse(&text, &csv, &err), &err);
    assert_true(csv.row_count > 20);
    for (size_t i = 0; i < csv.row_count; i++) {
        const char *fields[CELLS];
        cells_of(&csv, i, fields);
        assert_row(fitted, fields[1], fields[2], strtod(fields[3], NULL), strtod(fields[4], NULL));
    }
    csv_done(&csv);
    text_done(&text);
}

static void fits_are_those_of_the_reference(void **state)
{
    (void)state;
    static struct fitted fitted;
    for (size_t i = 0; i < sizeof references / sizeof *references; i++) {
        const struct reference *reference = &references[i];
        char path[256];
        struct err err;
        snprintf(path, sizeof path, "tests/data/parent_model/%s_data.csv", reference->name);
        parent_file_read(&fitted.file, path);
        assert_ok(parent_model_new(&fitted.file.data, reference->terms, &fitted.model, &err), &err);
        fitted.effects = parent_model_effects(fitted.model);
        assert_memory_equal(fitted.effects->fit, reference->fit, sizeof reference->fit);
        assert_rows(&fitted, reference->name);
        parent_model_free(fitted.model);
    }
}

static struct parent_file small;

static void read_small(void)
{
    parent_file_read(&small, "tests/data/parent_model/farm_small_data.csv");
}

static struct parent_model *fit(const struct parent_data *data)
{
    struct parent_model *model;
    struct err err;
    assert_ok(parent_model_new(data, PARENT_ALL_TERMS, &model, &err), &err);
    return model;
}

static void assert_refused(const struct parent_data *data, const char *part)
{
    struct parent_model *model;
    struct err err;
    assert_says(parent_model_new(data, PARENT_ALL_TERMS, &model, &err), &err, part);
}

static void data_that_cannot_be_are_refused(void **state)
{
    (void)state;
    read_small();
    struct parent_data none = small.data;
    none.row_count = 0;
    assert_refused(&none, "no culled fish");
    small.rows[3].kept = small.rows[3].n + 1;
    assert_refused(&small.data, "Row 4 ");
    read_small();
    small.rows[1].level[PARENT_SPAWNING] = 9;
    assert_refused(&small.data, "Spawning number 10 ");
    read_small();
    small.rows[1].level[PARENT_DAM] = 2;
    assert_refused(&small.data, "Pair number 1 ");
    read_small();
    for (size_t i = 0; i < small.data.row_count; i++)
        small.rows[i].kept = 0;
    assert_refused(&small.data, "no season has both");
}

static void assert_same_fit(const struct parent_model *a, const struct parent_model *b)
{
    const struct parent_effects *left = parent_model_effects(a), *right = parent_model_effects(b);
    for (int term = 0; term < PARENT_TERMS; term++)
        assert_near("sd", left->sd[term], right->sd[term], 1e-4);
    assert_near("season", left->seasons[0].estimate, right->seasons[0].estimate, 1e-4);
    assert_near("season's se", left->seasons[0].se, right->seasons[0].se, 1e-4);
    assert_near("dam", left->levels[PARENT_DAM][1].estimate, right->levels[PARENT_DAM][1].estimate,
                1e-4);
}

/* What tends to infinity takes its spawnings with it, and leaves the others as they are. */
static void a_season_without_kept_fish_says_nothing(void **state)
{
    (void)state;
    read_small();
    struct parent_data longer = small.data;
    struct parent_model *without = fit(&small.data);
    small.rows[longer.row_count] = small.rows[0];
    small.rows[longer.row_count].season = longer.seasons++;
    small.rows[longer.row_count].level[PARENT_SPAWNING] = longer.levels[PARENT_SPAWNING]++;
    struct parent_row *last = &small.rows[longer.row_count++];
    for (int all = 0; all <= 1; all++) {
        last->kept = all ? last->n : 0;
        struct parent_model *with = fit(&longer);
        const struct parent_effects *effects = parent_model_effects(with);
        assert_same_fit(with, without);
        assert_near("loglik", effects->loglik, parent_model_effects(without)->loglik, 1e-6);
        assert_int_equal(effects->seasons[3].state, all ? PARENT_ALL_KEPT : PARENT_NONE_KEPT);
        assert_true(effects->seasons[3].estimate == (all ? INFINITY : -INFINITY));
        parent_model_free(with);
    }
    parent_model_free(without);
}

static void lots_of_a_spawning_are_one(void **state)
{
    (void)state;
    read_small();
    struct parent_model *whole = fit(&small.data);
    struct parent_row *last = &small.rows[small.data.row_count++];
    *last = small.rows[0];
    last->n = 500;
    last->kept = 30;
    small.rows[0].n -= 500;
    small.rows[0].kept -= 30;
    struct parent_model *split = fit(&small.data);
    assert_same_fit(whole, split);
    /* Binomial coefficients are those of the rows: 1464 over 83 is now 964 over 53 and 500 over 30.
     */
    double coefficients = lgamma(965) - lgamma(54) - lgamma(912) + lgamma(501) - lgamma(31) -
                          lgamma(471) - lgamma(1465) + lgamma(84) + lgamma(1382);
    assert_near("loglik", parent_model_effects(split)->loglik,
                parent_model_effects(whole)->loglik + coefficients, 1e-4);
    parent_model_free(whole);
    parent_model_free(split);
}

/* An unknown dam is any dam: the same as one that has a name and this spawning alone. */
static void an_unknown_dam_is_one_of_her_own(void **state)
{
    (void)state;
    read_small();
    small.rows[6].level[PARENT_DAM] = PARENT_UNKNOWN;
    struct parent_model *unknown = fit(&small.data);
    small.rows[6].level[PARENT_DAM] = small.data.levels[PARENT_DAM]++;
    small.rows[6].level[PARENT_PAIR] = small.data.levels[PARENT_PAIR]++;
    struct parent_model *named = fit(&small.data);
    assert_same_fit(unknown, named);
    assert_near("loglik", parent_model_effects(unknown)->loglik,
                parent_model_effects(named)->loglik, 1e-6);
    parent_model_free(unknown);
    parent_model_free(named);
}

static void assert_fit(const enum parent_fit *expected)
{
    struct parent_model *model = fit(&small.data);
    assert_memory_equal(parent_model_effects(model)->fit, expected,
                        PARENT_TERMS * sizeof *expected);
    parent_model_free(model);
}

static void what_cannot_be_told_apart_is_left_out(void **state)
{
    (void)state;
    read_small();
    for (size_t i = 0; i < small.data.row_count; i++) /* each dam keeps her sire */
        for (int term = 0; term < PARENT_SPAWNING; term++)
            small.rows[i].level[term] = (int)i % 3;
    static const enum parent_fit pairs[] = {PARENT_SAME_AS_PAIR, PARENT_SAME_AS_PAIR, PARENT_FITTED,
                                            PARENT_FITTED};
    assert_fit(pairs);
    for (size_t i = 0; i < small.data.row_count; i++) {
        small.rows[i].level[PARENT_DAM] = small.rows[i].level[PARENT_PAIR] = (int)i % 4;
        small.rows[i].level[PARENT_SIRE] = (int)i % 2;
    }
    static const enum parent_fit dams[] = {PARENT_FITTED, PARENT_FITTED, PARENT_SAME_AS_DAM,
                                           PARENT_FITTED};
    assert_fit(dams);
    for (size_t i = 0; i < small.data.row_count; i++) { /* each pair once; a dam a season */
        small.rows[i].level[PARENT_DAM] = small.rows[i].season;
        small.rows[i].level[PARENT_PAIR] = small.rows[i].level[PARENT_SPAWNING];
    }
    small.data.levels[PARENT_PAIR] = small.data.levels[PARENT_SPAWNING];
    static const enum parent_fit once[] = {PARENT_SAME_AS_FIXED, PARENT_FITTED,
                                           PARENT_SAME_AS_SPAWNING, PARENT_FITTED};
    assert_fit(once);
}

/* Seasons 0 and 1 have varieties 0 and 1, season 2 has variety 2 alone. */
static void varieties_are_compared_where_seasons_share_them(void **state)
{
    (void)state;
    read_small();
    small.data.varieties = 4;
    for (size_t i = 0; i < small.data.row_count; i++)
        small.rows[i].variety = small.rows[i].season == 2 ? 2 : (int)i % 2;
    struct parent_model *model = fit(&small.data);
    const struct parent_effects *effects = parent_model_effects(model);
    assert_int_equal(effects->variety_groups, 2);
    assert_near("sum", effects->varieties[0].estimate + effects->varieties[1].estimate, 0, 1e-12);
    assert_true(effects->varieties[0].se > 0.01 && effects->varieties[2].se == 0);
    assert_int_equal(effects->varieties[3].state, PARENT_UNSEEN);
    parent_model_free(model);
}

/* Variety 1 is in season 2 alone, but for one spawning in season 1 of which no fish was kept: it
 * says that the variety does worse there, and not by how much. */
static void a_link_without_kept_fish_is_none(void **state)
{
    (void)state;
    read_small();
    small.data.varieties = 2;
    for (size_t i = 0; i < small.data.row_count; i++)
        small.rows[i].variety = small.rows[i].season == 2;
    struct parent_model *without = fit(&small.data);
    struct parent_row *link = &small.rows[small.data.row_count++];
    *link = small.rows[5];
    link->variety = 1;
    link->kept = 0;
    link->level[PARENT_SPAWNING] = small.data.levels[PARENT_SPAWNING]++;
    struct parent_model *with = fit(&small.data);
    assert_same_fit(with, without);
    assert_int_equal(parent_model_effects(with)->variety_groups, 2);
    link->kept = 1; /* now it is one */
    struct parent_model *linked = fit(&small.data);
    assert_int_equal(parent_model_effects(linked)->variety_groups, 1);
    parent_model_free(with);
    parent_model_free(without);
    parent_model_free(linked);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(fits_are_those_of_the_reference),
        cmocka_unit_test(data_that_cannot_be_are_refused),
        cmocka_unit_test(a_season_without_kept_fish_says_nothing),
        cmocka_unit_test(a_link_without_kept_fish_is_none),
        cmocka_unit_test(lots_of_a_spawning_are_one),
        cmocka_unit_test(an_unknown_dam_is_one_of_her_own),
        cmocka_unit_test(what_cannot_be_told_apart_is_left_out),
        cmocka_unit_test(varieties_are_compared_where_seasons_share_them),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
