#include "senbetsu/stats/glmm/model.h"
#include "private.h"
#include "senbetsu/base/alloc.h"
#include "terms.h"

#include <gsl/gsl_blas.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* How seasons, and after them varieties, are made of the fixed effects; what has no estimate has an
 * empty row. */
static gsl_matrix *fixed_rows(const struct parent_model *model)
{
    const struct parent_cells *cells = &model->cells;
    size_t levels = (size_t)cells->seasons + (size_t)cells->varieties;
    gsl_matrix *rows = gsl_matrix_calloc(levels, (size_t)model->design.columns);
    for (int i = 0; i < cells->seasons; i++)
        if (cells->season_state[i] == PARENT_ESTIMATED)
            parent_design_season(&model->design, i, gsl_matrix_ptr(rows, (size_t)i, 0));
    for (int i = 0; i < cells->varieties; i++)
        if (cells->variety_state[i] == PARENT_ESTIMATED) {
            size_t row = (size_t)cells->seasons + (size_t)i;
            parent_design_variety(&model->design, i, gsl_matrix_ptr(rows, row, 0));
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

static struct parent_level fixed_level(const struct parent_model *model, const gsl_matrix *rows,
                                       const gsl_matrix *covariance, size_t row,
                                       enum parent_state state)
{
    struct parent_level level = {.state = state};
    if (state == PARENT_ESTIMATED) {
        for (size_t i = 0; i < rows->size2; i++)
            level.estimate += gsl_matrix_get(rows, row, i) * model->optimum.point[i];
        level.se = sqrt(gsl_matrix_get(covariance, row, row));
    } else if (state != PARENT_UNSEEN) {
        level.estimate = state == PARENT_ALL_KEPT ? INFINITY : -INFINITY;
        level.se = INFINITY;
    }
    return level;
}

static struct parent_level *fixed_levels(const struct parent_model *model, const gsl_matrix *rows,
                                         const gsl_matrix *covariance, int from, int count,
                                         const enum parent_state *states)
{
    struct parent_level *levels = alloc_zeroed((size_t)count, sizeof *levels);
    for (int i = 0; i < count; i++)
        levels[i] = fixed_level(model, rows, covariance, (size_t)from + (size_t)i, states[i]);
    return levels;
}

static void find_fixed(struct parent_model *model)
{
    const struct parent_cells *cells = &model->cells;
    struct parent_effects *effects = &model->effects;
    gsl_matrix *rows = fixed_rows(model), *covariance = fixed_covariance(model, rows);
    size_t numbers = rows->size1 * rows->size1;
    effects->seasons =
        fixed_levels(model, rows, covariance, 0, cells->seasons, cells->season_state);
    if (model->design.columns > model->design.seasons_fitted)
        effects->varieties = fixed_levels(model, rows, covariance, cells->seasons, cells->varieties,
                                          cells->variety_state);
    effects->variety_groups = model->design.groups;
    effects->covariance = alloc_zeroed(numbers, sizeof *effects->covariance);
    memcpy(effects->covariance, covariance->data, numbers * sizeof *covariance->data);
    gsl_matrix_free(rows);
    gsl_matrix_free(covariance);
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
    find_fixed(model);
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
    parent_nodes_init(&model->nodes, &model->laplace, &model->optimum, model->effects.fit);
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
    free(model->effects.covariance);
    parent_nodes_done(&model->nodes);
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
