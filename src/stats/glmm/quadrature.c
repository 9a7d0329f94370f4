#include "quadrature.h"
#include "senbetsu/base/alloc.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_qrng.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { POINTS = 64, STEPS = 2 };

/* Points lie as Student's t with so many degrees of freedom, and so much wider than the curvature
 * at the optimum says: the likelihood of a standard deviation falls off more slowly upwards. */
static const double FREEDOM = 5, WIDTH = 1.5;

struct overdispersion {
    int count;               /* terms in the model */
    int place[PARENT_TERMS]; /* of each in the point */
    gsl_matrix *root;        /* [count × count] Cholesky's factor of their covariance */
};

static void overdispersion_init(struct overdispersion *overdispersion,
                                const struct parent_optimum *optimum, int columns,
                                const enum parent_fit *fit)
{
    *overdispersion = (struct overdispersion){.root = gsl_matrix_alloc(PARENT_TERMS, PARENT_TERMS)};
    gsl_matrix_set_identity(overdispersion->root);
    for (int term = 0; term < PARENT_TERMS; term++)
        if (fit[term] == PARENT_FITTED)
            overdispersion->place[overdispersion->count++] = columns + term;
    for (int i = 0; i < overdispersion->count; i++)
        for (int j = 0; j < overdispersion->count; j++)
            gsl_matrix_set(overdispersion->root, (size_t)i, (size_t)j,
                           gsl_matrix_get(optimum->covariance, (size_t)overdispersion->place[i],
                                          (size_t)overdispersion->place[j]));
    gsl_linalg_cholesky_decomp1(overdispersion->root);
}

/* Sets the standard deviations of `point`, which has the optimum's, to the next of the points.
 * Returns the logarithm of how densely points lie there. */
static double move(const struct overdispersion *overdispersion, gsl_qrng *sequence, double *point)
{
    double shares[PARENT_TERMS], density = 0;
    gsl_qrng_get(sequence, shares);
    for (int i = 0; i < overdispersion->count; i++) {
        double t = gsl_cdf_tdist_Pinv(shares[i], FREEDOM);
        density -= (FREEDOM + 1) / 2 * log1p(t * t / FREEDOM);
        for (int j = i; j < overdispersion->count; j++)
            point[overdispersion->place[j]] +=
                WIDTH * t * gsl_matrix_get(overdispersion->root, (size_t)j, (size_t)i);
    }
    for (int i = 0; i < overdispersion->count; i++)
        point[overdispersion->place[i]] = fabs(point[overdispersion->place[i]]);
    return density;
}

static void node_done(struct parent_node *node)
{
    free(node->point);
    parent_laplace_done(&node->laplace);
    gsl_matrix_free(node->fixed_root);
}

/* Sets the weight to the logarithm of the restricted likelihood. */
static bool node_init(struct parent_node *node, const struct parent_laplace *laplace,
                      const double *point)
{
    size_t size = (size_t)laplace->size, columns = (size_t)laplace->design->columns;
    node->point = alloc_zeroed(size, sizeof *node->point);
    memcpy(node->point, point, size * sizeof *point);
    node->fixed_root = gsl_matrix_alloc(columns, columns);
    parent_laplace_init(&node->laplace, laplace->cells, laplace->design);
    parent_vector_copy(&node->laplace.modes, &laplace->modes);
    if (!parent_laplace_approach(&node->laplace, node->point, STEPS, node->fixed_root)) {
        node_done(node);
        return false;
    }
    node->weight = -node->laplace.deviance / 2;
    for (size_t i = 0; i < columns; i++)
        node->weight -= log(gsl_matrix_get(node->fixed_root, i, i));
    return true;
}

static void add_points(struct parent_nodes *nodes, const struct parent_laplace *laplace,
                       const struct parent_optimum *optimum,
                       const struct overdispersion *overdispersion)
{
    size_t size = (size_t)laplace->size;
    double *point = alloc_zeroed(size, sizeof *point);
    gsl_qrng *sequence = gsl_qrng_alloc(gsl_qrng_halton, (unsigned)overdispersion->count);
    for (int i = 0; i < POINTS; i++) {
        memcpy(point, optimum->point, size * sizeof *point);
        double density = move(overdispersion, sequence, point);
        struct parent_node *node = &nodes->node[nodes->count];
        if (node_init(node, laplace, point)) {
            node->weight -= density;
            nodes->count++;
        }
    }
    gsl_qrng_free(sequence);
    free(point);
}

static void even_out(struct parent_nodes *nodes)
{
    double most = -INFINITY, sum = 0;
    for (int i = 0; i < nodes->count; i++)
        most = fmax(most, nodes->node[i].weight);
    for (int i = 0; i < nodes->count; i++)
        sum += nodes->node[i].weight = exp(nodes->node[i].weight - most);
    for (int i = 0; i < nodes->count; i++)
        nodes->node[i].weight /= sum;
}

void parent_nodes_init(struct parent_nodes *nodes, const struct parent_laplace *laplace,
                       const struct parent_optimum *optimum, const enum parent_fit *fit)
{
    struct overdispersion overdispersion;
    gsl_error_handler_t *handler = gsl_set_error_handler_off();
    *nodes = (struct parent_nodes){.node = alloc_zeroed(POINTS, sizeof *nodes->node)};
    overdispersion_init(&overdispersion, optimum, laplace->design->columns, fit);
    if (overdispersion.count > 0)
        add_points(nodes, laplace, optimum, &overdispersion);
    if (nodes->count == 0 && node_init(&nodes->node[0], laplace, optimum->point))
        nodes->count = 1;
    even_out(nodes);
    gsl_matrix_free(overdispersion.root);
    gsl_set_error_handler(handler);
}

void parent_nodes_done(struct parent_nodes *nodes)
{
    for (int i = 0; i < nodes->count; i++)
        node_done(&nodes->node[i]);
    free(nodes->node);
}
