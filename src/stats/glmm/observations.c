/* The data of the parent model: the input's rows become one observation a spawning, spawnings that
 * the likelihood pushes to infinity are dropped, the design matrix of seasons and varieties is laid
 * out, and random terms that the spawnings cannot tell from something else are left out.
 *
 * Separation: a season or a variety has no finite estimate if none or all of its fish were kept,
 * and two groups of them have no finite distance if nothing links them but such spawnings. There
 * the likelihood rises as they run apart, towards a bound at which those spawnings add nothing to
 * it and say nothing of their parents. Exactly those are dropped. The maximum is infinite just
 * where seasons and varieties can move apart against no fish: Albert & Anderson 1984, Biometrika
 * 71:1-10 (from memory). */
#include "private.h"
#include "senbetsu/base/alloc.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static bool row_is_sound(const struct parent_data *input, const struct parent_row *row)
{
    bool sound = row->kept >= 0 && row->kept <= row->n && row->season >= 0 &&
                 row->season < input->seasons && row->variety >= 0 &&
                 row->variety < input->varieties;
    for (int term = 0; term < PARENT_TERMS; term++)
        sound =
            sound && row->level[term] >= PARENT_UNKNOWN && row->level[term] < input->levels[term];
    return sound;
}

static double log_choose(double n, double kept)
{
    return lgamma(n + 1) - lgamma(kept + 1) - lgamma(n - kept + 1);
}

/* `place` holds the number of each spawning's observation plus 1. */
static bool add_row(struct observations *data, const struct parent_row *row, int *place,
                    struct err *err)
{
    int spawning = row->level[PARENT_SPAWNING];
    int known = spawning == PARENT_UNKNOWN ? 0 : place[spawning];
    struct observation *to = &data->row[known > 0 ? known - 1 : data->count];
    if (known == 0) {
        *to = (struct observation){.season = row->season, .variety = row->variety};
        memcpy(to->level, row->level, sizeof to->level);
        data->count++;
        if (spawning != PARENT_UNKNOWN)
            place[spawning] = data->count;
    }
    if (to->season != row->season || to->variety != row->variety ||
        memcmp(to->level, row->level, sizeof to->level) != 0)
        return err_set(
            err, ERR_INPUT,
            "Spawning number %d is in two seasons, varieties or pairs; it must be in one.",
            spawning + 1);
    to->n += (double)row->n;
    to->kept += (double)row->kept;
    data->log_coefficients += log_choose((double)row->n, (double)row->kept);
    return true;
}

static bool add_rows(struct observations *data, const struct parent_data *input, struct err *err)
{
    int *place = alloc_zeroed((size_t)input->levels[PARENT_SPAWNING] + 1, sizeof *place);
    bool good = true;
    for (size_t i = 0; good && i < input->row_count; i++) {
        const struct parent_row *row = &input->rows[i];
        if (!row_is_sound(input, row))
            good = err_set(err, ERR_INPUT,
                           "Row %zu of the spawnings to compare has more fish kept than there "
                           "were, or numbers that are out of range.",
                           i + 1);
        else if (row->n > 0)
            good = add_row(data, row, place, err);
    }
    free(place);
    return good;
}

/* Whose dam or sire is unknown belongs to no known pair either. */
static void number_unknown(struct observations *data)
{
    for (int i = 0; i < data->count; i++) {
        int *level = data->row[i].level;
        if (level[PARENT_DAM] == PARENT_UNKNOWN || level[PARENT_SIRE] == PARENT_UNKNOWN)
            level[PARENT_PAIR] = PARENT_UNKNOWN;
        for (int term = 0; term < PARENT_TERMS; term++)
            if (level[term] == PARENT_UNKNOWN)
                level[term] = data->levels[term]++;
    }
}

