#include "laplace.h"
#include "senbetsu/base/alloc.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { STEPS = 100, HALVINGS = 30 };

/* A step of fixed effects that is longer, on the logit scale, may go astray. */
static const double LONGEST = 3;

void parent_laplace_init(struct parent_laplace *laplace, const struct parent_cells *cells,
                         const struct parent_design *design)
{
    size_t count = (size_t)cells->count;
    *laplace = (struct parent_laplace){
        .cells = cells, .design = design, .size = design->columns + PARENT_TERMS};
    parent_system_init(&laplace->system, cells);
    parent_inverse_init(&laplace->inverse, cells);
    parent_vector_init(&laplace->modes, cells);
    parent_vector_init(&laplace->step, cells);
    parent_vector_init(&laplace->preview, cells);
    laplace->residual = alloc_zeroed(count, sizeof *laplace->residual);
    laplace->fixed = alloc_zeroed(count, sizeof *laplace->fixed);
    laplace->eta = alloc_zeroed(count, sizeof *laplace->eta);
    laplace->scratch = alloc_zeroed(count, sizeof *laplace->scratch);
}

void parent_laplace_done(struct parent_laplace *laplace)
{
    parent_system_done(&laplace->system);
    parent_inverse_done(&laplace->inverse);
    parent_vector_done(&laplace->modes);
    parent_vector_done(&laplace->step);
    parent_vector_done(&laplace->preview);
    free(laplace->residual);
    free(laplace->fixed);
    free(laplace->eta);
    free(laplace->scratch);
}

/* ret += rows' · cells, or ret = rows · columns. */
static void add_columns(const struct parent_laplace *laplace, const double *cells, double *ret)
{
    gsl_vector_const_view from = gsl_vector_const_view_array(cells, laplace->design->rows->size1);
    gsl_vector_view to = gsl_vector_view_array(ret, laplace->design->rows->size2);
    gsl_blas_dgemv(CblasTrans, 1, laplace->design->rows, &from.vector, 1, &to.vector);
}

static void overdispersion_columns(const struct parent_laplace *laplace, const double *columns,
                                   double *ret)
{
    gsl_vector_const_view from = gsl_vector_const_view_array(columns, laplace->design->rows->size2);
    gsl_vector_view to = gsl_vector_view_array(ret, laplace->design->rows->size1);
    gsl_blas_dgemv(CblasNoTrans, 1, laplace->design->rows, &from.vector, 0, &to.vector);
}

/* -2 log likelihood given `modes`, and their square; leaves residuals and weights behind. */
static double penalised(struct parent_laplace *laplace, const struct parent_vector *modes)
{
    double deviance = parent_vector_dot(modes, modes);
    parent_system_spread(&laplace->system, modes, laplace->eta);
    for (int i = 0; i < laplace->cells->count; i++) {
        const struct parent_cell *cell = &laplace->cells->cell[i];
        double eta = laplace->eta[i] + laplace->fixed[i];
        double odds = exp(-fabs(eta)), share = (eta > 0 ? 1 : odds) / (1 + odds);
        laplace->eta[i] = eta;
        laplace->residual[i] = cell->kept - cell->n * share;
        laplace->system.weight[i] = cell->n * odds / ((1 + odds) * (1 + odds));
        deviance -= 2 * (cell->kept * eta - cell->n * (fmax(eta, 0) + log1p(odds)));
    }
    return deviance;
}

/* Sets `step` to the Newton step from the modes; returns how much of it is left to gain. */
static double newton_step(struct parent_laplace *laplace)
{
    parent_system_gather(&laplace->system, laplace->residual, &laplace->step);
    for (int i = 0; i < laplace->step.size; i++)
        laplace->step.of[0][i] -= laplace->modes.of[0][i];
    parent_vector_copy(&laplace->preview, &laplace->step);
    parent_system_solve(&laplace->system, &laplace->step);
    return parent_vector_dot(&laplace->step, &laplace->preview);
}

/* Goes as much of the step as does not make it worse. */
static bool go(struct parent_laplace *laplace, double *value)
{
    double length = 1;
    for (int halving = 0; halving < HALVINGS; halving++, length /= 2) {
        for (int i = 0; i < laplace->step.size; i++)
            laplace->preview.of[0][i] = laplace->modes.of[0][i] + length * laplace->step.of[0][i];
        double preview = penalised(laplace, &laplace->preview);
        if (preview <= *value + 1e-9 * fabs(*value)) {
            parent_vector_copy(&laplace->modes, &laplace->preview);
            *value = preview;
            return true;
        }
    }
    return false;
}

/* The standard deviations must be in the system before anything is spread. */
static bool find_modes(struct parent_laplace *laplace, const double *sd, double *ret_value)
{
    memcpy(laplace->system.sd, sd, sizeof laplace->system.sd);
    double value = penalised(laplace, &laplace->modes), gain = INFINITY;
    for (int step = 0; step < STEPS; step++) {
        if (!isfinite(value) || !parent_system_factor(&laplace->system, sd))
            return false;
        if (gain < 1e-9) {
            *ret_value = value;
            return true;
        }
        gain = newton_step(laplace);
        if (!go(laplace, &value))
            return false;
    }
    return false;
}

