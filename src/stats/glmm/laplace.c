/* The likelihood by Laplace's approximation of the integral over the random effects (Breslow &
 * Clayton 1993, J Am Stat Assoc 88:9-25; in the form of Bates et al. 2015, J Stat Softw 67(1), both
 * from memory). With W the binomial weights at the conditional modes ũ:
 *
 *     deviance(β, σ) = -2 log f(y | ũ, β, σ) + ũ'ũ + log |H|
 *
 * Newton's method with step halving finds ũ. The gradient is exact: as the penalised deviance is
 * level at ũ, the modes' own change enters log |H| alone, and one solution with H gives it for all
 * parameters (the adjoint method). */
#include "private.h"
#include "senbetsu/base/alloc.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { STEPS = 100, HALVINGS = 30 };

/* A step of fixed effects that is longer, on the logit scale, may go astray. */
static const double LONGEST = 3;

void laplace_init(struct laplace *laplace, const struct observations *data,
                  const struct design *design)
{
    size_t count = (size_t)data->count;
    *laplace =
        (struct laplace){.data = data, .design = design, .size = design->columns + PARENT_TERMS};
    normal_equations_init(&laplace->equations, data);
    inverse_init(&laplace->inverse, data);
    level_vector_init(&laplace->modes, data);
    level_vector_init(&laplace->step, data);
    level_vector_init(&laplace->trial, data);
    laplace->residual = alloc_zeroed(count, sizeof *laplace->residual);
    laplace->fixed = alloc_zeroed(count, sizeof *laplace->fixed);
    laplace->eta = alloc_zeroed(count, sizeof *laplace->eta);
    laplace->scratch = alloc_zeroed(count, sizeof *laplace->scratch);
}

void laplace_done(struct laplace *laplace)
{
    normal_equations_done(&laplace->equations);
    inverse_done(&laplace->inverse);
    level_vector_done(&laplace->modes);
    level_vector_done(&laplace->step);
    level_vector_done(&laplace->trial);
    free(laplace->residual);
    free(laplace->fixed);
    free(laplace->eta);
    free(laplace->scratch);
}

/* -2 log likelihood given `modes`, and their square; leaves residuals and weights behind. */
static double penalised_deviance(struct laplace *laplace, const struct level_vector *modes)
{
    double deviance = level_vector_dot(modes, modes);
    add_up_effects(&laplace->equations, modes, laplace->eta);
    for (int i = 0; i < laplace->data->count; i++) {
        const struct observation *row = &laplace->data->row[i];
        double eta = laplace->eta[i] + laplace->fixed[i];
        double odds = exp(-fabs(eta)), share = (eta > 0 ? 1 : odds) / (1 + odds);
        laplace->eta[i] = eta;
        laplace->residual[i] = row->kept - row->n * share;
        laplace->equations.weight[i] = row->n * odds / ((1 + odds) * (1 + odds));
        deviance -= 2 * (row->kept * eta - row->n * (fmax(eta, 0) + log1p(odds)));
    }
    return deviance;
}

/* Sets `step` to the Newton step from the modes; returns how much of it is left to gain. */
static double newton_step(struct laplace *laplace)
{
    add_up_by_level(&laplace->equations, laplace->residual, &laplace->step);
    for (int i = 0; i < laplace->step.size; i++)
        laplace->step.of[0][i] -= laplace->modes.of[0][i];
    level_vector_copy(&laplace->trial, &laplace->step);
    normal_equations_solve(&laplace->equations, &laplace->step);
    return level_vector_dot(&laplace->step, &laplace->trial);
}

/* Goes as much of the step as does not make it worse. */
static bool go_downhill(struct laplace *laplace, double *value)
{
    double length = 1;
    for (int halving = 0; halving < HALVINGS; halving++, length /= 2) {
        for (int i = 0; i < laplace->step.size; i++)
            laplace->trial.of[0][i] = laplace->modes.of[0][i] + length * laplace->step.of[0][i];
        double trial = penalised_deviance(laplace, &laplace->trial);
        if (trial <= *value + 1e-9 * fabs(*value)) {
            level_vector_copy(&laplace->modes, &laplace->trial);
            *value = trial;
            return true;
        }
    }
    return false;
}

/* The standard deviations must be in the equations before effects are added up. */
static bool find_modes(struct laplace *laplace, const double *sd, double *ret_value)
{
    memcpy(laplace->equations.sd, sd, sizeof laplace->equations.sd);
    double value = penalised_deviance(laplace, &laplace->modes), gain = INFINITY;
    for (int step = 0; step < STEPS; step++) {
        if (!isfinite(value) || !normal_equations_factor(&laplace->equations, sd))
            return false;
        if (gain < 1e-9) {
            *ret_value = value;
            return true;
        }
        gain = newton_step(laplace);
        if (!go_downhill(laplace, &value))
            return false;
    }
    return false;
}

