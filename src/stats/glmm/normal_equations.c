/* The normal equations of the random effects, H u = r with H = I + ΛZ'WZΛ, solved by elimination.
 *
 * A spawning belongs to one pair and a pair to one dam and one sire. Spawnings are eliminated
 * first, then pairs, then those parents of which there are more (wide); each time what goes has a
 * diagonal block, and leaves w / (1 + σ²w) of its weight w to what is above it. What stays (narrow)
 * is dense and small, and is factored by Cholesky. The block between wide and narrow has a number
 * for each pair; all others are zero. */
#include "private.h"
#include "senbetsu/base/alloc.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static int level_count(const struct observations *data, int term)
{
    return term == PARENT_SPAWNING ? data->count : data->levels[term];
}

int levels_above_spawnings(const struct observations *data)
{
    return data->levels[PARENT_DAM] + data->levels[PARENT_SIRE] + data->levels[PARENT_PAIR];
}

void level_vector_init(struct level_vector *vector, const struct observations *data)
{
    vector->size = 0;
    for (int term = 0; term < PARENT_TERMS; term++)
        vector->size += level_count(data, term);
    double *place = alloc_zeroed((size_t)vector->size, sizeof *place);
    for (int term = 0; term < PARENT_TERMS; term++) {
        vector->of[term] = place;
        place += level_count(data, term);
    }
}

void level_vector_done(struct level_vector *vector)
{
    free(vector->of[0]);
}

void level_vector_copy(struct level_vector *to, const struct level_vector *from)
{
    memcpy(to->of[0], from->of[0], (size_t)from->size * sizeof *from->of[0]);
}

double level_vector_dot(const struct level_vector *a, const struct level_vector *b)
{
    double dot = 0;
    for (int i = 0; i < a->size; i++)
        dot += a->of[0][i] * b->of[0][i];
    return dot;
}

/* Pairs in the order of their wide parents. */
static void sort_pairs(struct normal_equations *equations, const struct observations *data)
{
    int wides = data->levels[equations->wide], pairs = data->levels[PARENT_PAIR];
    equations->row_end = alloc_zeroed((size_t)wides, sizeof *equations->row_end);
    equations->row_pair = alloc_zeroed((size_t)pairs, sizeof *equations->row_pair);
    for (int i = 0; i < pairs; i++)
        equations->row_end[data->pair[i].level[equations->wide]]++;
    for (int i = 1; i < wides; i++)
        equations->row_end[i] += equations->row_end[i - 1];
    for (int i = pairs - 1; i >= 0; i--)
        equations->row_pair[--equations->row_end[data->pair[i].level[equations->wide]]] = i;
    for (int i = 0; i < wides; i++)
        equations->row_end[i] = i + 1 < wides ? equations->row_end[i + 1] : pairs;
}

void normal_equations_init(struct normal_equations *equations, const struct observations *data)
{
    size_t count = (size_t)data->count, pairs = (size_t)data->levels[PARENT_PAIR];
    bool more_sires = data->levels[PARENT_SIRE] > data->levels[PARENT_DAM];
    *equations = (struct normal_equations){.data = data,
                                           .wide = more_sires ? PARENT_SIRE : PARENT_DAM,
                                           .narrow = more_sires ? PARENT_DAM : PARENT_SIRE};
    size_t wide = (size_t)data->levels[equations->wide];
    size_t narrow = (size_t)data->levels[equations->narrow];
    equations->weight = alloc_zeroed(count, sizeof *equations->weight);
    equations->spawning_weight = alloc_zeroed(count, sizeof *equations->spawning_weight);
    equations->pair_sum = alloc_zeroed(pairs, sizeof *equations->pair_sum);
    equations->pair_weight = alloc_zeroed(pairs, sizeof *equations->pair_weight);
    equations->wide_root = alloc_zeroed(wide, sizeof *equations->wide_root);
    equations->cross = alloc_zeroed(pairs, sizeof *equations->cross);
    sort_pairs(equations, data);
    equations->factor = gsl_matrix_calloc(narrow, narrow);
}

