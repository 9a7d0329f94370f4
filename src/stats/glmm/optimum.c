/* Where the deviance is least, over fixed effects and standard deviations together, and the
 * covariance of the estimates: twice the inverse of the Hessian there.
 *
 * The search runs in coordinates in which the deviance curves alike in all directions, point =
 * centre + scale · coordinates: BFGS goes downhill, Newton's steps with a Hessian by differences of
 * the gradient end it. A standard deviation that makes no difference is set to zero and taken out
 * of the search, and let in again where the deviance is lower away from zero. */
#include "private.h"
#include "senbetsu/base/alloc.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_eigen.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_multimin.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { ROUNDS = 12, FIXED_STEPS = 30, ITERATIONS = 200, NEWTON_STEPS = 5 };

/* Nothing is that far from the middle on the logit scale: whatever gets there runs away. */
static const double FARTHEST = 25;

/* Deviances that differ by less are the same to anybody. */
static const double SAME = 1e-5;

/* What the deviance is said to be where it cannot be worked out: finite, since searches along a
 * line interpolate. */
static const double WORST = 1e12;

/* A curvature under this is none; coordinates begin with curvatures of about one. */
static const double LEAST_CURVATURE = 1e-4;

struct search {
    struct laplace *laplace;
    double *centre;           /* [size] */
    int free;                 /* coordinates: fixed effects, and σ that may move */
    int *place;               /* [free] in the point */
    gsl_matrix *scale;        /* [free × free] */
    double *point, *gradient; /* [size] of what was looked at last */
    gsl_vector *at;           /* [free] its coordinates, where laplace is if is_there */
    bool is_there;
};

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
        search->is_there = laplace_at(search->laplace, search->point);
        gsl_vector_memcpy(search->at, at);
    }
    return search->is_there ? search->laplace->deviance : WORST;
}

static void gradient_at(const gsl_vector *at, void *context, gsl_vector *ret)
{
    struct search *search = context;
    gsl_vector *gradient = gsl_vector_calloc(at->size);
    if (value_at(at, search) < WORST)
        laplace_gradient(search->laplace, search->gradient);
    for (int i = 0; i < search->free; i++)
        gsl_vector_set(gradient, (size_t)i, search->gradient[search->place[i]]);
    gsl_blas_dgemv(CblasTrans, 1, search->scale, gradient, 0, ret);
    gsl_vector_free(gradient);
}

static void both_at(const gsl_vector *at, void *context, double *ret_value,
                    gsl_vector *ret_gradient)
{
    *ret_value = value_at(at, context);
    gradient_at(at, context, ret_gradient);
}

static void move_centre(struct search *search, const gsl_vector *at)
{
    point_at(search, at, search->point);
    memcpy(search->centre, search->point, (size_t)search->laplace->size * sizeof *search->centre);
    search->is_there = false;
}

/* The deviance at the centre, INFINITY where there is none. */
static double centre_value(struct search *search)
{
    search->is_there = false;
    return laplace_at(search->laplace, search->centre) ? search->laplace->deviance : INFINITY;
}

/* The deviance curves by about twice the information to fixed effects, of which `factor` is
 * Cholesky's factor, and by about four times the number of levels that are known over its square to
 * a standard deviation. */
static void find_scale(struct search *search, const gsl_matrix *factor)
{
    struct laplace *laplace = search->laplace;
    size_t columns = factor->size1;
    gsl_matrix_set_identity(search->scale);
    gsl_matrix_view fixed = gsl_matrix_submatrix(search->scale, 0, 0, columns, columns);
    gsl_matrix_scale(&fixed.matrix, sqrt(0.5));
    gsl_blas_dtrsm(CblasLeft, CblasLower, CblasTrans, CblasNonUnit, 1, factor, &fixed.matrix);
    inverse_find(&laplace->inverse, &laplace->equations);
    for (size_t i = columns; i < (size_t)search->free; i++) {
        int term = search->place[i] - laplace->design->columns;
        double sd = laplace->equations.sd[term], gradient = laplace->inverse.gradient[term];
        gsl_matrix_set(search->scale, i, i, fmin(1, 0.5 * sqrt(sd / gradient)));
    }
}

