#include "parent_optimum.h"
#include "senbetsu/base/alloc.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_eigen.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_multimin.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { ROUNDS = 8, ITERATIONS = 200, APPROACHES = 8 };

/* What the deviance is said to be where it cannot be worked out: finite, since searches along a
 * line interpolate. */
static const double WORST = 1e12;

/* No level of a season is that far from the middle: the fish of some seasons and varieties are kept
 * all or not at all. */
static const double FARTHEST = 25;

/* The search goes over coordinates in which the deviance curves alike in all directions:
 * point = centre + scale · coordinates. */
struct search {
    struct parent_laplace *laplace;
    int free;   /* coordinates: fixed effects, and standard deviations of the terms in the model */
    int *place; /* [free] in the point */
    double *centre;        /* [size] */
    gsl_matrix *scale;     /* [free × free] */
    double *point, *slope; /* [size] scratch */
    gsl_vector *at;        /* [free] where laplace is, if it is anywhere */
    bool is_there;
};

static void search_init(struct search *search, struct parent_laplace *laplace,
                        const enum parent_fit *fit)
{
    size_t size = (size_t)laplace->size;
    *search = (struct search){.laplace = laplace};
    search->place = alloc_zeroed(size, sizeof *search->place);
    for (int i = 0; i < laplace->size; i++) {
        int term = i - laplace->design->columns;
        if (term < 0 || fit[term] == PARENT_FITTED)
            search->place[search->free++] = i;
    }
    search->centre = alloc_zeroed(size, sizeof *search->centre);
    search->point = alloc_zeroed(size, sizeof *search->point);
    search->slope = alloc_zeroed(size, sizeof *search->slope);
    search->scale = gsl_matrix_calloc((size_t)search->free, (size_t)search->free);
    search->at = gsl_vector_calloc((size_t)search->free);
}

static void search_done(struct search *search)
{
    free(search->place);
    free(search->centre);
    free(search->point);
    free(search->slope);
    gsl_matrix_free(search->scale);
    gsl_vector_free(search->at);
}

static void point_at(const struct search *search, const gsl_vector *at, double *ret)
{
    gsl_vector *moved = gsl_vector_alloc(at->size);
    memcpy(ret, search->centre, (size_t)search->laplace->size * sizeof *ret);
    gsl_blas_dgemv(CblasNoTrans, 1, search->scale, at, 0, moved);
    for (int i = 0; i < search->free; i++)
        ret[search->place[i]] += gsl_vector_get(moved, (size_t)i);
    gsl_vector_free(moved);
}

static double value_at(const gsl_vector *at, void *context)
{
    struct search *search = context;
    if (!search->is_there || !gsl_vector_equal(at, search->at)) {
        point_at(search, at, search->point);
        search->is_there = parent_laplace_at(search->laplace, search->point);
        gsl_vector_memcpy(search->at, at);
    }
    return search->is_there ? search->laplace->deviance : WORST;
}

static void slope_at(const gsl_vector *at, void *context, gsl_vector *ret)
{
    struct search *search = context;
    gsl_vector *slope = gsl_vector_calloc(at->size);
    if (value_at(at, search) < WORST)
        parent_laplace_slope(search->laplace, search->slope);
    for (int i = 0; i < search->free; i++)
        gsl_vector_set(slope, (size_t)i, search->slope[search->place[i]]);
    gsl_blas_dgemv(CblasTrans, 1, search->scale, slope, 0, ret);
    gsl_vector_free(slope);
}

static void both_at(const gsl_vector *at, void *context, double *ret_value, gsl_vector *ret_slope)
{
    *ret_value = value_at(at, context);
    slope_at(at, context, ret_slope);
}

/* Moves the centre to `at`. */
static void recentre(struct search *search, const gsl_vector *at)
{
    point_at(search, at, search->point);
    memcpy(search->centre, search->point, (size_t)search->laplace->size * sizeof *search->centre);
    search->is_there = false;
}

/* A few steps of the fixed effects towards their joint mode with the random ones, standard
 * deviations held; leaves the Cholesky factor of their information in `factor`. */
static bool approach(struct search *search, gsl_matrix *factor)
{
    gsl_vector *step = gsl_vector_alloc(factor->size1);
    bool good = true;
    for (int i = 0; good && i < APPROACHES; i++) {
        good = parent_laplace_at(search->laplace, search->centre);
        if (!good)
            break;
        parent_laplace_information(search->laplace, factor);
        parent_laplace_score(search->laplace, step->data);
        good = gsl_linalg_cholesky_decomp1(factor) == 0;
        if (!good || gsl_blas_dnrm2(step) == 0)
            break;
        gsl_linalg_cholesky_svx(factor, step);
        for (size_t j = 0; j < step->size; j++)
            search->centre[j] += gsl_vector_get(step, j);
        if (gsl_blas_dnrm2(step) < 1e-3)
            break;
    }
    gsl_vector_free(step);
    return good;
}