static bool find_pairs(struct observations *data, struct err *err)
{
    size_t pairs = (size_t)data->levels[PARENT_PAIR];
    data->pair = alloc_zeroed(pairs + 1, sizeof *data->pair);
    bool *known = alloc_zeroed(pairs + 1, sizeof *known);
    bool good = true;
    for (int i = 0; good && i < data->count; i++) {
        const int *level = data->row[i].level;
        struct pair_parents *parents = &data->pair[level[PARENT_PAIR]];
        if (!known[level[PARENT_PAIR]])
            memcpy(parents->level, level, sizeof parents->level);
        known[level[PARENT_PAIR]] = true;
        if (memcmp(parents->level, level, sizeof parents->level) != 0)
            good = err_set(err, ERR_INPUT,
                           "Pair number %d has two dams or two sires; a pair is one of each.",
                           level[PARENT_PAIR] + 1);
    }
    free(known);
    return good;
}

/* A graph of seasons and, after them, varieties. An edge says that the one cannot rise above the
 * other without limit: fish that were not kept tie the season below the (negative) variety, fish
 * that were kept the other way round. Both ways: their sum is finite. */
struct separation {
    int size, seasons;
    struct share {
        double n, kept;
    } * share;   /* [size × size], of a season and a variety */
    bool *below; /* [size × size]: closed over all paths */
};

static void separation_init(struct separation *graph, const struct observations *data)
{
    int size = data->seasons + data->varieties, seasons = data->seasons;
    size_t squared = (size_t)size * (size_t)size;
    *graph = (struct separation){.size = size, .seasons = seasons};
    graph->share = alloc_zeroed(squared, sizeof *graph->share);
    graph->below = alloc_zeroed(squared, sizeof *graph->below);
    bool *below = graph->below;
    for (int i = 0; i < data->count; i++) {
        const struct observation *row = &data->row[i];
        struct share *share = &graph->share[row->season * size + seasons + row->variety];
        share->n += row->n;
        share->kept += row->kept;
    }
    for (int season = 0; season < seasons; season++)
        for (int variety = seasons; variety < size; variety++) {
            struct share share = graph->share[season * size + variety];
            below[season * size + variety] = share.n > 0 && share.kept < share.n;
            below[variety * size + season] = share.kept > 0;
        }
    for (int via = 0; via < size; via++) /* Warshall's closure */
        for (int from = 0; from < size; from++)
            for (int to = 0; below[from * size + via] && to < size; to++)
                below[from * size + to] |= below[via * size + to];
}

static bool is_finite(const struct separation *graph, int season, int variety)
{
    return graph->below[season * graph->size + variety] &&
           graph->below[variety * graph->size + season];
}

static enum parent_state state_of(const struct separation *graph, int node)
{
    struct share sum = {0, 0};
    bool season = node < graph->seasons;
    int first = season ? graph->seasons : 0, end = season ? graph->size : graph->seasons;
    for (int i = first; i < end; i++) {
        int from = season ? node : i, to = season ? i : node;
        struct share share = graph->share[from * graph->size + to];
        if (share.n > 0 && is_finite(graph, from, to))
            return PARENT_ESTIMATED;
        sum.n += share.n;
        sum.kept += share.kept;
    }
    if (sum.n == 0 || (sum.kept > 0 && sum.kept < sum.n))
        return PARENT_UNSEEN;
    return sum.kept == 0 ? PARENT_NONE_KEPT : PARENT_ALL_KEPT;
}

static void drop_separated(struct observations *data)
{
    struct separation graph;
    int left = 0;
    separation_init(&graph, data);
    for (int i = 0; i < data->seasons; i++)
        data->season_state[i] = state_of(&graph, i);
    for (int i = 0; i < data->varieties; i++)
        data->variety_state[i] = state_of(&graph, data->seasons + i);
    for (int i = 0; i < data->count; i++)
        if (is_finite(&graph, data->row[i].season, data->seasons + data->row[i].variety))
            data->row[left++] = data->row[i];
    data->count = left;
    free(graph.share);
    free(graph.below);
}

