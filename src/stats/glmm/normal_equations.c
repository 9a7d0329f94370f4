#include "normal_equations.h"
#include "senbetsu/base/alloc.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

void parent_system_init(struct parent_system *system, const struct parent_cells *cells)
{
    size_t count = (size_t)cells->count, pairs = (size_t)cells->levels[PARENT_PAIR];
    bool more_sires = cells->levels[PARENT_SIRE] > cells->levels[PARENT_DAM];
    *system = (struct parent_system){.cells = cells,
                                     .wide = more_sires ? PARENT_SIRE : PARENT_DAM,
                                     .narrow = more_sires ? PARENT_DAM : PARENT_SIRE};
    size_t wide = (size_t)cells->levels[system->wide];
    size_t narrow = (size_t)cells->levels[system->narrow];
    system->weight = alloc_zeroed(count, sizeof *system->weight);
    system->spawning_weight = alloc_zeroed(count, sizeof *system->spawning_weight);
    system->pair_sum = alloc_zeroed(pairs, sizeof *system->pair_sum);
    system->pair_weight = alloc_zeroed(pairs, sizeof *system->pair_weight);
    system->wide_root = alloc_zeroed(wide, sizeof *system->wide_root);
    system->cross = gsl_matrix_calloc(wide, narrow);
    system->factor = gsl_matrix_calloc(narrow, narrow);
}

void parent_system_done(struct parent_system *system)
{
    free(system->weight);
    free(system->spawning_weight);
    free(system->pair_sum);
    free(system->pair_weight);
    free(system->wide_root);
    gsl_matrix_free(system->cross);
    gsl_matrix_free(system->factor);
}

/* Returns the log determinant of the spawnings' block. */
static double eliminate_spawnings(struct parent_system *system)
{
    const struct parent_cells *cells = system->cells;
    double square = system->sd[PARENT_SPAWNING] * system->sd[PARENT_SPAWNING], log_determinant = 0;
    memset(system->pair_sum, 0, (size_t)cells->levels[PARENT_PAIR] * sizeof *system->pair_sum);
    for (int i = 0; i < cells->count; i++) {
        double diagonal = 1 + square * system->weight[i];
        system->spawning_weight[i] = system->weight[i] / diagonal;
        system->pair_sum[cells->cell[i].level[PARENT_PAIR]] += system->spawning_weight[i];
        log_determinant += log(diagonal);
    }
    return log_determinant;
}

static double eliminate_pairs(struct parent_system *system)
{
    double square = system->sd[PARENT_PAIR] * system->sd[PARENT_PAIR], log_determinant = 0;
    for (int i = 0; i < system->cells->levels[PARENT_PAIR]; i++) {
        double diagonal = 1 + square * system->pair_sum[i];
        system->pair_weight[i] = system->pair_sum[i] / diagonal;
        log_determinant += log(diagonal);
    }
    return log_determinant;
}

/* What pairs leave to their parents: the blocks of wide and narrow, and between. */
static void gather_parents(struct parent_system *system)
{
    double wide = system->sd[system->wide], narrow = system->sd[system->narrow];
    size_t wides = system->cross->size1;
    gsl_matrix_set_zero(system->cross);
    gsl_matrix_set_identity(system->factor);
    for (size_t i = 0; i < wides; i++)
        system->wide_root[i] = 1;
    for (int i = 0; i < system->cells->levels[PARENT_PAIR]; i++) {
        const int *level = system->cells->couple[i].level;
        size_t row = (size_t)level[system->wide], column = (size_t)level[system->narrow];
        double weight = system->pair_weight[i];
        system->wide_root[row] += wide * wide * weight;
        *gsl_matrix_ptr(system->cross, row, column) += wide * narrow * weight;
        *gsl_matrix_ptr(system->factor, column, column) += narrow * narrow * weight;
    }
}

static double eliminate_wide(struct parent_system *system)
{
    double log_determinant = 0;
    for (size_t i = 0; i < system->cross->size1; i++) {
        log_determinant += log(system->wide_root[i]);
        system->wide_root[i] = sqrt(system->wide_root[i]);
        gsl_vector_view row = gsl_matrix_row(system->cross, i);
        gsl_vector_scale(&row.vector, 1 / system->wide_root[i]);
    }
    gsl_blas_dsyrk(CblasLower, CblasTrans, -1, system->cross, 1, system->factor);
    return log_determinant;
}

static double log_determinant_of(const gsl_matrix *factor)
{
    double log_determinant = 0;
    for (size_t i = 0; i < factor->size1; i++)
        log_determinant += 2 * log(gsl_matrix_get(factor, i, i));
    return log_determinant;
}

