#include "senbetsu/stats/glmm/expect.h"
#include "linear_predictor.h"
#include "senbetsu/base/alloc.h"

#include <gsl/gsl_blas.h>
#include <stdlib.h>
#include <string.h>

/* A sum of crosses: fixed effects, levels in the data, and how much is new. */
struct sum {
    double *fixed; /* [columns] */
    struct parent_vector levels;
    double fresh[PARENT_TERMS]; /* how often each variance counts */
};

static void sum_init(struct sum *sum, const struct parent_model *model)
{
    *sum = (struct sum){.fixed = alloc_zeroed((size_t)model->design.columns, sizeof *sum->fixed)};
    parent_vector_init(&sum->levels, &model->cells);
}

static void sum_done(struct sum *sum)
{
    free(sum->fixed);
    parent_vector_done(&sum->levels);
}

static void add_cross(struct sum *sum, const struct parent_model *model,
                      const struct parent_cross *cross, double times)
{
    struct parent_parts parts;
    parent_parts_init(&parts, model, cross);
    for (int i = 0; i < model->design.columns; i++)
        sum->fixed[i] += times * parts.fixed[i];
    for (int term = 0; term < PARENT_TERMS; term++) {
        if (parts.place[term] >= 0)
            sum->levels.of[term][parts.place[term]] += times;
        sum->fresh[term] += times * times * parts.fresh[term];
    }
    parent_parts_done(&parts);
}

/* The sum with one set of standard deviations. */
struct view {
    double mean;
    double variance; /* of its random effects, fixed effects known */
    double *slope;   /* [columns] of the mean to fixed effects */
};

static void find_mean(struct view *view, const struct sum *sum,
                      const struct parent_laplace *laplace, const double *point,
                      struct parent_vector *ret_weights)
{
    int columns = laplace->design->columns;
    for (int i = 0; i < columns; i++)
        view->mean += sum->fixed[i] * point[i];
    for (int term = 0; term < PARENT_TERMS; term++) {
        double sd = laplace->system.sd[term];
        for (int i = 0; i < parent_vector_size(laplace->cells, term); i++)
            ret_weights->of[term][i] = sd * sum->levels.of[term][i];
        view->variance += sum->fresh[term] * sd * sd;
    }
    view->mean += parent_vector_dot(ret_weights, &laplace->modes);
}

static void view_init(struct view *view, const struct sum *sum,
                      const struct parent_laplace *laplace, const double *point)
{
    struct parent_vector weights, solved;
    parent_vector_init(&weights, laplace->cells);
    parent_vector_init(&solved, laplace->cells);
    size_t columns = (size_t)laplace->design->columns;
    *view = (struct view){.slope = alloc_zeroed(columns, sizeof *view->slope)};
    memcpy(view->slope, sum->fixed, columns * sizeof *view->slope);
    find_mean(view, sum, laplace, point, &weights);
    parent_vector_copy(&solved, &weights);
    parent_laplace_solve(laplace, &solved, view->slope);
    view->variance += parent_vector_dot(&weights, &solved);
    parent_vector_done(&weights);
    parent_vector_done(&solved);
}

/* What is not known of fixed effects adds to the variance of the mean. */
static double fixed_variance(const struct parent_node *node, double *slope)
{
    gsl_vector_view part = gsl_vector_view_array(slope, node->fixed_root->size1);
    double square;
    gsl_blas_dtrsv(CblasLower, CblasNoTrans, CblasNonUnit, node->fixed_root, &part.vector);
    gsl_blas_ddot(&part.vector, &part.vector, &square);
    return square;
}

static double node_variance(const struct parent_node *node, const struct sum *sum, double mean)
{
    struct view view;
    view_init(&view, sum, &node->laplace, node->point);
    double off = view.mean - mean;
    double variance = view.variance + fixed_variance(node, view.slope) + off * off;
    free(view.slope);
    return variance;
}

static struct parent_expectation expect(const struct parent_model *model, const struct sum *sum)
{
    struct view view;
    view_init(&view, sum, &model->laplace, model->optimum.point);
    free(view.slope);
    struct parent_expectation expectation = {.mean = view.mean,
                                             .conditional_variance = view.variance};
    for (int i = 0; i < model->nodes.count; i++) {
        const struct parent_node *node = &model->nodes.node[i];
        expectation.variance += node->weight * node_variance(node, sum, view.mean);
    }
    return expectation;
}

bool parent_model_knows(const struct parent_model *model, int variety)
{
    return model->cells.variety_state[variety] == PARENT_ESTIMATED;
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
