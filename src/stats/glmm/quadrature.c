/* Standard deviations are poorly known, and maximum likelihood takes them too small: predictions
 * average over a few dozen points around the estimates, as in Rue, Martino & Chopin 2009, J R Stat
 * Soc B 71:319-392 (from memory).
 *
 * Points are Halton's sequence, laid out as Student's t by the covariance of the estimates. Each is
 * weighted by its restricted likelihood, that of σ alone, fixed effects integrated out as random
 * ones are, over the density of the points: exp(-deviance / 2) / |information on β|^(1/2) / t.
 * Beforehand all σ are as likely. */
#include "private.h"
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

/* The standard deviations in the model. */
struct deviations {
    int count;
    int place[PARENT_TERMS]; /* of each in the point */
    gsl_matrix *root;        /* [count × count] Cholesky's factor of their covariance */
};

static void deviations_init(struct deviations *deviations, const struct optimum *optimum,
                            int columns, const enum parent_fit *fit)
{
    *deviations = (struct deviations){.root = gsl_matrix_alloc(PARENT_TERMS, PARENT_TERMS)};
    gsl_matrix_set_identity(deviations->root);
    for (int term = 0; term < PARENT_TERMS; term++)
        if (fit[term] == PARENT_FITTED)
            deviations->place[deviations->count++] = columns + term;
    for (int i = 0; i < deviations->count; i++)
        for (int j = 0; j < deviations->count; j++)
            gsl_matrix_set(deviations->root, (size_t)i, (size_t)j,
                           gsl_matrix_get(optimum->covariance, (size_t)deviations->place[i],
                                          (size_t)deviations->place[j]));
    gsl_linalg_cholesky_decomp1(deviations->root);
}

/* Moves the standard deviations of `point`, which has the optimum's, to the sequence's next.
 * Returns the logarithm of how densely points lie there. */
static double move_point(const struct deviations *deviations, gsl_qrng *sequence, double *point)
{
    double shares[PARENT_TERMS], density = 0;
    gsl_qrng_get(sequence, shares);
    for (int i = 0; i < deviations->count; i++) {
        double t = gsl_cdf_tdist_Pinv(shares[i], FREEDOM);
        density -= (FREEDOM + 1) / 2 * log1p(t * t / FREEDOM);
        for (int j = i; j < deviations->count; j++)
            point[deviations->place[j]] +=
                WIDTH * t * gsl_matrix_get(deviations->root, (size_t)j, (size_t)i);
    }
    for (int i = 0; i < deviations->count; i++)
        point[deviations->place[i]] = fabs(point[deviations->place[i]]);
    return density;
}

static void node_done(struct node *node)
{
    free(node->point);
    laplace_done(&node->laplace);
    gsl_matrix_free(node->fixed_root);
    gsl_matrix_free(node->moves);
}

/* Sets the weight to the logarithm of the restricted likelihood. */
static bool node_init(struct node *node, const struct laplace *laplace, const double *point)
{
    size_t size = (size_t)laplace->size, columns = (size_t)laplace->design->columns;
    node->point = alloc_zeroed(size, sizeof *node->point);
    memcpy(node->point, point, size * sizeof *point);
    node->fixed_root = gsl_matrix_alloc(columns, columns);
    laplace_init(&node->laplace, laplace->data, laplace->design);
    level_vector_copy(&node->laplace.modes, &laplace->modes);
    node->moves = laplace_moves_new(&node->laplace);
    if (!laplace_fit_fixed(&node->laplace, node->point, STEPS, node->fixed_root, node->moves)) {
        node_done(node);
        return false;
    }
    node->weight = -node->laplace.deviance / 2;
    for (size_t i = 0; i < columns; i++)
        node->weight -= log(gsl_matrix_get(node->fixed_root, i, i));
    return true;
}

static void lay_out(struct quadrature *quadrature, const struct laplace *laplace,
                    const struct optimum *optimum, const struct deviations *deviations)
{
    size_t size = (size_t)laplace->size;
    double *point = alloc_zeroed(size, sizeof *point);
    gsl_qrng *sequence = gsl_qrng_alloc(gsl_qrng_halton, (unsigned)deviations->count);
    for (int i = 0; i < POINTS; i++) {
        memcpy(point, optimum->point, size * sizeof *point);
        double density = move_point(deviations, sequence, point);
        struct node *node = &quadrature->node[quadrature->count];
        if (node_init(node, laplace, point)) {
            node->weight -= density;
            quadrature->count++;
        }
    }
    gsl_qrng_free(sequence);
    free(point);
}

void quadrature_init(struct quadrature *quadrature, const struct laplace *laplace,
                     const struct optimum *optimum, const enum parent_fit *fit)
{
    struct deviations deviations;
    gsl_error_handler_t *handler = gsl_set_error_handler_off();
    struct node *node = alloc_zeroed(POINTS, sizeof *node);
    double most = -INFINITY, sum = 0;
    *quadrature = (struct quadrature){.node = node};
    deviations_init(&deviations, optimum, laplace->design->columns, fit);
    if (deviations.count > 0)
        lay_out(quadrature, laplace, optimum, &deviations);
    if (quadrature->count == 0 && node_init(&node[0], laplace, optimum->point))
        quadrature->count = 1;
    for (int i = 0; i < quadrature->count; i++)
        most = fmax(most, node[i].weight);
    for (int i = 0; i < quadrature->count; i++)
        sum += node[i].weight = exp(node[i].weight - most);
    for (int i = 0; i < quadrature->count; i++)
        node[i].weight /= sum;
    gsl_matrix_free(deviations.root);
    gsl_set_error_handler(handler);
}

void quadrature_done(struct quadrature *quadrature)
{
    for (int i = 0; i < quadrature->count; i++)
        node_done(&quadrature->node[i]);
    free(quadrature->node);
}
