#include "senbetsu/stats/parent_model.h"
#include "parent_inside.h"
#include "parent_terms.h"
#include "senbetsu/base/alloc.h"

#include <math.h>
#include <stdlib.h>

/* The variance of a sum of fixed effects. */
static double fixed_variance(const struct parent_model *model, const double *row)
{
    double variance = 0;
    for (int i = 0; i < model->design.columns; i++)
        for (int j = 0; j < model->design.columns; j++)
            variance +=
                row[i] * row[j] * gsl_matrix_get(model->optimum.covariance, (size_t)i, (size_t)j);
    return variance;
}

static struct parent_level fixed_level(const struct parent_model *model, const double *row)
{
    double estimate = 0;
    for (int i = 0; i < model->design.columns; i++)
        estimate += row[i] * model->optimum.point[i];
    return (struct parent_level){PARENT_ESTIMATED, estimate, sqrt(fixed_variance(model, row))};
}

typedef void add_row(const struct parent_design *design, int number, double *row);

static struct parent_level *fixed_levels(const struct parent_model *model, int count,
                                         const enum parent_state *states, add_row *add)
{
    struct parent_level *levels = alloc_zeroed((size_t)count, sizeof *levels);
    for (int i = 0; i < count; i++) {
        double *row = alloc_zeroed((size_t)model->design.columns, sizeof *row);
        levels[i].state = states[i];
        if (states[i] == PARENT_ESTIMATED) {
            add(&model->design, i, row);
            levels[i] = fixed_level(model, row);
        } else if (states[i] != PARENT_UNSEEN) {
            levels[i].estimate = states[i] == PARENT_ALL_KEPT ? INFINITY : -INFINITY;
            levels[i].se = INFINITY;
        }
        free(row);
    }
    return levels;
}

static struct parent_level *random_levels(const struct parent_model *model, int term)
{
    const struct parent_laplace *laplace = &model->laplace;
    double sd = model->effects.sd[term];
    struct parent_level *levels = alloc_zeroed((size_t)model->levels[term] + 1, sizeof *levels);
    for (int i = 0; i < model->levels[term]; i++)
        levels[i] = (struct parent_level){.se = sd};
    for (int i = 0; i < model->cells.count; i++) {
        int level = model->cells.cell[i].level[term], place = parent_place(&model->cells, i, term);
        if (level < model->levels[term]) {
            levels[level].estimate = sd * laplace->modes.of[term][place];
            levels[level].se = sd * sqrt(laplace->inverse.variance.of[term][place]);
        }
    }
    return levels;
}

static void find_effects(struct parent_model *model)
{
    struct parent_effects *effects = &model->effects;
    parent_inverse_find(&model->laplace.inverse, &model->laplace.system);
    effects->loglik = model->cells.log_coefficients - model->optimum.deviance / 2;
    effects->seasons =
        fixed_levels(model, model->cells.seasons, model->cells.season_state, parent_design_season);
    effects->variety_groups = model->design.groups;
    if (model->design.columns > model->design.seasons_fitted)
        effects->varieties = fixed_levels(model, model->cells.varieties, model->cells.variety_state,
                                          parent_design_variety);
    for (int term = 0; term < PARENT_TERMS; term++) {
        effects->sd[term] = model->optimum.point[model->design.columns + term];
        effects->levels[term] = random_levels(model, term);
    }
}

static bool fit(struct parent_model *model, unsigned terms, struct err *err)
{
    parent_design_init(&model->design, &model->cells);
    parent_laplace_init(&model->laplace, &model->cells, &model->design);
    parent_terms_find(&model->cells, &model->design, terms, model->effects.fit);
    if (!parent_optimum_find(&model->laplace, model->effects.fit, &model->optimum, err))
        return false;
    find_effects(model);
    return true;
}

bool parent_model_new(const struct parent_data *data, unsigned terms, struct parent_model **ret,
                      struct err *err)
{
    struct parent_model *model = alloc_zeroed(1, sizeof *model);
    for (int term = 0; term < PARENT_TERMS; term++)
        model->levels[term] = data->levels[term];
    if (!parent_cells_init(&model->cells, data, err)) {
        free(model);
        return false;
    }
    if (!fit(model, terms, err)) {
        parent_model_free(model);
        return false;
    }
    *ret = model;
    return true;
}

void parent_model_free(struct parent_model *model)
{
    if (model == NULL)
        return;
    for (int term = 0; term < PARENT_TERMS; term++)
        free(model->effects.levels[term]);
    free(model->effects.seasons);
    free(model->effects.varieties);
    parent_optimum_done(&model->optimum);
    parent_laplace_done(&model->laplace);
    parent_design_done(&model->design);
    parent_cells_done(&model->cells);
    free(model);
}

const struct parent_effects *parent_model_effects(const struct parent_model *model)
{
    return &model->effects;
}