void normal_equations_done(struct normal_equations *equations)
{
    free(equations->weight);
    free(equations->spawning_weight);
    free(equations->pair_sum);
    free(equations->pair_weight);
    free(equations->wide_root);
    free(equations->cross);
    free(equations->row_end);
    free(equations->row_pair);
    gsl_matrix_free(equations->factor);
}

/* This and eliminate_wide() return the log determinant of what they eliminate. */
static double eliminate_spawnings_and_pairs(struct normal_equations *equations)
{
    const struct observations *data = equations->data;
    double spawning = equations->sd[PARENT_SPAWNING] * equations->sd[PARENT_SPAWNING];
    double pair = equations->sd[PARENT_PAIR] * equations->sd[PARENT_PAIR];
    double spawnings_log = 0, pairs_log = 0;
    int pairs = data->levels[PARENT_PAIR];
    memset(equations->pair_sum, 0, (size_t)pairs * sizeof *equations->pair_sum);
    for (int i = 0; i < data->count; i++) {
        double diagonal = 1 + spawning * equations->weight[i];
        equations->spawning_weight[i] = equations->weight[i] / diagonal;
        equations->pair_sum[data->row[i].level[PARENT_PAIR]] += equations->spawning_weight[i];
        spawnings_log += log(diagonal);
    }
    for (int i = 0; i < pairs; i++) {
        double diagonal = 1 + pair * equations->pair_sum[i];
        equations->pair_weight[i] = equations->pair_sum[i] / diagonal;
        pairs_log += log(diagonal);
    }
    return spawnings_log + pairs_log;
}

static int wide_of(const struct normal_equations *equations, int pair)
{
    return equations->data->pair[pair].level[equations->wide];
}

static int narrow_of(const struct normal_equations *equations, int pair)
{
    return equations->data->pair[pair].level[equations->narrow];
}

/* Takes from `factor` what a row of the block between brings, times itself. */
static void take_away_squares(struct normal_equations *equations, int begin, int end)
{
    for (int i = begin; i < end; i++)
        for (int j = begin; j < end; j++) {
            int one = equations->row_pair[i], other = equations->row_pair[j];
            int row = narrow_of(equations, one), column = narrow_of(equations, other);
            if (column <= row)
                *gsl_matrix_ptr(equations->factor, (size_t)row, (size_t)column) -=
                    equations->cross[one] * equations->cross[other];
        }
}

static double eliminate_wide(struct normal_equations *equations)
{
    double wide = equations->sd[equations->wide], narrow = equations->sd[equations->narrow];
    int wides = equations->data->levels[equations->wide];
    double log_determinant = 0;
    gsl_matrix_set_identity(equations->factor);
    for (int i = 0; i < wides; i++)
        equations->wide_root[i] = 1;
    for (int i = 0; i < equations->data->levels[PARENT_PAIR]; i++) {
        size_t column = (size_t)narrow_of(equations, i);
        double weight = equations->pair_weight[i];
        equations->wide_root[wide_of(equations, i)] += wide * wide * weight;
        *gsl_matrix_ptr(equations->factor, column, column) += narrow * narrow * weight;
    }
    for (int i = 0; i < wides; i++) {
        log_determinant += log(equations->wide_root[i]);
        equations->wide_root[i] = sqrt(equations->wide_root[i]);
    }
    for (int i = 0; i < equations->data->levels[PARENT_PAIR]; i++)
        equations->cross[i] =
            wide * narrow * equations->pair_weight[i] / equations->wide_root[wide_of(equations, i)];
    for (int i = 0, begin = 0; i < wides; begin = equations->row_end[i++])
        take_away_squares(equations, begin, equations->row_end[i]);
    return log_determinant;
}

bool normal_equations_factor(struct normal_equations *equations, const double *sd)
{
    memcpy(equations->sd, sd, sizeof equations->sd);
    double log_determinant = eliminate_spawnings_and_pairs(equations), narrow = 0;
    log_determinant += eliminate_wide(equations);
    if (!isfinite(log_determinant) || gsl_linalg_cholesky_decomp1(equations->factor) != 0)
        return false;
    for (size_t i = 0; i < equations->factor->size1; i++)
        narrow += 2 * log(gsl_matrix_get(equations->factor, i, i));
    equations->log_determinant = log_determinant + narrow;
    return true;
}