static bool fill(struct observations *data, const struct parent_data *input, struct err *err)
{
    if (!add_rows(data, input, err))
        return false;
    number_unknown(data);
    if (!find_pairs(data, err))
        return false;
    if (data->count == 0)
        return err_set(err, ERR_ABSENT, "There are no culled fish to compare parents by.");
    drop_separated(data);
    if (data->count == 0)
        return err_set(err, ERR_ABSENT,
                       "Parents cannot be compared: no season has both fish that were kept and "
                       "fish that were not.");
    return true;
}

bool observations_init(struct observations *data, const struct parent_data *input, struct err *err)
{
    *data = (struct observations){.seasons = input->seasons, .varieties = input->varieties};
    memcpy(data->levels, input->levels, sizeof data->levels);
    data->row = alloc_zeroed(input->row_count + 1, sizeof *data->row);
    data->season_state = alloc_zeroed((size_t)data->seasons + 1, sizeof *data->season_state);
    data->variety_state = alloc_zeroed((size_t)data->varieties + 1, sizeof *data->variety_state);
    if (fill(data, input, err))
        return true;
    observations_done(data);
    return false;
}

void observations_done(struct observations *data)
{
    free(data->row);
    free(data->pair);
    free(data->season_state);
    free(data->variety_state);
    *data = (struct observations){0};
}

/* Seasons and varieties that are linked get the least variety of their group as its name. */
static void find_groups(struct design *design, const struct observations *data)
{
    for (int i = 0; i < data->seasons; i++)
        design->season_group[i] = data->varieties;
    for (int i = 0; i < data->varieties; i++)
        design->variety_group[i] = i;
    for (bool changed = true; changed;) {
        changed = false;
        for (int i = 0; i < data->count; i++) {
            int *season = &design->season_group[data->row[i].season];
            int *variety = &design->variety_group[data->row[i].variety];
            changed = changed || *season != *variety;
            *season = *variety = *season < *variety ? *season : *variety;
        }
    }
}

static bool in_group(const struct design *design, const struct observations *data, int variety,
                     int group)
{
    return data->variety_state[variety] == PARENT_ESTIMATED &&
           design->variety_group[variety] == group;
}

static void find_contrasts(struct design *design, const struct observations *data)
{
    for (int group = 0; group < data->varieties; group++) {
        int size = 0, place = 0;
        for (int i = 0; i < data->varieties; i++)
            size += in_group(design, data, i, group);
        for (int i = 0; i < data->varieties; i++)
            if (in_group(design, data, i, group))
                design->contrast[i] = (struct sum_contrast){design->columns, size - 1, place++};
        design->columns += size > 0 ? size - 1 : 0;
        design->groups += size > 0;
    }
}

static void find_strata(struct design *design, const struct observations *data)
{
    size_t most = (size_t)data->seasons * (size_t)data->varieties;
    int *known = alloc_zeroed(most, sizeof *known); /* 1 + the stratum; 0 = none yet */
    int strata = 0;
    design->count = data->count;
    design->stratum = alloc_zeroed((size_t)data->count, sizeof *design->stratum);
    for (int i = 0; i < data->count; i++) {
        int *of = &known[data->row[i].season * data->varieties + data->row[i].variety];
        if (*of == 0)
            *of = ++strata;
        design->stratum[i] = *of - 1;
    }
    design->sum = alloc_zeroed((size_t)strata, sizeof *design->sum);
    design->x = gsl_matrix_calloc((size_t)strata, (size_t)design->columns);
    for (int season = 0; season < data->seasons; season++)
        for (int variety = 0; variety < data->varieties; variety++) {
            int of = known[season * data->varieties + variety];
            if (of == 0)
                continue;
            double *x = gsl_matrix_ptr(design->x, (size_t)of - 1, 0);
            design_add_season(design, season, x);
            design_add_variety(design, variety, x);
        }
    free(known);
}

