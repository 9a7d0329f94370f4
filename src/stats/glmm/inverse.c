#include "inverse.h"
#include "senbetsu/base/alloc.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>
#include <stdlib.h>
#include <string.h>

void parent_inverse_init(struct parent_inverse *inverse, const struct parent_cells *cells)
{
    *inverse = (struct parent_inverse){0};
    parent_vector_init(&inverse->variance, cells);
    inverse->pair_variance =
        alloc_zeroed((size_t)cells->levels[PARENT_PAIR], sizeof *inverse->pair_variance);
    inverse->cell_variance = alloc_zeroed((size_t)cells->count, sizeof *inverse->cell_variance);
}

void parent_inverse_done(struct parent_inverse *inverse)
{
    parent_vector_done(&inverse->variance);
    free(inverse->pair_variance);
    free(inverse->cell_variance);
}

/* The inverse of the narrow block, and the wide rows that follow from it: cross times that. */
struct blocks {
    gsl_matrix *narrow, *wide;
};

static struct blocks invert_parents(const struct parent_system *system)
{
    size_t wide = system->cross->size1, narrow = system->cross->size2;
    struct blocks blocks = {gsl_matrix_alloc(narrow, narrow), gsl_matrix_alloc(wide, narrow)};
    gsl_matrix_memcpy(blocks.narrow, system->factor);
    gsl_linalg_cholesky_invert(blocks.narrow);
    gsl_blas_dgemm(CblasNoTrans, CblasNoTrans, 1, system->cross, blocks.narrow, 0, blocks.wide);
    return blocks;
}

static void find_parents(struct parent_inverse *inverse, const struct parent_system *system,
                         const struct blocks *blocks)
{
    for (size_t i = 0; i < blocks->wide->size1; i++) {
        gsl_vector_const_view cross = gsl_matrix_const_row(system->cross, i);
        gsl_vector_const_view row = gsl_matrix_const_row(blocks->wide, i);
        double root = system->wide_root[i], dot;
        gsl_blas_ddot(&cross.vector, &row.vector, &dot);
        inverse->variance.of[system->wide][i] = (1 + dot) / (root * root);
    }
    for (size_t i = 0; i < blocks->narrow->size1; i++)
        inverse->variance.of[system->narrow][i] = gsl_matrix_get(blocks->narrow, i, i);
}

static void find_pair(struct parent_inverse *inverse, const struct parent_system *system,
                      const struct blocks *blocks, int pair)
{
    const int *level = system->cells->couple[pair].level;
    int wide = level[system->wide], narrow = level[system->narrow];
    double wide_sd = system->sd[system->wide], narrow_sd = system->sd[system->narrow];
    double wide_variance = inverse->variance.of[system->wide][wide];
    double narrow_variance = inverse->variance.of[system->narrow][narrow];
    double between =
        -gsl_matrix_get(blocks->wide, (size_t)wide, (size_t)narrow) / system->wide_root[wide];
    double of_wide = wide_sd * wide_variance + narrow_sd * between;
    double of_narrow = narrow_sd * narrow_variance + wide_sd * between;
    double parents = wide_sd * of_wide + narrow_sd * of_narrow;
    double pair_sd = system->sd[PARENT_PAIR], weight = system->pair_weight[pair];
    inverse->pair_variance[pair] = parents;
    inverse->variance.of[PARENT_PAIR][pair] = 1 / (1 + pair_sd * pair_sd * system->pair_sum[pair]) +
                                              pair_sd * pair_sd * weight * weight * parents;
    inverse->slope[system->wide] += weight * of_wide;
    inverse->slope[system->narrow] += weight * of_narrow;
    inverse->slope[PARENT_PAIR] += pair_sd * weight * (1 - weight * parents);
}

static void find_cell(struct parent_inverse *inverse, const struct parent_system *system, int cell)
{
    int pair = system->cells->cell[cell].level[PARENT_PAIR];
    double pair_square = system->sd[PARENT_PAIR] * system->sd[PARENT_PAIR];
    double pair_left = 1 / (1 + pair_square * system->pair_sum[pair]);
    double above = inverse->pair_variance[pair] * pair_left * pair_left + pair_square * pair_left;
    double sd = system->sd[PARENT_SPAWNING], weight = system->spawning_weight[cell];
    double left = 1 / (1 + sd * sd * system->weight[cell]);
    inverse->variance.of[PARENT_SPAWNING][cell] = left + sd * sd * weight * weight * above;
    inverse->cell_variance[cell] = above * left * left + sd * sd * left;
    inverse->slope[PARENT_SPAWNING] += sd * weight * (1 - weight * above);
}

void parent_inverse_find(struct parent_inverse *inverse, const struct parent_system *system)
{
    struct blocks blocks = invert_parents(system);
    memset(inverse->slope, 0, sizeof inverse->slope);
    find_parents(inverse, system, &blocks);
    for (int i = 0; i < system->cells->levels[PARENT_PAIR]; i++)
        find_pair(inverse, system, &blocks, i);
    for (int i = 0; i < system->cells->count; i++)
        find_cell(inverse, system, i);
    gsl_matrix_free(blocks.narrow);
    gsl_matrix_free(blocks.wide);
}