static double sum_of_parents(const struct normal_equations *equations,
                             const struct level_vector *vector, int pair)
{
    const int *level = equations->data->pair[pair].level;
    return equations->sd[PARENT_DAM] * vector->of[PARENT_DAM][level[PARENT_DAM]] +
           equations->sd[PARENT_SIRE] * vector->of[PARENT_SIRE][level[PARENT_SIRE]];
}

static void add_to_parents(const struct normal_equations *equations, struct level_vector *vector,
                           int pair, double amount)
{
    for (int term = 0; term < PARENT_PAIR; term++)
        vector->of[term][equations->data->pair[pair].level[term]] += equations->sd[term] * amount;
}

static void take_out_spawnings(const struct normal_equations *equations,
                               struct level_vector *vector)
{
    const struct observations *data = equations->data;
    double spawning_sd = equations->sd[PARENT_SPAWNING], pair_sd = equations->sd[PARENT_PAIR];
    for (int i = 0; i < data->count; i++) {
        int pair = data->row[i].level[PARENT_PAIR];
        double amount =
            -spawning_sd * equations->spawning_weight[i] * vector->of[PARENT_SPAWNING][i];
        vector->of[PARENT_PAIR][pair] += pair_sd * amount;
        add_to_parents(equations, vector, pair, amount);
    }
}

static void take_out_pairs(const struct normal_equations *equations, struct level_vector *vector)
{
    double pair_sd = equations->sd[PARENT_PAIR];
    for (int i = 0; i < equations->data->levels[PARENT_PAIR]; i++)
        add_to_parents(equations, vector, i,
                       -pair_sd * equations->pair_weight[i] * vector->of[PARENT_PAIR][i]);
}

static void solve_parents(const struct normal_equations *equations, struct level_vector *vector)
{
    const struct observations *data = equations->data;
    double *wide = vector->of[equations->wide], *narrow = vector->of[equations->narrow];
    gsl_vector_view narrows =
        gsl_vector_view_array(narrow, (size_t)data->levels[equations->narrow]);
    for (int i = 0; i < data->levels[equations->wide]; i++)
        wide[i] /= equations->wide_root[i];
    for (int i = 0; i < data->levels[PARENT_PAIR]; i++)
        narrow[narrow_of(equations, i)] -= equations->cross[i] * wide[wide_of(equations, i)];
    gsl_linalg_cholesky_svx(equations->factor, &narrows.vector);
    for (int i = 0; i < data->levels[PARENT_PAIR]; i++)
        wide[wide_of(equations, i)] -= equations->cross[i] * narrow[narrow_of(equations, i)];
    for (int i = 0; i < data->levels[equations->wide]; i++)
        wide[i] /= equations->wide_root[i];
}

static void put_back_pairs(const struct normal_equations *equations, struct level_vector *vector)
{
    double sd = equations->sd[PARENT_PAIR], *pairs = vector->of[PARENT_PAIR];
    for (int i = 0; i < equations->data->levels[PARENT_PAIR]; i++) {
        double sum = equations->pair_sum[i];
        pairs[i] =
            (pairs[i] - sd * sum * sum_of_parents(equations, vector, i)) / (1 + sd * sd * sum);
    }
}

static void put_back_spawnings(const struct normal_equations *equations,
                               struct level_vector *vector)
{
    const struct observations *data = equations->data;
    double spawning_sd = equations->sd[PARENT_SPAWNING], pair_sd = equations->sd[PARENT_PAIR];
    double *pairs = vector->of[PARENT_PAIR], *spawnings = vector->of[PARENT_SPAWNING];
    for (int i = 0; i < data->count; i++) {
        int pair = data->row[i].level[PARENT_PAIR];
        double above = pair_sd * pairs[pair] + sum_of_parents(equations, vector, pair);
        spawnings[i] = (spawnings[i] - spawning_sd * equations->weight[i] * above) /
                       (1 + spawning_sd * spawning_sd * equations->weight[i]);
    }
}

