#include "design.h"
#include "senbetsu/base/alloc.h"

#include <stdlib.h>
#include <string.h>

/* Seasons and varieties that are linked get the least variety of their group as its name. */
static void find_groups(const struct parent_cells *cells, int *season_group, int *variety_group)
{
    for (int i = 0; i < cells->seasons; i++)
        season_group[i] = cells->varieties;
    for (int i = 0; i < cells->varieties; i++)
        variety_group[i] = i;
    bool changed = true;
    while (changed) {
        changed = false;
        for (int i = 0; i < cells->count; i++) {
            int *season = &season_group[cells->cell[i].season];
            int *variety = &variety_group[cells->cell[i].variety];
            changed = changed || *season != *variety;
            *season = *variety = *season < *variety ? *season : *variety;
        }
    }
}

static int group_size(const struct parent_cells *cells, const int *variety_group, int group)
{
    int size = 0;
    for (int i = 0; i < cells->varieties; i++)
        size += cells->variety_state[i] == PARENT_ESTIMATED && variety_group[i] == group;
    return size;
}

static void add_contrasts(struct parent_design *design, const struct parent_cells *cells,
                          const int *variety_group)
{
    for (int group = 0; group < cells->varieties; group++) {
        int size = group_size(cells, variety_group, group), place = 0;
        for (int i = 0; i < cells->varieties; i++)
            if (cells->variety_state[i] == PARENT_ESTIMATED && variety_group[i] == group)
                design->contrast[i] = (struct parent_contrast){design->columns, size - 1, place++};
        design->columns += size > 0 ? size - 1 : 0;
        design->groups += size > 0;
    }
}

static void add_seasons(struct parent_design *design, const struct parent_cells *cells)
{
    for (int i = 0; i < cells->seasons; i++)
        design->season_column[i] =
            cells->season_state[i] == PARENT_ESTIMATED ? design->columns++ : -1;
    design->seasons_fitted = design->columns;
}

static void fill_rows(struct parent_design *design, const struct parent_cells *cells)
{
    design->rows = gsl_matrix_calloc((size_t)cells->count, (size_t)design->columns);
    for (int i = 0; i < cells->count; i++) {
        double *row = gsl_matrix_ptr(design->rows, (size_t)i, 0);
        parent_design_season(design, cells->cell[i].season, row);
        parent_design_variety(design, cells->cell[i].variety, row);
    }
}

void parent_design_init(struct parent_design *design, const struct parent_cells *cells)
{
    *design = (struct parent_design){.seasons = cells->seasons, .varieties = cells->varieties};
    design->season_column = alloc_zeroed((size_t)cells->seasons, sizeof *design->season_column);
    design->contrast = alloc_zeroed((size_t)cells->varieties, sizeof *design->contrast);
    design->season_group = alloc_zeroed((size_t)cells->seasons, sizeof *design->season_group);
    design->variety_group = alloc_zeroed((size_t)cells->varieties, sizeof *design->variety_group);
    find_groups(cells, design->season_group, design->variety_group);
    add_seasons(design, cells);
    add_contrasts(design, cells, design->variety_group);
    fill_rows(design, cells);
}

void parent_design_done(struct parent_design *design)
{
    free(design->season_column);
    free(design->contrast);
    free(design->season_group);
    free(design->variety_group);
    gsl_matrix_free(design->rows);
    *design = (struct parent_design){0};
}

void parent_design_season(const struct parent_design *design, int season, double *row)
{
    row[design->season_column[season]] += 1;
}

void parent_design_variety(const struct parent_design *design, int variety, double *row)
{
    struct parent_contrast contrast = design->contrast[variety];
    if (contrast.place < contrast.size)
        row[contrast.start + contrast.place] += 1;
    else
        for (int i = 0; i < contrast.size; i++)
            row[contrast.start + i] -= 1;
}

static bool is_linked(const struct parent_design *design, int season, int variety)
{
    return design->season_column[season] >= 0 &&
           (variety == PARENT_UNKNOWN ||
            design->season_group[season] == design->variety_group[variety]);
}

void parent_design_typical(const struct parent_design *design, int variety, double *row)
{
    int linked = 0;
    for (int i = 0; i < design->seasons; i++)
        linked += is_linked(design, i, variety);
    for (int i = 0; i < design->seasons; i++)
        if (is_linked(design, i, variety))
            row[design->season_column[i]] += 1.0 / linked;
}