void design_init(struct design *design, const struct observations *data)
{
    *design = (struct design){.seasons = data->seasons};
    design->season_column = alloc_zeroed((size_t)data->seasons, sizeof *design->season_column);
    design->contrast = alloc_zeroed((size_t)data->varieties, sizeof *design->contrast);
    design->season_group = alloc_zeroed((size_t)data->seasons, sizeof *design->season_group);
    design->variety_group = alloc_zeroed((size_t)data->varieties, sizeof *design->variety_group);
    find_groups(design, data);
    for (int i = 0; i < data->seasons; i++)
        design->season_column[i] =
            data->season_state[i] == PARENT_ESTIMATED ? design->columns++ : -1;
    design->seasons_fitted = design->columns;
    find_contrasts(design, data);
    find_strata(design, data);
}

void design_done(struct design *design)
{
    free(design->season_column);
    free(design->contrast);
    free(design->season_group);
    free(design->variety_group);
    gsl_matrix_free(design->x);
    free(design->stratum);
    free(design->sum);
    *design = (struct design){0};
}

void design_fixed(const struct design *design, const double *fixed, double *ret)
{
    gsl_vector_const_view columns = gsl_vector_const_view_array(fixed, design->x->size2);
    gsl_vector_view strata = gsl_vector_view_array(design->sum, design->x->size1);
    gsl_blas_dgemv(CblasNoTrans, 1, design->x, &columns.vector, 0, &strata.vector);
    for (int i = 0; i < design->count; i++)
        ret[i] = design->sum[design->stratum[i]];
}

void design_add_transposed(const struct design *design, const double *values, double *ret)
{
    gsl_vector_view strata = gsl_vector_view_array(design->sum, design->x->size1);
    gsl_vector_view columns = gsl_vector_view_array(ret, design->x->size2);
    gsl_vector_set_zero(&strata.vector);
    for (int i = 0; i < design->count; i++)
        design->sum[design->stratum[i]] += values[i];
    gsl_blas_dgemv(CblasTrans, 1, design->x, &strata.vector, 1, &columns.vector);
}

double design_x(const struct design *design, int row, int column)
{
    return gsl_matrix_get(design->x, (size_t)design->stratum[row], (size_t)column);
}

void design_add_season(const struct design *design, int season, double *x)
{
    x[design->season_column[season]] += 1;
}

void design_add_variety(const struct design *design, int variety, double *x)
{
    struct sum_contrast contrast = design->contrast[variety];
    if (contrast.place < contrast.size)
        x[contrast.start + contrast.place] += 1;
    else
        for (int i = 0; i < contrast.size; i++)
            x[contrast.start + i] -= 1;
}

static bool is_linked(const struct design *design, int season, int variety)
{
    return design->season_column[season] >= 0 &&
           (variety == PARENT_UNKNOWN ||
            design->season_group[season] == design->variety_group[variety]);
}

void design_add_typical_season(const struct design *design, int variety, double *x)
{
    int linked = 0;
    for (int i = 0; i < design->seasons; i++)
        linked += is_linked(design, i, variety);
    for (int i = 0; i < design->seasons; i++)
        if (is_linked(design, i, variety))
            x[design->season_column[i]] += 1.0 / linked;
}

static bool has_one_level(const struct observations *data, enum parent_term term)
{
    for (int i = 1; i < data->count; i++)
        if (data->row[i].level[term] != data->row[0].level[term])
            return false;
    return true;
}

static bool has_single_fish(const struct observations *data, enum parent_term term)
{
    double *fish = alloc_zeroed((size_t)data->levels[term], sizeof *fish);
    bool single = true;
    for (int i = 0; i < data->count; i++)
        fish[data->row[i].level[term]] += data->row[i].n;
    for (int i = 0; i < data->levels[term]; i++)
        single = single && fish[i] <= 1;
    free(fish);
    return single;
}

/* Are spawnings that share a level of `fine` together in `coarse` as well? */
static bool is_nested(const struct observations *data, enum parent_term fine,
                      enum parent_term coarse)
{
    int *above = alloc_zeroed((size_t)data->levels[fine], sizeof *above);
    bool nested = true;
    for (int i = 0; i < data->count; i++) {
        const int *level = data->row[i].level;
        int *known = &above[level[fine]];
        nested = nested && (*known == 0 || *known == level[coarse] + 1);
        *known = level[coarse] + 1;
    }
    free(above);
    return nested;
}