bool parent_laplace_at(struct parent_laplace *laplace, const double *point)
{
    double value;
    overdispersion_columns(laplace, point, laplace->fixed);
    if (!find_modes(laplace, point + laplace->design->columns, &value)) {
        memset(laplace->modes.of[0], 0, (size_t)laplace->modes.size * sizeof(double));
        return false;
    }
    laplace->deviance = value + laplace->system.log_determinant;
    return true;
}

/* Adds to the slopes of standard deviations the sum of `cells`, each times the cell's number in
 * `vector`. */
static void add_deviations(const struct parent_laplace *laplace, const double *cells,
                           const struct parent_vector *vector, double *ret)
{
    double *slope = ret + laplace->design->columns;
    for (int i = 0; i < laplace->cells->count; i++)
        for (int term = 0; term < PARENT_TERMS; term++)
            slope[term] += cells[i] * vector->of[term][parent_place(laplace->cells, i, term)];
}

void parent_laplace_solve(const struct parent_laplace *laplace, struct parent_vector *weights,
                          double *ret_fixed)
{
    parent_system_solve(&laplace->system, weights);
    parent_system_spread(&laplace->system, weights, laplace->scratch);
    for (int i = 0; i < laplace->cells->count; i++)
        laplace->scratch[i] *= -laplace->system.weight[i];
    add_columns(laplace, laplace->scratch, ret_fixed);
}

/* Adds the slope of the sum of modes, each times its number in `weights`. They solve
 * ΛZ'(kept - expected) = modes; this is its differential, turned round. */
static void add_modes_slope(struct parent_laplace *laplace, struct parent_vector *weights,
                            double *ret)
{
    parent_laplace_solve(laplace, weights, ret);
    add_deviations(laplace, laplace->scratch, &laplace->modes, ret);
    add_deviations(laplace, laplace->residual, weights, ret);
}

/* The modes' own change counts in the log determinant alone: the rest is level there. */
void parent_laplace_slope(struct parent_laplace *laplace, double *ret)
{
    double *cells = laplace->scratch;
    memset(ret, 0, (size_t)laplace->size * sizeof *ret);
    parent_inverse_find(&laplace->inverse, &laplace->system);
    for (int i = 0; i < laplace->cells->count; i++) {
        double skew = -tanh(laplace->eta[i] / 2); /* 1 - 2 share */
        cells[i] = laplace->inverse.cell_variance[i] * laplace->system.weight[i] * skew;
    }
    parent_system_gather(&laplace->system, cells, &laplace->step);
    for (int i = 0; i < laplace->cells->count; i++)
        cells[i] -= 2 * laplace->residual[i];
    add_columns(laplace, cells, ret);
    add_deviations(laplace, cells, &laplace->modes, ret);
    for (int term = 0; term < PARENT_TERMS; term++)
        ret[laplace->design->columns + term] += 2 * laplace->inverse.slope[term];
    add_modes_slope(laplace, &laplace->step, ret);
}

/* The information on fixed effects, standard deviations known. */
static void find_information(struct parent_laplace *laplace, gsl_matrix *ret)
{
    gsl_matrix_set_zero(ret);
    for (size_t column = 0; column < ret->size1; column++) {
        double *cells = laplace->scratch;
        for (int i = 0; i < laplace->cells->count; i++)
            cells[i] = laplace->system.weight[i] *
                       gsl_matrix_get(laplace->design->rows, (size_t)i, column);
        parent_system_gather(&laplace->system, cells, &laplace->step);
        add_columns(laplace, cells, gsl_matrix_ptr(ret, column, 0));
        parent_system_solve(&laplace->system, &laplace->step);
        parent_system_spread(&laplace->system, &laplace->step, cells);
        for (int i = 0; i < laplace->cells->count; i++)
            cells[i] *= -laplace->system.weight[i];
        add_columns(laplace, cells, gsl_matrix_ptr(ret, column, 0));
    }
}

bool parent_laplace_approach(struct parent_laplace *laplace, double *point, int steps,
                             gsl_matrix *ret_factor)
{
    gsl_vector *step = gsl_vector_alloc(ret_factor->size1);
    bool good = true, there = false;
    for (int i = 0; good && !there && i <= steps; i++) {
        good = parent_laplace_at(laplace, point);
        if (!good)
            break;
        find_information(laplace, ret_factor);
        good = gsl_linalg_cholesky_decomp1(ret_factor) == 0;
        if (!good || i == steps)
            break;
        gsl_vector_set_zero(step);
        add_columns(laplace, laplace->residual, step->data);
        gsl_linalg_cholesky_svx(ret_factor, step);
        double length = gsl_blas_dnrm2(step), part = fmin(1, LONGEST / length);
        there = length < 1e-4;
        for (size_t j = 0; !there && j < step->size; j++)
            point[j] += part * gsl_vector_get(step, j);
    }
    gsl_vector_free(step);
    return good;
}
