#include "terms.h"
#include "senbetsu/base/alloc.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>
#include <stdlib.h>

static bool one_level(const struct parent_cells *cells, enum parent_term term)
{
    for (int i = 1; i < cells->count; i++)
        if (cells->cell[i].level[term] != cells->cell[0].level[term])
            return false;
    return true;
}

static bool single_fish(const struct parent_cells *cells, enum parent_term term)
{
    double *fish = alloc_zeroed((size_t)cells->levels[term], sizeof *fish);
    bool single = true;
    for (int i = 0; i < cells->count; i++)
        fish[cells->cell[i].level[term]] += cells->cell[i].n;
    for (int i = 0; i < cells->levels[term]; i++)
        single = single && fish[i] <= 1;
    free(fish);
    return single;
}

/* Are spawnings that share a level of `fine` together in `coarse` as well? */
static bool nested(const struct parent_cells *cells, enum parent_term fine, enum parent_term coarse)
{
    int *above = alloc_zeroed((size_t)cells->levels[fine], sizeof *above);
    bool nested = true;
    for (int i = 0; i < cells->count; i++) {
        const int *level = cells->cell[i].level;
        int *known = &above[level[fine]];
        nested = nested && (*known == 0 || *known == level[coarse] + 1);
        *known = level[coarse] + 1;
    }
    free(above);
    return nested;
}

static bool same(const struct parent_cells *cells, enum parent_term a, enum parent_term b)
{
    return nested(cells, a, b) && nested(cells, b, a);
}

/* Can the indicator of this level be made of the columns of the fixed part? `factor` is the
 * Cholesky factor of their cross product. */
static bool in_fixed(const struct parent_cells *cells, const gsl_matrix *rows,
                     const gsl_matrix *factor, enum parent_term term, int level)
{
    gsl_vector *products = gsl_vector_calloc(rows->size2);
    double count = 0, explained = 0;
    for (int i = 0; i < cells->count; i++)
        if (cells->cell[i].level[term] == level) {
            gsl_vector_const_view row = gsl_matrix_const_row(rows, (size_t)i);
            gsl_vector_add(products, &row.vector);
            count++;
        }
    gsl_blas_dtrsv(CblasLower, CblasNoTrans, CblasNonUnit, factor, products);
    gsl_blas_ddot(products, products, &explained);
    gsl_vector_free(products);
    return count - explained < 1e-9 * (count + 1);
}

static bool same_as_fixed(const struct parent_cells *cells, const struct parent_design *design,
                          enum parent_term term)
{
    gsl_matrix *factor = gsl_matrix_alloc(design->rows->size2, design->rows->size2);
    gsl_blas_dsyrk(CblasLower, CblasTrans, 1, design->rows, 0, factor);
    gsl_linalg_cholesky_decomp1(factor);
    bool same = true;
    for (int level = 0; same && level < cells->levels[term]; level++)
        same = in_fixed(cells, design->rows, factor, term, level);
    gsl_matrix_free(factor);
    return same;
}

static enum parent_fit alone(const struct parent_cells *cells, const struct parent_design *design,
                             unsigned asked, enum parent_term term)
{
    if ((asked >> term & 1) == 0)
        return PARENT_NOT_ASKED;
    if (one_level(cells, term))
        return PARENT_ONE_LEVEL;
    if (single_fish(cells, term))
        return PARENT_SINGLE_FISH;
    return same_as_fixed(cells, design, term) ? PARENT_SAME_AS_FIXED : PARENT_FITTED;
}

/* Leaves `term` out for `why` where `other` is in the model and puts the same spawnings together.
 */
static void leave_out(const struct parent_cells *cells, enum parent_fit *fit, enum parent_term term,
                      enum parent_term other, enum parent_fit why)
{
    if (fit[term] == PARENT_FITTED && fit[other] == PARENT_FITTED && same(cells, term, other))
        fit[term] = why;
}

void parent_terms_find(const struct parent_cells *cells, const struct parent_design *design,
                       unsigned asked, enum parent_fit *ret_fit)
{
    for (int term = 0; term < PARENT_TERMS; term++)
        ret_fit[term] = alone(cells, design, asked, (enum parent_term)term);
    for (int term = 0; term < PARENT_SPAWNING; term++)
        leave_out(cells, ret_fit, (enum parent_term)term, PARENT_SPAWNING, PARENT_SAME_AS_SPAWNING);
    bool inseparable = same(cells, PARENT_DAM, PARENT_SIRE);
    if (inseparable) {
        leave_out(cells, ret_fit, PARENT_DAM, PARENT_PAIR, PARENT_SAME_AS_PAIR);
        leave_out(cells, ret_fit, PARENT_SIRE, PARENT_PAIR, PARENT_SAME_AS_PAIR);
    }
    leave_out(cells, ret_fit, PARENT_SIRE, PARENT_DAM, PARENT_SAME_AS_DAM);
    leave_out(cells, ret_fit, PARENT_PAIR, PARENT_DAM, PARENT_SAME_AS_DAM);
    leave_out(cells, ret_fit, PARENT_PAIR, PARENT_SIRE, PARENT_SAME_AS_SIRE);
}
