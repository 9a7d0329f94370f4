#include "senbetsu/stats/glmm/draws.h"
#include "linear_predictor.h"
#include "senbetsu/base/alloc.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdlib.h>

struct parent_draws {
    const struct parent_model *model;
    gsl_rng *random;
    int count;
    struct parent_parts *parts; /* [count] */
    gsl_vector *fixed;          /* [columns] as drawn */
    struct parent_vector effects;
    double *cells; /* [cells] scratch */
};

struct parent_draws *parent_draws_new(const struct parent_model *model,
                                      const struct parent_cross *crosses, int count, uint64_t seed)
{
    struct parent_draws *draws = alloc_zeroed(1, sizeof *draws);
    draws->model = model;
    draws->random = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_rng_set(draws->random, (unsigned long)seed);
    draws->count = count;
    draws->parts = alloc_zeroed((size_t)count, sizeof *draws->parts);
    for (int i = 0; i < count; i++)
        parent_parts_init(&draws->parts[i], model, &crosses[i]);
    draws->fixed = gsl_vector_alloc((size_t)model->design.columns);
    parent_vector_init(&draws->effects, &model->cells);
    draws->cells = alloc_zeroed((size_t)model->cells.count, sizeof *draws->cells);
    return draws;
}

void parent_draws_free(struct parent_draws *draws)
{
    if (draws == NULL)
        return;
    for (int i = 0; i < draws->count; i++)
        parent_parts_done(&draws->parts[i]);
    free(draws->parts);
    gsl_rng_free(draws->random);
    gsl_vector_free(draws->fixed);
    parent_vector_done(&draws->effects);
    free(draws->cells);
    free(draws);
}

static double normal(struct parent_draws *draws)
{
    return gsl_ran_gaussian_ziggurat(draws->random, 1);
}

static const struct parent_node *draw_node(struct parent_draws *draws)
{
    const struct parent_nodes *nodes = &draws->model->nodes;
    double left = gsl_rng_uniform(draws->random);
    int i = 0;
    while (i < nodes->count - 1 && (left -= nodes->node[i].weight) > 0)
        i++;
    return &nodes->node[i];
}

/* Leaves in `fixed` how far fixed effects are from where the node has them. */
static void draw_fixed(struct parent_draws *draws, const struct parent_node *node)
{
    for (size_t i = 0; i < draws->fixed->size; i++)
        gsl_vector_set(draws->fixed, i, normal(draws));
    gsl_blas_dtrsv(CblasLower, CblasTrans, CblasNonUnit, node->fixed_root, draws->fixed);
}

/* A right side whose variance is the system itself makes a solution whose variance is its inverse;
 * and modes move against the fixed effects. */
static void draw_effects(struct parent_draws *draws, const struct parent_node *node)
{
    const struct parent_system *system = &node->laplace.system;
    gsl_vector_view cells = gsl_vector_view_array(draws->cells, (size_t)system->cells->count);
    gsl_blas_dgemv(CblasNoTrans, -1, draws->model->design.rows, draws->fixed, 0, &cells.vector);
    for (int i = 0; i < system->cells->count; i++) {
        double weight = system->weight[i];
        draws->cells[i] = weight * draws->cells[i] + sqrt(weight) * normal(draws);
    }
    parent_system_gather(system, draws->cells, &draws->effects);
    for (int i = 0; i < draws->effects.size; i++)
        draws->effects.of[0][i] += normal(draws);
    parent_system_solve(system, &draws->effects);
    for (int i = 0; i < draws->effects.size; i++)
        draws->effects.of[0][i] += node->laplace.modes.of[0][i];
}

static double cross_of(struct parent_draws *draws, const struct parent_node *node,
                       const struct parent_parts *parts)
{
    double sum = 0;
    for (size_t i = 0; i < draws->fixed->size; i++)
        sum += parts->fixed[i] * (node->point[i] + gsl_vector_get(draws->fixed, i));
    for (int term = 0; term < PARENT_TERMS; term++) {
        double sd = node->laplace.system.sd[term];
        if (parts->place[term] >= 0)
            sum += sd * draws->effects.of[term][parts->place[term]];
        else if (parts->fresh[term] > 0)
            sum += sd * sqrt(parts->fresh[term]) * normal(draws);
    }
    return sum;
}

void parent_draws_next(struct parent_draws *draws, double *ret)
{
    const struct parent_node *node = draw_node(draws);
    draw_fixed(draws, node);
    draw_effects(draws, node);
    for (int i = 0; i < draws->count; i++)
        ret[i] = cross_of(draws, node, &draws->parts[i]);
}