/* The deviance curves by about twice the information to fixed effects, and by about four times the
 * number of levels that are known over its square to a standard deviation. */
static void first_scale(struct search *search, const gsl_matrix *factor)
{
    struct parent_laplace *laplace = search->laplace;
    size_t columns = factor->size1;
    gsl_matrix_set_identity(search->scale);
    gsl_matrix_view fixed = gsl_matrix_submatrix(search->scale, 0, 0, columns, columns);
    gsl_matrix_scale(&fixed.matrix, 1 / sqrt(2));
    gsl_blas_dtrsm(CblasLeft, CblasLower, CblasTrans, CblasNonUnit, 1, factor, &fixed.matrix);
    parent_laplace_at(laplace, search->centre);
    parent_inverse_find(&laplace->inverse, &laplace->system);
    for (size_t i = columns; i < (size_t)search->free; i++) {
        int term = search->place[i] - laplace->design->columns;
        double sd = laplace->system.sd[term], slope = laplace->inverse.slope[term];
        gsl_matrix_set(search->scale, i, i, 0.5 * sqrt(sd / fmax(slope, 1 / sd)));
    }
}

static bool begin(struct search *search, double sd)
{
    size_t columns = (size_t)search->laplace->design->columns;
    gsl_matrix *factor = gsl_matrix_alloc(columns, columns);
    memset(search->centre, 0, (size_t)search->laplace->size * sizeof *search->centre);
    for (int i = (int)columns; i < search->free; i++)
        search->centre[search->place[i]] = sd;
    bool good = approach(search, factor);
    if (good)
        first_scale(search, factor);
    gsl_matrix_free(factor);
    search->is_there = false;
    return good;
}

/* Goes downhill from the centre until the slope is under `level`, and makes that the centre. */
static double descend(struct search *search, double level)
{
    size_t free_count = (size_t)search->free;
    gsl_multimin_function_fdf function = {value_at, slope_at, both_at, free_count, search};
    gsl_multimin_fdfminimizer *minimizer =
        gsl_multimin_fdfminimizer_alloc(gsl_multimin_fdfminimizer_vector_bfgs2, free_count);
    gsl_vector *start = gsl_vector_calloc(free_count);
    gsl_multimin_fdfminimizer_set(minimizer, &function, start, 1, 0.1);
    for (int i = 0; i < ITERATIONS && gsl_blas_dnrm2(minimizer->gradient) > level; i++)
        if (gsl_multimin_fdfminimizer_iterate(minimizer) != 0)
            break;
    double value = minimizer->f;
    recentre(search, minimizer->x);
    gsl_multimin_fdfminimizer_free(minimizer);
    gsl_vector_free(start);
    return value;
}

/* A standard deviation that makes no difference is zero. */
static void settle_zeros(struct search *search)
{
    struct parent_laplace *laplace = search->laplace;
    search->is_there = false;
    parent_laplace_at(laplace, search->centre);
    double value = laplace->deviance;
    for (int i = laplace->design->columns; i < laplace->size; i++) {
        double *sd = &search->centre[i], before = fabs(*sd);
        *sd = 0;
        if (before > 0.05 || !parent_laplace_at(laplace, search->centre) ||
            laplace->deviance > value + 1e-7)
            *sd = before;
    }
}

static void slope_near(struct search *search, size_t coordinate, double step, gsl_vector *ret)
{
    gsl_vector *at = gsl_vector_calloc(ret->size);
    gsl_vector_set(at, coordinate, step);
    slope_at(at, search, ret);
    gsl_vector_free(at);
}

/* By differences of the slope; coordinates are such that the step suits them all. */
static void find_curvature(struct search *search, gsl_matrix *ret)
{
    static const double step = 0.01;
    gsl_vector *below = gsl_vector_alloc(ret->size1), *above = gsl_vector_alloc(ret->size1);
    for (size_t i = 0; i < ret->size1; i++) {
        slope_near(search, i, -step, below);
        slope_near(search, i, step, above);
        gsl_vector_sub(above, below);
        gsl_vector_scale(above, 0.5 / step);
        gsl_matrix_set_row(ret, i, above);
    }
    gsl_vector_free(below);
    gsl_vector_free(above);
    gsl_matrix *turned = gsl_matrix_alloc(ret->size1, ret->size1);
    gsl_matrix_transpose_memcpy(turned, ret);
    gsl_matrix_add(ret, turned);
    gsl_matrix_scale(ret, 0.5);
    gsl_matrix_free(turned);
}

/* Takes coordinates in which this curvature is one in all directions. False where the centre is no
 * minimum: where it curves down, or not at all. */