/* Begins with the standard deviations `sd`, of which those at zero stay there, and with the fixed
 * effects that are likeliest with them. False where there are none to be found. search_done either
 * way. */
static bool search_init(struct search *search, struct laplace *laplace, const double *sd)
{
    size_t size = (size_t)laplace->size, columns = (size_t)laplace->design->columns;
    *search = (struct search){.laplace = laplace};
    search->centre = alloc_zeroed(size, sizeof *search->centre);
    search->place = alloc_zeroed(size, sizeof *search->place);
    search->point = alloc_zeroed(size, sizeof *search->point);
    search->gradient = alloc_zeroed(size, sizeof *search->gradient);
    memcpy(search->centre + columns, sd, PARENT_TERMS * sizeof *sd);
    for (size_t i = 0; i < size; i++)
        if (i < columns || search->centre[i] != 0)
            search->place[search->free++] = (int)i;
    search->at = gsl_vector_calloc((size_t)search->free);
    search->scale = gsl_matrix_calloc((size_t)search->free, (size_t)search->free);
    gsl_matrix *factor = gsl_matrix_alloc(columns, columns);
    bool good = laplace_fit_fixed(laplace, search->centre, FIXED_STEPS, factor, NULL);
    if (good)
        find_scale(search, factor);
    gsl_matrix_free(factor);
    return good;
}

static void search_done(struct search *search)
{
    free(search->centre);
    free(search->place);
    free(search->point);
    free(search->gradient);
    gsl_vector_free(search->at);
    gsl_matrix_free(search->scale);
}

/* Goes downhill until the gradient is shorter than `tolerance`, and makes that the centre. Returns
 * the deviance there. */
static double descend(struct search *search, double tolerance)
{
    size_t size = (size_t)search->free;
    gsl_multimin_function_fdf function = {value_at, gradient_at, both_at, size, search};
    gsl_multimin_fdfminimizer *minimizer =
        gsl_multimin_fdfminimizer_alloc(gsl_multimin_fdfminimizer_vector_bfgs2, size);
    gsl_vector *start = gsl_vector_calloc(size);
    search->is_there = false;
    gsl_multimin_fdfminimizer_set(minimizer, &function, start, 1, 0.1);
    for (int i = 0; i < ITERATIONS && gsl_blas_dnrm2(minimizer->gradient) > tolerance; i++)
        if (gsl_multimin_fdfminimizer_iterate(minimizer) != 0)
            break;
    double value = minimizer->f;
    move_centre(search, minimizer->x);
    gsl_multimin_fdfminimizer_free(minimizer);
    gsl_vector_free(start);
    return value;
}

/* By differences of the gradient; coordinates are such that the step suits them all. */
static gsl_matrix *find_hessian(struct search *search)
{
    static const double step = 0.01;
    size_t size = (size_t)search->free;
    gsl_matrix *hessian = gsl_matrix_alloc(size, size), *transposed = gsl_matrix_alloc(size, size);
    gsl_vector *at = gsl_vector_calloc(size);
    gsl_vector *below = gsl_vector_alloc(size), *above = gsl_vector_alloc(size);
    for (size_t i = 0; i < size; i++) {
        gsl_vector_set(at, i, -step);
        gradient_at(at, search, below);
        gsl_vector_set(at, i, step);
        gradient_at(at, search, above);
        gsl_vector_set(at, i, 0);
        gsl_vector_sub(above, below);
        gsl_vector_scale(above, 0.25 / step);
        gsl_matrix_set_row(hessian, i, above);
    }
    gsl_matrix_transpose_memcpy(transposed, hessian);
    gsl_matrix_add(hessian, transposed);
    gsl_matrix_free(transposed);
    gsl_vector_free(at);
    gsl_vector_free(below);
    gsl_vector_free(above);
    return hessian;
}

/* Takes coordinates in which the Hessian is the identity. False where it is not positive definite.
 */