bool laplace_at(struct laplace *laplace, const double *point)
{
    double value;
    design_fixed(laplace->design, point, laplace->fixed);
    if (!find_modes(laplace, point + laplace->design->columns, &value)) {
        memset(laplace->modes.of[0], 0, (size_t)laplace->modes.size * sizeof(double));
        return false;
    }
    laplace->deviance = value + laplace->equations.log_determinant;
    return true;
}

void laplace_solve(const struct laplace *laplace, struct level_vector *weights, double *ret_fixed)
{
    normal_equations_solve(&laplace->equations, weights);
    add_up_effects(&laplace->equations, weights, laplace->scratch);
    for (int i = 0; i < laplace->data->count; i++)
        laplace->scratch[i] *= -laplace->equations.weight[i];
    design_add_transposed(laplace->design, laplace->scratch, ret_fixed);
}

/* Adds to the gradient of each standard deviation the sum of `values` [observations], each times
 * the effect in `vector` of its level. */
static void add_to_deviations(const struct laplace *laplace, const double *values,
                              const struct level_vector *vector, double *ret)
{
    double *gradient = ret + laplace->design->columns;
    for (int i = 0; i < laplace->data->count; i++)
        for (int term = 0; term < PARENT_TERMS; term++)
            gradient[term] += values[i] * vector->of[term][level_place(laplace->data, i, term)];
}

void laplace_gradient(struct laplace *laplace, double *ret)
{
    double *values = laplace->scratch;
    memset(ret, 0, (size_t)laplace->size * sizeof *ret);
    inverse_find(&laplace->inverse, &laplace->equations);
    for (int i = 0; i < laplace->data->count; i++) {
        double skew = -tanh(laplace->eta[i] / 2); /* 1 - 2 share */
        values[i] = laplace->inverse.row_variance[i] * laplace->equations.weight[i] * skew;
    }
    add_up_by_level(&laplace->equations, values, &laplace->step);
    for (int i = 0; i < laplace->data->count; i++)
        values[i] -= 2 * laplace->residual[i];
    design_add_transposed(laplace->design, values, ret);
    add_to_deviations(laplace, values, &laplace->modes, ret);
    for (int term = 0; term < PARENT_TERMS; term++)
        ret[laplace->design->columns + term] += 2 * laplace->inverse.gradient[term];
    /* Modes solve ΛZ'(kept - expected) = modes. The rest is the differential of that, transposed.
     */
    laplace_solve(laplace, &laplace->step, ret);
    add_to_deviations(laplace, laplace->scratch, &laplace->modes, ret);
    add_to_deviations(laplace, laplace->residual, &laplace->step, ret);
}

gsl_matrix *laplace_moves_new(const struct laplace *laplace)
{
    return gsl_matrix_alloc((size_t)laplace->design->columns,
                            (size_t)levels_above_spawnings(laplace->data));
}

/* X'WX less what goes with the random effects: the information on β, standard deviations known. */
static void find_information(struct laplace *laplace, gsl_matrix *ret, gsl_matrix *ret_moves)
{
    gsl_matrix_set_zero(ret);
    for (size_t column = 0; column < ret->size1; column++) {
        double *row = gsl_matrix_ptr(ret, column, 0);
        for (int i = 0; i < laplace->data->count; i++)
            laplace->scratch[i] =
                laplace->equations.weight[i] * design_x(laplace->design, i, (int)column);
        add_up_by_level(&laplace->equations, laplace->scratch, &laplace->step);
        design_add_transposed(laplace->design, laplace->scratch, row);
        laplace_solve(laplace, &laplace->step, row);
        if (ret_moves != NULL)
            memcpy(gsl_matrix_ptr(ret_moves, column, 0), laplace->step.of[0],
                   ret_moves->size2 * sizeof(double));
    }
}

bool laplace_fit_fixed(struct laplace *laplace, double *point, int steps, gsl_matrix *ret_factor,
                       gsl_matrix *ret_moves)
{
    gsl_vector *step = gsl_vector_alloc(ret_factor->size1);
    bool good = true, there = false;
    for (int i = 0; good && !there && i <= steps; i++) {
        good = laplace_at(laplace, point);
        if (!good)
            break;
        find_information(laplace, ret_factor, ret_moves);
        good = gsl_linalg_cholesky_decomp1(ret_factor) == 0;
        if (!good || i == steps)
            break;
        gsl_vector_set_zero(step);
        design_add_transposed(laplace->design, laplace->residual, step->data);
        gsl_linalg_cholesky_svx(ret_factor, step);
        double length = gsl_blas_dnrm2(step), part = fmin(1, LONGEST / length);
        there = length < 1e-4;
        for (size_t j = 0; !there && j < step->size; j++)
            point[j] += part * gsl_vector_get(step, j);
    }
    gsl_vector_free(step);
    return good;
}
