/* The parent model as its callers see it: fits one and reports its estimates. The files beside this
 * one are listed in private.h, in the order of a fit. */
#include "senbetsu/stats/glmm/model.h"
#include "private.h"
#include "senbetsu/base/alloc.h"

#include <gsl/gsl_blas.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* How seasons, and after them varieties, are made of the fixed effects; what has no estimate has an
 * empty row. */
static gsl_matrix *fixed_rows(const struct parent_model *model)
{
    const struct observations *data = &model->data;
    size_t levels = (size_t)data->seasons + (size_t)data->varieties;
    gsl_matrix *rows = gsl_matrix_calloc(levels, (size_t)model->design.columns);
    for (int i = 0; i < data->seasons; i++)
        if (data->season_state[i] == PARENT_ESTIMATED)
            design_add_season(&model->design, i, gsl_matrix_ptr(rows, (size_t)i, 0));
    for (int i = 0; i < data->varieties; i++)
        if (data->variety_state[i] == PARENT_ESTIMATED) {
            size_t row = (size_t)data->seasons + (size_t)i;
            design_add_variety(&model->design, i, gsl_matrix_ptr(rows, row, 0));
        }
    return rows;
}

/* rows · covariance of the fixed effects · rows' */
static gsl_matrix *fixed_covariance(const struct parent_model *model, const gsl_matrix *rows)
{
    gsl_matrix_const_view fixed =
        gsl_matrix_const_submatrix(model->optimum.covariance, 0, 0, rows->size2, rows->size2);
    gsl_matrix *half = gsl_matrix_alloc(rows->size1, rows->size2);
    gsl_matrix *covariance = gsl_matrix_alloc(rows->size1, rows->size1);
    gsl_blas_dgemm(CblasNoTrans, CblasNoTrans, 1, rows, &fixed.matrix, 0, half);
    gsl_blas_dgemm(CblasNoTrans, CblasTrans, 1, half, rows, 0, covariance);
    gsl_matrix_free(half);
    return covariance;
}

/* `count` levels whose rows begin at `from`. */
static struct parent_level *fixed_levels(const struct parent_model *model, const gsl_matrix *rows,
                                         const gsl_matrix *covariance, int from, int count,
                                         const enum parent_state *states)
{
    struct parent_level *levels = alloc_zeroed((size_t)count, sizeof *levels);
    for (int i = 0; i < count; i++) {
        struct parent_level *level = &levels[i];
        size_t row = (size_t)from + (size_t)i;
        level->state = states[i];
        if (level->state == PARENT_ESTIMATED) {
            for (size_t j = 0; j < rows->size2; j++)
                level->estimate += gsl_matrix_get(rows, row, j) * model->optimum.point[j];
            level->se = sqrt(gsl_matrix_get(covariance, row, row));
        } else if (level->state != PARENT_UNSEEN) {
            level->estimate = level->state == PARENT_ALL_KEPT ? INFINITY : -INFINITY;
            level->se = INFINITY;
        }
    }
    return levels;
}

static void find_fixed_effects(struct parent_model *model)
{
    const struct observations *data = &model->data;
    struct parent_effects *effects = &model->effects;
    gsl_matrix *rows = fixed_rows(model), *covariance = fixed_covariance(model, rows);
    size_t numbers = rows->size1 * rows->size1;
    effects->seasons = fixed_levels(model, rows, covariance, 0, data->seasons, data->season_state);
    if (model->design.columns > model->design.seasons_fitted)
        effects->varieties = fixed_levels(model, rows, covariance, data->seasons, data->varieties,
                                          data->variety_state);
    effects->variety_groups = model->design.groups;
    effects->covariance = alloc_zeroed(numbers, sizeof *effects->covariance);
    memcpy(effects->covariance, covariance->data, numbers * sizeof *covariance->data);
    gsl_matrix_free(rows);
    gsl_matrix_free(covariance);
}

static struct parent_level *random_effects(const struct parent_model *model, int term)
{
    const struct laplace *laplace = &model->laplace;
    double sd = model->effects.sd[term];
    struct parent_level *levels = alloc_zeroed((size_t)model->levels[term] + 1, sizeof *levels);
    for (int i = 0; i < model->levels[term]; i++)
        levels[i] = (struct parent_level){.se = sd};
    for (int i = 0; i < model->data.count; i++) {
        int level = model->data.row[i].level[term], place = level_place(&model->data, i, term);
        if (level < model->levels[term]) {
            levels[level].estimate = sd * laplace->modes.of[term][place];
            levels[level].se = sd * sqrt(laplace->inverse.variance.of[term][place]);
        }
    }
    return levels;
}

static bool fit(struct parent_model *model, unsigned terms, struct err *err)
{
    struct parent_effects *effects = &model->effects;
    design_init(&model->design, &model->data);
    laplace_init(&model->laplace, &model->data, &model->design);
    find_fitted_terms(&model->data, &model->design, terms, effects->fit);
    if (!optimum_find(&model->laplace, effects->fit, &model->optimum, err))
        return false;
    inverse_find(&model->laplace.inverse, &model->laplace.equations);
    effects->loglik = model->data.log_coefficients - model->optimum.deviance / 2;
    find_fixed_effects(model);
    for (int term = 0; term < PARENT_TERMS; term++) {
        effects->sd[term] = model->optimum.point[model->design.columns + term];
        effects->levels[term] = random_effects(model, term);
    }
    quadrature_init(&model->quadrature, &model->laplace, &model->optimum, effects->fit);
    return true;
}

bool parent_model_new(const struct parent_data *data, unsigned terms, struct parent_model **ret,
                      struct err *err)
{
    struct parent_model *model = alloc_zeroed(1, sizeof *model);
    memcpy(model->levels, data->levels, sizeof model->levels);
    if (!observations_init(&model->data, data, err)) {
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
    free(model->effects.covariance);
    quadrature_done(&model->quadrature);
    optimum_done(&model->optimum);
    laplace_done(&model->laplace);
    design_done(&model->design);
    observations_done(&model->data);
    free(model);
}

const struct parent_effects *parent_model_effects(const struct parent_model *model)
{
    return &model->effects;
}