static bool rescale(struct search *search, gsl_matrix *hessian)
{
    size_t size = hessian->size1;
    gsl_vector *values = gsl_vector_alloc(size);
    gsl_matrix *vectors = gsl_matrix_alloc(size, size), *before = gsl_matrix_alloc(size, size);
    gsl_eigen_symmv_workspace *workspace = gsl_eigen_symmv_alloc(size);
    gsl_eigen_symmv(hessian, values, vectors, workspace);
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

/* Newton's steps with the Hessian that rescale has taken in, as long as they go down. */
static bool refine(struct search *search)
{
    gsl_vector *zero = gsl_vector_calloc((size_t)search->free);
    gsl_vector *step = gsl_vector_alloc((size_t)search->free);
    bool settled = false, down = true;
    for (int i = 0; i < NEWTON_STEPS && down; i++) {
        double value = value_at(zero, search);
        gradient_at(zero, search, step);
        settled = value < WORST && gsl_blas_dnrm2(step) < 1e-4;
        if (settled)
            break;
        gsl_vector_scale(step, -1);
        down = value_at(step, search) <= value + 1e-10 * fabs(value);
        if (down)
            move_centre(search, step);
    }
    gsl_vector_free(zero);
    gsl_vector_free(step);
    return settled;
}

/* Takes in the curvature at the centre and goes to the bottom. True where that is a minimum: the
 * covariance of what is free is then twice scale · its transpose. */
static bool finish(struct search *search)
{
    gsl_matrix *hessian = find_hessian(search);
    bool settled = rescale(search, hessian) && refine(search);
    gsl_matrix_free(hessian);
    return settled;
}

static bool is_too_far(const struct search *search)
{
    for (int i = 0; i < search->laplace->size; i++)
        if (!(fabs(search->centre[i]) < FARTHEST))
            return true;
    return false;
}

/* A likelihood can have several tops: the search sets out from parents that differ much and from
 * parents that differ little, and goes on from where it got higher. */
static bool begin(struct search *search, struct laplace *laplace, const enum parent_fit *fit)
{
    static const double starts[] = {0.5, 0.1};
    double best = INFINITY;
    *search = (struct search){0};
    for (size_t i = 0; i < sizeof starts / sizeof *starts; i++) {
        double sd[PARENT_TERMS];
        struct search other;
        for (int term = 0; term < PARENT_TERMS; term++)
            sd[term] = fit[term] == PARENT_FITTED ? starts[i] : 0;
        if (search_init(&other, laplace, sd)) {
            double value = descend(&other, 0.3);
            if (!is_too_far(&other) && value < best) {
                struct search worse = *search;
                *search = other;
                other = worse;
                best = value;
            }
        }
        search_done(&other);
    }
    return isfinite(best);
}

/* Takes up the search again where other standard deviations are free to move. */
static bool begin_again(struct search *search, const double *sd)
{
    struct search next;
    bool good = search_init(&next, search->laplace, sd);
    search_done(search);
    *search = next;
    return good;
}

/* Sets standard deviations that make no difference to zero. Returns whether there are any. */
static bool find_zeros(struct search *search, double *sd)
{
    double value = centre_value(search);
    bool found = false;
    for (int term = 0; term < PARENT_TERMS; term++) {
        double *at = &search->centre[search->laplace->design->columns + term], before = *at;
        if (before != 0 && fabs(before) < 0.05) {
            *at = 0;
            bool same = centre_value(search) <= value + SAME;
            found = found || same;
            *at = same ? 0 : before;
        }
        sd[term] = fabs(*at);
    }
    return found;
}

/* Moves away from zero what does better there. Returns whether anything does. */
static bool find_better(struct search *search, const enum parent_fit *fit, double *sd)
{
    static const double trials[] = {0.03, 0.1, 0.3};
    double value = centre_value(search);
    bool found = false;
    for (int term = 0; term < PARENT_TERMS; term++) {
        double *at = &search->centre[search->laplace->design->columns + term];
        sd[term] = fabs(*at);
        for (size_t i = 0; fit[term] == PARENT_FITTED && *at == 0 && i < 3; i++) {
            *at = trials[i];
            if (centre_value(search) < value - 2 * SAME) {
                sd[term] = trials[i];
                found = true;
            }
            *at = 0;
        }
    }
    return found;
}

static bool settle(struct search *search, const enum parent_fit *fit)
{
    double sd[PARENT_TERMS], tolerance = 1e-2;
    for (int round = 0; round < ROUNDS; round++) {
        descend(search, tolerance);
        bool changed = find_zeros(search, sd);
        if (!changed && finish(search)) {
            changed = find_better(search, fit, sd);
            if (!changed)
                return true;
        }
        if (!changed)
            tolerance /= 10;
        else if (!begin_again(search, sd))
            return false;
    }
    return false;
}

/* How far a standard deviation at zero has to go for a deviance one higher: twice as far until it
 * is, then halving the interval. */
static double reach(struct search *search, int place)
{
    double value = centre_value(search), low = 0, high = 0.1;
    double *at = &search->centre[place];
    for (*at = high; high < FARTHEST && centre_value(search) < value + 1; *at = high) {
        low = high;
        high *= 2;
    }
    while (high - low > 0.05 * high) {
        *at = (low + high) / 2;
        if (centre_value(search) < value + 1)
            low = *at;
        else
            high = *at;
    }
    *at = 0;
    return (low + high) / 2;
}

/* The search may end at a standard deviation below zero: the deviance is the same above. */
static void make_positive(struct search *search)
{
    for (int i = 0; i < search->free; i++) {
        double *at = &search->centre[search->place[i]];
        if (search->place[i] >= search->laplace->design->columns && *at < 0) {
            gsl_vector_view row = gsl_matrix_row(search->scale, (size_t)i);
            gsl_vector_scale(&row.vector, -1);
            *at = -*at;
        }
    }
}

static void find_covariance(struct search *search, const enum parent_fit *fit, gsl_matrix *ret)
{
    size_t count = (size_t)search->free;
    gsl_matrix *covariance = gsl_matrix_alloc(count, count);
    gsl_blas_dgemm(CblasNoTrans, CblasTrans, 2, search->scale, search->scale, 0, covariance);
    for (size_t i = 0; i < count; i++)
        for (size_t j = 0; j < count; j++)
            gsl_matrix_set(ret, (size_t)search->place[i], (size_t)search->place[j],
                           gsl_matrix_get(covariance, i, j));
    gsl_matrix_free(covariance);
    for (int term = 0; term < PARENT_TERMS; term++) {
        int place = search->laplace->design->columns + term;
        if (fit[term] == PARENT_FITTED && search->centre[place] == 0) {
            double far = reach(search, place);
            gsl_matrix_set(ret, (size_t)place, (size_t)place, far * far);
        }
    }
}

static void take_optimum(struct search *search, const enum parent_fit *fit, struct optimum *ret)
{
    size_t size = (size_t)search->laplace->size;
    *ret = (struct optimum){.point = alloc_zeroed(size, sizeof *ret->point),
                            .covariance = gsl_matrix_calloc(size, size)};
    make_positive(search);
    find_covariance(search, fit, ret->covariance);
    memcpy(ret->point, search->centre, size * sizeof *ret->point);
    ret->deviance = centre_value(search);
}

bool optimum_find(struct laplace *laplace, const enum parent_fit *fit, struct optimum *ret,
                  struct err *err)
{
    struct search search;
    gsl_error_handler_t *handler = gsl_set_error_handler_off();
    bool found = begin(&search, laplace, fit) && settle(&search, fit) && !is_too_far(&search);
    if (found)
        take_optimum(&search, fit, ret);
    search_done(&search);
    gsl_set_error_handler(handler);
    return found || err_set(err, ERR_INPUT,
                            "Parents cannot be compared: these spawnings do not show how much "
                            "seasons and parents differ. They may have too few fish, or seasons "
                            "and varieties of which all or none were kept.");
}

void optimum_done(struct optimum *optimum)
{
    free(optimum->point);
    gsl_matrix_free(optimum->covariance);
}