static bool same(const struct observations *data, enum parent_term a, enum parent_term b)
{
    return is_nested(data, a, b) && is_nested(data, b, a);
}

static _gsl_vector_const_view row_of_x(const struct design *design, int row)
{
    return gsl_matrix_const_row(design->x, (size_t)design->stratum[row]);
}

/* Is the indicator of every level a combination of the columns of X? It is where projecting it on
 * them, by Cholesky's factor of X'X, leaves nothing of its length. */
static bool is_combination_of_x(const struct observations *data, const struct design *design,
                                enum parent_term term)
{
    gsl_matrix *factor = gsl_matrix_calloc(design->x->size2, design->x->size2);
    gsl_vector *products = gsl_vector_alloc(design->x->size2);
    bool is_combination = true;
    for (int i = 0; i < data->count; i++) {
        gsl_vector_const_view row = row_of_x(design, i);
        gsl_blas_dsyr(CblasLower, 1, &row.vector, factor);
    }
    gsl_linalg_cholesky_decomp1(factor);
    for (int level = 0; is_combination && level < data->levels[term]; level++) {
        double length = 0, explained = 0;
        gsl_vector_set_zero(products);
        for (int i = 0; i < data->count; i++)
            if (data->row[i].level[term] == level) {
                gsl_vector_const_view row = row_of_x(design, i);
                gsl_vector_add(products, &row.vector);
                length++;
            }
        gsl_blas_dtrsv(CblasLower, CblasNoTrans, CblasNonUnit, factor, products);
        gsl_blas_ddot(products, products, &explained);
        is_combination = length - explained < 1e-9 * (length + 1);
    }
    gsl_vector_free(products);
    gsl_matrix_free(factor);
    return is_combination;
}

static enum parent_fit fit_of_term(const struct observations *data, const struct design *design,
                                   unsigned asked, enum parent_term term)
{
    if ((asked >> term & 1) == 0)
        return PARENT_NOT_ASKED;
    if (has_one_level(data, term))
        return PARENT_ONE_LEVEL;
    if (has_single_fish(data, term))
        return PARENT_SINGLE_FISH;
    return is_combination_of_x(data, design, term) ? PARENT_SAME_AS_FIXED : PARENT_FITTED;
}

void find_fitted_terms(const struct observations *data, const struct design *design, unsigned asked,
                       enum parent_fit *ret_fit)
{
    static const struct {
        enum parent_term term, kept;
        enum parent_fit why;
        bool if_parents_same; /* only where each dam had one sire and each sire one dam */
    } rules[] = {
        {PARENT_DAM, PARENT_SPAWNING, PARENT_SAME_AS_SPAWNING, false},
        {PARENT_SIRE, PARENT_SPAWNING, PARENT_SAME_AS_SPAWNING, false},
        {PARENT_PAIR, PARENT_SPAWNING, PARENT_SAME_AS_SPAWNING, false},
        {PARENT_DAM, PARENT_PAIR, PARENT_SAME_AS_PAIR, true},
        {PARENT_SIRE, PARENT_PAIR, PARENT_SAME_AS_PAIR, true},
        {PARENT_SIRE, PARENT_DAM, PARENT_SAME_AS_DAM, false},
        {PARENT_PAIR, PARENT_DAM, PARENT_SAME_AS_DAM, false},
        {PARENT_PAIR, PARENT_SIRE, PARENT_SAME_AS_SIRE, false},
    };
    bool parents_same = same(data, PARENT_DAM, PARENT_SIRE);
    for (int term = 0; term < PARENT_TERMS; term++)
        ret_fit[term] = fit_of_term(data, design, asked, (enum parent_term)term);
    for (size_t i = 0; i < sizeof rules / sizeof *rules; i++)
        if (ret_fit[rules[i].term] == PARENT_FITTED && ret_fit[rules[i].kept] == PARENT_FITTED &&
            (parents_same || !rules[i].if_parents_same) && same(data, rules[i].term, rules[i].kept))
            ret_fit[rules[i].term] = rules[i].why;
}