bool parent_system_factor(struct parent_system *system, const double *sd)
{
    memcpy(system->sd, sd, sizeof system->sd);
    double log_determinant = eliminate_spawnings(system) + eliminate_pairs(system);
    gather_parents(system);
    log_determinant += eliminate_wide(system);
    if (!isfinite(log_determinant) || gsl_linalg_cholesky_decomp1(system->factor) != 0)
        return false;
    system->log_determinant = log_determinant + log_determinant_of(system->factor);
    return true;
}

static double parents_sum(const struct parent_system *system, const struct parent_vector *vector,
                          int pair)
{
    const int *level = system->cells->couple[pair].level;
    return system->sd[PARENT_DAM] * vector->of[PARENT_DAM][level[PARENT_DAM]] +
           system->sd[PARENT_SIRE] * vector->of[PARENT_SIRE][level[PARENT_SIRE]];
}

static void add_to_parents(const struct parent_system *system, struct parent_vector *vector,
                           int pair, double amount)
{
    for (int term = 0; term < PARENT_PAIR; term++)
        vector->of[term][system->cells->couple[pair].level[term]] += system->sd[term] * amount;
}

static void forward(const struct parent_system *system, struct parent_vector *vector)
{
    const struct parent_cells *cells = system->cells;
    double spawning_sd = system->sd[PARENT_SPAWNING], pair_sd = system->sd[PARENT_PAIR];
    for (int i = 0; i < cells->count; i++) {
        int pair = cells->cell[i].level[PARENT_PAIR];
        double amount = -spawning_sd * system->spawning_weight[i] * vector->of[PARENT_SPAWNING][i];
        vector->of[PARENT_PAIR][pair] += pair_sd * amount;
        add_to_parents(system, vector, pair, amount);
    }
    for (int i = 0; i < cells->levels[PARENT_PAIR]; i++)
        add_to_parents(system, vector, i,
                       -pair_sd * system->pair_weight[i] * vector->of[PARENT_PAIR][i]);
}

static void backward(const struct parent_system *system, struct parent_vector *vector)
{
    const struct parent_cells *cells = system->cells;
    double spawning_sd = system->sd[PARENT_SPAWNING], pair_sd = system->sd[PARENT_PAIR];
    double *pairs = vector->of[PARENT_PAIR], *spawnings = vector->of[PARENT_SPAWNING];
    for (int i = 0; i < cells->levels[PARENT_PAIR]; i++) {
        double sum = system->pair_sum[i];
        pairs[i] = (pairs[i] - pair_sd * sum * parents_sum(system, vector, i)) /
                   (1 + pair_sd * pair_sd * sum);
    }
    for (int i = 0; i < cells->count; i++) {
        int pair = cells->cell[i].level[PARENT_PAIR];
        double above = pair_sd * pairs[pair] + parents_sum(system, vector, pair);
        spawnings[i] = (spawnings[i] - spawning_sd * system->weight[i] * above) /
                       (1 + spawning_sd * spawning_sd * system->weight[i]);
    }
}

static void solve_parents(const struct parent_system *system, struct parent_vector *vector)
{
    size_t wides = system->cross->size1;
    double *wide_part = vector->of[system->wide];
    gsl_vector_view wide = gsl_vector_view_array(wide_part, wides);
    gsl_vector_view narrow =
        gsl_vector_view_array(vector->of[system->narrow], system->cross->size2);
    for (size_t i = 0; i < wides; i++)
        wide_part[i] /= system->wide_root[i];
    gsl_blas_dgemv(CblasTrans, -1, system->cross, &wide.vector, 1, &narrow.vector);
    gsl_linalg_cholesky_svx(system->factor, &narrow.vector);
    gsl_blas_dgemv(CblasNoTrans, -1, system->cross, &narrow.vector, 1, &wide.vector);
    for (size_t i = 0; i < wides; i++)
        wide_part[i] /= system->wide_root[i];
}

void parent_system_solve(const struct parent_system *system, struct parent_vector *vector)
{
    forward(system, vector);
    solve_parents(system, vector);
    backward(system, vector);
}

void parent_system_spread(const struct parent_system *system, const struct parent_vector *vector,
                          double *ret)
{
    const struct parent_cells *cells = system->cells;
    for (int i = 0; i < cells->count; i++) {
        ret[i] = 0;
        for (int term = 0; term < PARENT_TERMS; term++)
            ret[i] += system->sd[term] * vector->of[term][parent_place(cells, i, term)];
    }
}

void parent_system_gather(const struct parent_system *system, const double *cells,
                          struct parent_vector *ret)
{
    memset(ret->of[0], 0, (size_t)ret->size * sizeof *ret->of[0]);
    for (int i = 0; i < system->cells->count; i++)
        for (int term = 0; term < PARENT_TERMS; term++)
            ret->of[term][parent_place(system->cells, i, term)] += system->sd[term] * cells[i];
}