void normal_equations_solve_above(const struct normal_equations *equations,
                                  struct level_vector *vector)
{
    take_out_pairs(equations, vector);
    solve_parents(equations, vector);
    put_back_pairs(equations, vector);
}

void normal_equations_solve(const struct normal_equations *equations, struct level_vector *vector)
{
    take_out_spawnings(equations, vector);
    normal_equations_solve_above(equations, vector);
    put_back_spawnings(equations, vector);
}

void add_up_effects(const struct normal_equations *equations, const struct level_vector *vector,
                    double *ret)
{
    for (int i = 0; i < equations->data->count; i++) {
        ret[i] = 0;
        for (int term = 0; term < PARENT_TERMS; term++)
            ret[i] += equations->sd[term] * vector->of[term][level_place(equations->data, i, term)];
    }
}

void add_up_by_level(const struct normal_equations *equations, const double *values,
                     struct level_vector *ret)
{
    memset(ret->of[0], 0, (size_t)ret->size * sizeof *ret->of[0]);
    for (int i = 0; i < equations->data->count; i++)
        for (int term = 0; term < PARENT_TERMS; term++)
            ret->of[term][level_place(equations->data, i, term)] += equations->sd[term] * values[i];
}

void inverse_init(struct inverse *inverse, const struct observations *data)
{
    size_t pairs = (size_t)data->levels[PARENT_PAIR], rows = (size_t)data->count;
    *inverse = (struct inverse){0};
    level_vector_init(&inverse->variance, data);
    inverse->pair_variance = alloc_zeroed(pairs, sizeof *inverse->pair_variance);
    inverse->row_variance = alloc_zeroed(rows, sizeof *inverse->row_variance);
}

void inverse_done(struct inverse *inverse)
{
    level_vector_done(&inverse->variance);
    free(inverse->pair_variance);
    free(inverse->row_variance);
    gsl_matrix_free(inverse->narrow);
    gsl_matrix_free(inverse->wide);
}

static void find_wide(struct inverse *inverse, const struct normal_equations *equations)
{
    gsl_matrix_set_zero(inverse->wide);
    for (int i = 0; i < equations->data->levels[PARENT_PAIR]; i++) {
        gsl_vector_view to = gsl_matrix_row(inverse->wide, (size_t)wide_of(equations, i));
        gsl_vector_const_view from =
            gsl_matrix_const_row(inverse->narrow, (size_t)narrow_of(equations, i));
        gsl_blas_daxpy(equations->cross[i], &from.vector, &to.vector);
    }
}

static void find_parents(struct inverse *inverse, const struct normal_equations *equations)
{
    const struct observations *data = equations->data;
    double *wide = inverse->variance.of[equations->wide];
    for (int i = 0; i < data->levels[equations->wide]; i++)
        wide[i] = 1 / (equations->wide_root[i] * equations->wide_root[i]);
    for (int i = 0; i < data->levels[PARENT_PAIR]; i++) {
        int row = wide_of(equations, i), column = narrow_of(equations, i);
        double root = equations->wide_root[row];
        wide[row] += equations->cross[i] *
                     gsl_matrix_get(inverse->wide, (size_t)row, (size_t)column) / (root * root);
    }
    for (int i = 0; i < data->levels[equations->narrow]; i++)
        inverse->variance.of[equations->narrow][i] =
            gsl_matrix_get(inverse->narrow, (size_t)i, (size_t)i);
}

/* Of a wide parent and a narrow one. */
static double covariance_of(const struct inverse *inverse, const struct normal_equations *equations,
                            int wide, int narrow)
{
    return -gsl_matrix_get(inverse->wide, (size_t)wide, (size_t)narrow) /
           equations->wide_root[wide];
}