static bool rescale(struct search *search, gsl_matrix *curvature)
{
    size_t size = curvature->size1;
    gsl_vector *values = gsl_vector_alloc(size);
    gsl_matrix *vectors = gsl_matrix_alloc(size, size), *scale = gsl_matrix_alloc(size, size);
    gsl_eigen_symmv_workspace *workspace = gsl_eigen_symmv_alloc(size);
    gsl_eigen_symmv(curvature, values, vectors, workspace);
    bool minimum = true;
    for (size_t i = 0; i < size; i++) {
        double value = gsl_vector_get(values, i);
        gsl_vector_view column = gsl_matrix_column(vectors, i);
        gsl_vector_scale(&column.vector, 1 / sqrt(fmax(fabs(value), 1e-4)));
        minimum = minimum && value > 1e-4;
    }
    gsl_blas_dgemm(CblasNoTrans, CblasNoTrans, 1, search->scale, vectors, 0, scale);
    gsl_matrix_memcpy(search->scale, scale);
    gsl_eigen_symmv_free(workspace);
    gsl_matrix_free(vectors);
    gsl_matrix_free(scale);
    gsl_vector_free(values);
    search->is_there = false;
    return minimum;
}

/* Newton's steps with the curvature that rescale has taken in. */
static bool refine(struct search *search)
{
    gsl_vector *zero = gsl_vector_calloc((size_t)search->free);
    gsl_vector *slope = gsl_vector_alloc((size_t)search->free);
    bool settled = false;
    for (int i = 0; i < 5 && !settled; i++) {
        slope_at(zero, search, slope);
        settled = search->is_there && gsl_blas_dnrm2(slope) < 1e-4;
        if (!settled) {
            gsl_vector_scale(slope, -1);
            recentre(search, slope);
        }
    }
    gsl_vector_free(zero);
    gsl_vector_free(slope);
    return settled;
}

/* Downhill, and again with the curvature found there, until nothing is left to gain. */
static bool settle(struct search *search)
{
    gsl_matrix *curvature = gsl_matrix_alloc((size_t)search->free, (size_t)search->free);
    bool settled = false;
    for (int round = 0; round < ROUNDS && !settled; round++) {
        descend(search, 1e-2);
        settle_zeros(search);
        find_curvature(search, curvature);
        settled = rescale(search, curvature) && refine(search);
        settle_zeros(search);
    }
    gsl_matrix_free(curvature);
    return settled;
}

/* A likelihood can have several tops: the search sets out from parents that differ much and from
 * parents that differ little, and goes on from where it got higher. */
static bool begin_best(struct search *search, const enum parent_fit *fit)
{
    struct search other;
    search_init(&other, search->laplace, fit);
    bool good = begin(search, 0.5);
    double value = good ? descend(search, 0.3) : WORST;
    if (begin(&other, 0.1) && descend(&other, 0.3) < value) {
        struct search better = other;
        other = *search;
        *search = better;
        good = true;
    }
    search_done(&other);
    return good;
}

static void take(const struct search *search, struct parent_optimum *ret)
{
    size_t size = (size_t)search->laplace->size, free_count = (size_t)search->free;
    gsl_matrix *covariance = gsl_matrix_alloc(free_count, free_count);
    gsl_blas_dgemm(CblasNoTrans, CblasTrans, 2, search->scale, search->scale, 0, covariance);
    *ret = (struct parent_optimum){.point = alloc_zeroed(size, sizeof *ret->point),
                                   .deviance = search->laplace->deviance,
                                   .covariance = gsl_matrix_calloc(size, size)};
    memcpy(ret->point, search->centre, size * sizeof *ret->point);
    for (size_t i = 0; i < free_count; i++)
        for (size_t j = 0; j < free_count; j++)
            gsl_matrix_set(ret->covariance, (size_t)search->place[i], (size_t)search->place[j],
                           gsl_matrix_get(covariance, i, j));
    gsl_matrix_free(covariance);
}

static bool too_far(const struct search *search)
{
    for (int i = 0; i < search->laplace->design->columns; i++)
        if (!(fabs(search->centre[i]) < FARTHEST))
            return true;
    return false;
}

static bool find(struct search *search, const enum parent_fit *fit, struct parent_optimum *ret,
                 struct err *err)
{
    bool settled = begin_best(search, fit) && settle(search) &&
                   parent_laplace_at(search->laplace, search->centre);
    if (!settled || too_far(search))
        return err_set(err, ERR_INPUT,
                       "Parents cannot be compared: these spawnings do not settle how their "
                       "seasons and varieties differ. Seasons with few fish, or with none or all "
                       "kept, may be the reason.");
    take(search, ret);
    return true;
}

bool parent_optimum_find(struct parent_laplace *laplace, const enum parent_fit *fit,
                         struct parent_optimum *ret, struct err *err)
{
    struct search search;
    gsl_error_handler_t *handler = gsl_set_error_handler_off();
    search_init(&search, laplace, fit);
    bool found = find(&search, fit, ret, err);
    search_done(&search);
    gsl_set_error_handler(handler);
    return found;
}

void parent_optimum_done(struct parent_optimum *optimum)
{
    free(optimum->point);
    gsl_matrix_free(optimum->covariance);
}
