#include "optimum.h"
#include "search.h"
#include "senbetsu/base/alloc.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { ROUNDS = 12 };

/* Nothing is that far from the middle on the logit scale: whatever gets there runs away. */
static const double FARTHEST = 25;

/* Deviances that differ by less are the same to anybody. */
static const double SAME = 1e-5;

static bool too_far(const struct parent_search *search)
{
    for (int i = 0; i < search->laplace->size; i++)
        if (!(fabs(search->centre[i]) < FARTHEST))
            return true;
    return false;
}

static void take_better(struct parent_search *best, double *best_value, struct parent_search *other,
                        double value)
{
    if (!(value < *best_value))
        return;
    struct parent_search worse = *best;
    *best = *other;
    *other = worse;
    *best_value = value;
}

/* A likelihood can have several tops: the search sets out from parents that differ much and from
 * parents that differ little, and goes on from where it got higher. */
static bool begin(struct parent_search *search, struct parent_laplace *laplace,
                  const enum parent_fit *fit)
{
    static const double starts[] = {0.5, 0.1};
    double best = INFINITY;
    *search = (struct parent_search){0};
    for (size_t i = 0; i < sizeof starts / sizeof *starts; i++) {
        double sd[PARENT_TERMS];
        struct parent_search other;
        for (int term = 0; term < PARENT_TERMS; term++)
            sd[term] = fit[term] == PARENT_FITTED ? starts[i] : 0;
        if (parent_search_init(&other, laplace, sd)) {
            double value = parent_search_descend(&other, 0.3);
            take_better(search, &best, &other, too_far(&other) ? INFINITY : value);
        }
        parent_search_done(&other);
    }
    return isfinite(best);
}

/* Takes up the search again where other standard deviations are free to move. */
static bool begin_again(struct parent_search *search, const double *sd)
{
    struct parent_search next;
    bool good = parent_search_init(&next, search->laplace, sd);
    parent_search_done(search);
    *search = next;
    return good;
}

/* Sets standard deviations that make no difference to zero. Returns whether there are any. */
static bool find_zeros(struct parent_search *search, double *sd)
{
    int columns = search->laplace->design->columns;
    double value = parent_search_value(search, search->centre);
    bool found = false;
    for (int term = 0; term < PARENT_TERMS; term++) {
        double *at = &search->centre[columns + term], before = *at;
        if (before != 0 && fabs(before) < 0.05) {
            *at = 0;
            bool same = parent_search_value(search, search->centre) <= value + SAME;
            found = found || same;
            *at = same ? 0 : before;
        }
        sd[term] = fabs(*at);
    }
    return found;
}

/* Moves away from zero what does better there. Returns whether anything does. */
static bool find_better(struct parent_search *search, const enum parent_fit *fit, double *sd)
{
    static const double trials[] = {0.03, 0.1, 0.3};
    int columns = search->laplace->design->columns;
    double value = parent_search_value(search, search->centre);
    bool found = false;
    for (int term = 0; term < PARENT_TERMS; term++) {
        double *at = &search->centre[columns + term];
        sd[term] = fabs(*at);
        for (size_t i = 0; fit[term] == PARENT_FITTED && *at == 0 && i < 3; i++) {
            *at = trials[i];
            if (parent_search_value(search, search->centre) < value - 2 * SAME) {
                sd[term] = trials[i];
                found = true;
            }
            *at = 0;
        }
    }
    return found;
}

static bool settle(struct parent_search *search, const enum parent_fit *fit)
{
    double sd[PARENT_TERMS], level = 1e-2;
    for (int round = 0; round < ROUNDS; round++) {
        parent_search_descend(search, level);
        if (find_zeros(search, sd)) {
            if (!begin_again(search, sd))
                return false;
        } else if (parent_search_settle(search)) {
            if (!find_better(search, fit, sd))
                return true;
            if (!begin_again(search, sd))
                return false;
        } else {
            level /= 10;
        }
    }
    return false;
}

/* How far a standard deviation at zero has to go for a deviance one higher. */
static double reach(struct parent_search *search, int place)
{
    double value = parent_search_value(search, search->centre), low = 0, high = 0.1;
    double *at = &search->centre[place];
    for (*at = high; high < FARTHEST && parent_search_value(search, search->centre) < value + 1;
         *at = high) {
        low = high;
        high *= 2;
    }
    while (high - low > 0.05 * high) {
        *at = (low + high) / 2;
        if (parent_search_value(search, search->centre) < value + 1)
            low = *at;
        else
            high = *at;
    }
    *at = 0;
    return (low + high) / 2;
}

/* The search may end at a standard deviation below zero: the deviance is the same above. */
static void turn_up(struct parent_search *search)
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

static void find_covariance(struct parent_search *search, const enum parent_fit *fit,
                            gsl_matrix *ret)
{
    size_t free_count = (size_t)search->free;
    int columns = search->laplace->design->columns;
    gsl_matrix *covariance = gsl_matrix_alloc(free_count, free_count);
    gsl_blas_dgemm(CblasNoTrans, CblasTrans, 2, search->scale, search->scale, 0, covariance);
    for (size_t i = 0; i < free_count; i++)
        for (size_t j = 0; j < free_count; j++)
            gsl_matrix_set(ret, (size_t)search->place[i], (size_t)search->place[j],
                           gsl_matrix_get(covariance, i, j));
    gsl_matrix_free(covariance);
    for (int term = 0; term < PARENT_TERMS; term++)
        if (fit[term] == PARENT_FITTED && search->centre[columns + term] == 0) {
            double far = reach(search, columns + term);
            gsl_matrix_set(ret, (size_t)columns + (size_t)term, (size_t)columns + (size_t)term,
                           far * far);
        }
}

static void take(struct parent_search *search, const enum parent_fit *fit,
                 struct parent_optimum *ret)
{
    size_t size = (size_t)search->laplace->size;
    *ret = (struct parent_optimum){.point = alloc_zeroed(size, sizeof *ret->point),
                                   .covariance = gsl_matrix_calloc(size, size)};
    turn_up(search);
    find_covariance(search, fit, ret->covariance);
    memcpy(ret->point, search->centre, size * sizeof *ret->point);
    ret->deviance = parent_search_value(search, ret->point);
}

bool parent_optimum_find(struct parent_laplace *laplace, const enum parent_fit *fit,
                         struct parent_optimum *ret, struct err *err)
{
    struct parent_search search;
    gsl_error_handler_t *handler = gsl_set_error_handler_off();
    bool found = begin(&search, laplace, fit) && settle(&search, fit) && !too_far(&search);
    if (found)
        take(&search, fit, ret);
    parent_search_done(&search);
    gsl_set_error_handler(handler);
    return found || err_set(err, ERR_INPUT,
                            "Parents cannot be compared: these spawnings do not settle how much "
                            "seasons and parents differ. Too few fish in them, or seasons and "
                            "varieties of which all or none were kept, may be the reason.");
}

void parent_optimum_done(struct parent_optimum *optimum)
{
    free(optimum->point);
    gsl_matrix_free(optimum->covariance);
}
