#include "search.h"
#include "senbetsu/base/alloc.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_eigen.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_multimin.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { APPROACHES = 30, ITERATIONS = 200, REFINEMENTS = 5 };

/* What the deviance is said to be where it cannot be worked out: finite, since searches along a
 * line interpolate. */
static const double WORST = 1e12;

/* A curvature under this is none; coordinates begin with curvatures of about one. */
static const double LEAST_CURVATURE = 1e-4;

static void point_at(const struct parent_search *search, const gsl_vector *at, double *ret)
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
    struct parent_search *search = context;
    if (!search->is_there || !gsl_vector_equal(at, search->at)) {
        point_at(search, at, search->point);
        search->is_there = parent_laplace_at(search->laplace, search->point);
        gsl_vector_memcpy(search->at, at);
    }
    return search->is_there ? search->laplace->deviance : WORST;
}

static void slope_at(const gsl_vector *at, void *context, gsl_vector *ret)
{
    struct parent_search *search = context;
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

static void move_centre(struct parent_search *search, const gsl_vector *at)
{
    point_at(search, at, search->point);
    memcpy(search->centre, search->point, (size_t)search->laplace->size * sizeof *search->centre);
    search->is_there = false;
}

/* The deviance curves by about twice the information to fixed effects, of which `factor` is
 * Cholesky's factor, and by about four times the number of levels that are known over its square to
 * a standard deviation. */
static void find_scale(struct parent_search *search, const gsl_matrix *factor)
{
    struct parent_laplace *laplace = search->laplace;
    size_t columns = factor->size1;
    gsl_matrix_set_identity(search->scale);
    gsl_matrix_view fixed = gsl_matrix_submatrix(search->scale, 0, 0, columns, columns);
    gsl_matrix_scale(&fixed.matrix, sqrt(0.5));
    gsl_blas_dtrsm(CblasLeft, CblasLower, CblasTrans, CblasNonUnit, 1, factor, &fixed.matrix);
    parent_inverse_find(&laplace->inverse, &laplace->system);
    for (size_t i = columns; i < (size_t)search->free; i++) {
        int term = search->place[i] - laplace->design->columns;
        double sd = laplace->system.sd[term], slope = laplace->inverse.slope[term];
        gsl_matrix_set(search->scale, i, i, fmin(1, 0.5 * sqrt(sd / slope)));
    }
}

bool parent_search_init(struct parent_search *search, struct parent_laplace *laplace,
                        const double *sd)
{
    size_t size = (size_t)laplace->size, columns = (size_t)laplace->design->columns;
    *search = (struct parent_search){.laplace = laplace};
    search->centre = alloc_zeroed(size, sizeof *search->centre);
    search->place = alloc_zeroed(size, sizeof *search->place);
    search->point = alloc_zeroed(size, sizeof *search->point);
    search->slope = alloc_zeroed(size, sizeof *search->slope);
    memcpy(search->centre + columns, sd, PARENT_TERMS * sizeof *sd);
    for (size_t i = 0; i < size; i++)
        if (i < columns || search->centre[i] != 0)
            search->place[search->free++] = (int)i;
    search->at = gsl_vector_calloc((size_t)search->free);
    search->scale = gsl_matrix_calloc((size_t)search->free, (size_t)search->free);
    gsl_matrix *factor = gsl_matrix_alloc(columns, columns);
    bool good = parent_laplace_approach(laplace, search->centre, APPROACHES, factor);
    if (good)
        find_scale(search, factor);
    gsl_matrix_free(factor);
    return good;
}

void parent_search_done(struct parent_search *search)
{
    free(search->centre);
    free(search->place);
    free(search->point);
    free(search->slope);
    gsl_vector_free(search->at);
    gsl_matrix_free(search->scale);
}

double parent_search_value(struct parent_search *search, const double *point)
{
    search->is_there = false;
    return parent_laplace_at(search->laplace, point) ? search->laplace->deviance : INFINITY;
}

double parent_search_descend(struct parent_search *search, double level)
{
    size_t size = (size_t)search->free;
    gsl_multimin_function_fdf function = {value_at, slope_at, both_at, size, search};
    gsl_multimin_fdfminimizer *minimizer =
        gsl_multimin_fdfminimizer_alloc(gsl_multimin_fdfminimizer_vector_bfgs2, size);
    gsl_vector *start = gsl_vector_calloc(size);
    search->is_there = false;
    gsl_multimin_fdfminimizer_set(minimizer, &function, start, 1, 0.1);
    for (int i = 0; i < ITERATIONS && gsl_blas_dnrm2(minimizer->gradient) > level; i++)
        if (gsl_multimin_fdfminimizer_iterate(minimizer) != 0)
            break;
    double value = minimizer->f;
    move_centre(search, minimizer->x);
    gsl_multimin_fdfminimizer_free(minimizer);
    gsl_vector_free(start);
    return value;
}

static void slope_near(struct parent_search *search, size_t coordinate, double step,
                       gsl_vector *ret)
{
    gsl_vector *at = gsl_vector_calloc(ret->size);
    gsl_vector_set(at, coordinate, step);
    slope_at(at, search, ret);
    gsl_vector_free(at);
}

/* By differences of the slope; coordinates are such that the step suits them all. */
static gsl_matrix *find_curvature(struct parent_search *search)
{
    static const double step = 0.01;
    size_t size = (size_t)search->free;
    gsl_matrix *curvature = gsl_matrix_alloc(size, size), *turned = gsl_matrix_alloc(size, size);
    gsl_vector *below = gsl_vector_alloc(size), *above = gsl_vector_alloc(size);
    for (size_t i = 0; i < size; i++) {
        slope_near(search, i, -step, below);
        slope_near(search, i, step, above);
        gsl_vector_sub(above, below);
        gsl_vector_scale(above, 0.25 / step);
        gsl_matrix_set_row(curvature, i, above);
    }
    gsl_matrix_transpose_memcpy(turned, curvature);
    gsl_matrix_add(curvature, turned);
    gsl_matrix_free(turned);
    gsl_vector_free(below);
    gsl_vector_free(above);
    return curvature;
}

/* Takes coordinates in which this curvature is one in all directions. False where it is not upwards
 * in all. */
static bool rescale(struct parent_search *search, gsl_matrix *curvature)
{
    size_t size = curvature->size1;
    gsl_vector *values = gsl_vector_alloc(size);
    gsl_matrix *vectors = gsl_matrix_alloc(size, size), *before = gsl_matrix_alloc(size, size);
    gsl_eigen_symmv_workspace *workspace = gsl_eigen_symmv_alloc(size);
    gsl_eigen_symmv(curvature, values, vectors, workspace);
    for (size_t i = 0; i < size; i++) {
        double curved = fmax(fabs(gsl_vector_get(values, i)), LEAST_CURVATURE);
        gsl_vector_view column = gsl_matrix_column(vectors, i);
        gsl_vector_scale(&column.vector, 1 / sqrt(curved));
    }
    gsl_matrix_memcpy(before, search->scale);
    gsl_blas_dgemm(CblasNoTrans, CblasNoTrans, 1, before, vectors, 0, search->scale);
    bool upwards = gsl_vector_min(values) > LEAST_CURVATURE;
    gsl_eigen_symmv_free(workspace);
    gsl_matrix_free(vectors);
    gsl_matrix_free(before);
    gsl_vector_free(values);
    search->is_there = false;
    return upwards;
}

/* Newton's steps with the curvature that rescale has taken in, as long as they go down. */
static bool refine(struct parent_search *search)
{
    gsl_vector *zero = gsl_vector_calloc((size_t)search->free);
    gsl_vector *slope = gsl_vector_alloc((size_t)search->free);
    bool settled = false, down = true;
    for (int i = 0; i < REFINEMENTS && down; i++) {
        double value = value_at(zero, search);
        slope_at(zero, search, slope);
        settled = value < WORST && gsl_blas_dnrm2(slope) < 1e-4;
        if (settled)
            break;
        gsl_vector_scale(slope, -1);
        down = value_at(slope, search) <= value + 1e-10 * fabs(value);
        if (down)
            move_centre(search, slope);
    }
    gsl_vector_free(zero);
    gsl_vector_free(slope);
    return settled;
}

bool parent_search_settle(struct parent_search *search)
{
    gsl_matrix *curvature = find_curvature(search);
    bool settled = rescale(search, curvature) && refine(search);
    gsl_matrix_free(curvature);
    return settled;
}