static void find_pair(struct inverse *inverse, const struct normal_equations *equations, int pair)
{
    const int *level = equations->data->pair[pair].level;
    int wide = level[equations->wide], narrow = level[equations->narrow];
    double wide_sd = equations->sd[equations->wide], narrow_sd = equations->sd[equations->narrow];
    double wide_variance = inverse->variance.of[equations->wide][wide];
    double narrow_variance = inverse->variance.of[equations->narrow][narrow];
    double covariance = covariance_of(inverse, equations, wide, narrow);
    double of_wide = wide_sd * wide_variance + narrow_sd * covariance;
    double of_narrow = narrow_sd * narrow_variance + wide_sd * covariance;
    double parents = wide_sd * of_wide + narrow_sd * of_narrow;
    double sd = equations->sd[PARENT_PAIR], weight = equations->pair_weight[pair];
    inverse->pair_variance[pair] = parents;
    inverse->variance.of[PARENT_PAIR][pair] =
        1 / (1 + sd * sd * equations->pair_sum[pair]) + sd * sd * weight * weight * parents;
    inverse->gradient[equations->wide] += weight * of_wide;
    inverse->gradient[equations->narrow] += weight * of_narrow;
    inverse->gradient[PARENT_PAIR] += sd * weight * (1 - weight * parents);
}

/* Of the sum of a pair and its parents. */
static double pair_and_parents(const struct inverse *inverse,
                               const struct normal_equations *equations, int pair)
{
    double square = equations->sd[PARENT_PAIR] * equations->sd[PARENT_PAIR];
    double left = 1 / (1 + square * equations->pair_sum[pair]);
    return inverse->pair_variance[pair] * left * left + square * left;
}

double inverse_of_sum(const struct inverse *inverse, const struct normal_equations *equations,
                      const int *level)
{
    int wide = level[equations->wide], narrow = level[equations->narrow];
    double wide_sd = equations->sd[equations->wide], narrow_sd = equations->sd[equations->narrow];
    double variance = 0;
    if (level[PARENT_PAIR] >= 0)
        return pair_and_parents(inverse, equations, level[PARENT_PAIR]);
    if (wide >= 0)
        variance += wide_sd * wide_sd * inverse->variance.of[equations->wide][wide];
    if (narrow >= 0)
        variance += narrow_sd * narrow_sd * inverse->variance.of[equations->narrow][narrow];
    if (wide >= 0 && narrow >= 0)
        variance += 2 * wide_sd * narrow_sd * covariance_of(inverse, equations, wide, narrow);
    return variance;
}

static void find_row(struct inverse *inverse, const struct normal_equations *equations, int row)
{
    int pair = equations->data->row[row].level[PARENT_PAIR];
    double above = pair_and_parents(inverse, equations, pair);
    double sd = equations->sd[PARENT_SPAWNING], weight = equations->spawning_weight[row];
    double left = 1 / (1 + sd * sd * equations->weight[row]);
    inverse->variance.of[PARENT_SPAWNING][row] = left + sd * sd * weight * weight * above;
    inverse->row_variance[row] = above * left * left + sd * sd * left;
    inverse->gradient[PARENT_SPAWNING] += sd * weight * (1 - weight * above);
}

void inverse_find(struct inverse *inverse, const struct normal_equations *equations)
{
    const struct observations *data = equations->data;
    if (inverse->narrow == NULL) {
        size_t narrows = (size_t)data->levels[equations->narrow];
        inverse->narrow = gsl_matrix_alloc(narrows, narrows);
        inverse->wide = gsl_matrix_alloc((size_t)data->levels[equations->wide], narrows);
    }
    gsl_matrix_memcpy(inverse->narrow, equations->factor);
    gsl_linalg_cholesky_invert(inverse->narrow);
    find_wide(inverse, equations);
    memset(inverse->gradient, 0, sizeof inverse->gradient);
    find_parents(inverse, equations);
    for (int i = 0; i < data->levels[PARENT_PAIR]; i++)
        find_pair(inverse, equations, i);
    for (int i = 0; i < data->count; i++)
        find_row(inverse, equations, i);
}
