#include "senbetsu/stats/parent_expect.h"
#include "parent_inside.h"
#include "senbetsu/base/alloc.h"

#include <stdlib.h>

/* A sum of fixed effects, of levels in the data and of levels that are not. */
struct sum {
    double *fixed;               /* [columns] */
    struct parent_vector levels; /* how often each counts */
    double fresh[PARENT_TERMS];  /* squares of the same for levels that are not in the data */
};

static void sum_init(struct sum *sum, const struct parent_model *model)
{
    *sum = (struct sum){.fixed = alloc_zeroed((size_t)model->laplace.size, sizeof *sum->fixed)};
    parent_vector_init(&sum->levels, &model->cells);
}

static void sum_done(struct sum *sum)
{
    free(sum->fixed);
    parent_vector_done(&sum->levels);
}

/* Where a level is in the model's vectors, or -1. */
static int place_of(const struct parent_model *model, int term, int level)
{
    if (term != PARENT_SPAWNING)
        return level;
    for (int i = 0; i < model->cells.count; i++)
        if (model->cells.cell[i].level[term] == level)
            return i;
    return -1;
}

static void add_level(struct sum *sum, const struct parent_model *model, int term, int level,
                      double times)
{
    int place = level < 0 ? level : place_of(model, term, level);
    if (place >= 0)
        sum->levels.of[term][place] += times;
    else if (place == PARENT_NEW)
        sum->fresh[term] += times * times;
}

static void add_cross(struct sum *sum, const struct parent_model *model,
                      const struct parent_cross *cross, double times)
{
    const struct parent_design *design = &model->design;
    double *row = alloc_zeroed((size_t)design->columns, sizeof *row);
    if (cross->season == PARENT_TYPICAL)
        parent_design_typical(design, row);
    else
        parent_design_season(design, cross->season, row);
    if (cross->variety != PARENT_ANY_VARIETY)
        parent_design_variety(design, cross->variety, row);
    for (int i = 0; i < design->columns; i++)
        sum->fixed[i] += times * row[i];
    free(row);
    for (int term = 0; term < PARENT_TERMS; term++)
        if (model->effects.fit[term] == PARENT_FITTED)
            add_level(sum, model, term, cross->level[term], times);
}

/* The mean of a sum: its slope to the point [size], and the levels in units of deviations. */
struct mean {
    double value, *slope;
    struct parent_vector weights;
};

static void mean_init(struct mean *mean, const struct sum *sum, const struct parent_model *model)
{
    const struct parent_laplace *laplace = &model->laplace;
    int columns = model->design.columns;
    parent_vector_init(&mean->weights, &model->cells);
    mean->slope = alloc_zeroed((size_t)laplace->size, sizeof *mean->slope);
    mean->value = 0;
    for (int i = 0; i < columns; i++) {
        mean->slope[i] = sum->fixed[i];
        mean->value += sum->fixed[i] * model->optimum.point[i];
    }
    for (int term = 0; term < PARENT_TERMS; term++)
        for (int i = 0; i < parent_vector_size(&model->cells, term); i++) {
            double times = sum->levels.of[term][i], mode = laplace->modes.of[term][i];
            mean->slope[columns + term] += times * mode;
            mean->weights.of[term][i] = times * model->effects.sd[term];
            mean->value += mean->weights.of[term][i] * mode;
        }
}

static void mean_done(struct mean *mean)
{
    free(mean->slope);
    parent_vector_done(&mean->weights);
}

static double quadratic(const gsl_matrix *matrix, const double *vector)
{
    double sum = 0;
    for (size_t i = 0; i < matrix->size1; i++)
        for (size_t j = 0; j < matrix->size2; j++)
            sum += vector[i] * vector[j] * gsl_matrix_get(matrix, i, j);
    return sum;
}

/* The variance of what is new, and of the levels given the estimates; and what the estimates' own
 * errors add: to the mean, and to the spread of what is new. */
static struct parent_expectation expect(const struct parent_model *model, const struct sum *sum)
{
    const gsl_matrix *covariance = model->optimum.covariance;
    struct mean mean;
    mean_init(&mean, sum, model);
    struct parent_expectation expectation = {.mean = mean.value};
    struct parent_vector solved;
    parent_vector_init(&solved, &model->cells);
    parent_vector_copy(&solved, &mean.weights);
    parent_laplace_modes_slope(&model->laplace, &solved, mean.slope);
    expectation.conditional_variance = parent_vector_dot(&mean.weights, &solved);
    expectation.variance = quadratic(covariance, mean.slope);
    for (int term = 0; term < PARENT_TERMS; term++) {
        size_t place = (size_t)model->design.columns + (size_t)term;
        double sd = model->effects.sd[term];
        expectation.conditional_variance += sum->fresh[term] * sd * sd;
        expectation.variance += sum->fresh[term] * gsl_matrix_get(covariance, place, place);
    }
    expectation.variance += expectation.conditional_variance;
    parent_vector_done(&solved);
    mean_done(&mean);
    return expectation;
}

struct parent_expectation parent_model_expect(const struct parent_model *model,
                                              const struct parent_cross *cross)
{
    struct sum sum;
    sum_init(&sum, model);
    add_cross(&sum, model, cross, 1);
    struct parent_expectation expectation = expect(model, &sum);
    sum_done(&sum);
    return expectation;
}

struct parent_expectation parent_model_difference(const struct parent_model *model,
                                                  const struct parent_cross *cross,
                                                  const struct parent_cross *other)
{
    struct sum sum;
    sum_init(&sum, model);
    add_cross(&sum, model, cross, 1);
    add_cross(&sum, model, other, -1);
    struct parent_expectation expectation = expect(model, &sum);
    sum_done(&sum);
    return expectation;
}
