/* The fixed part of a parent model: a column for each season, and contrasts of varieties that sum
 * to zero among those that were compared. */
#ifndef STATS_PARENT_DESIGN_H
#define STATS_PARENT_DESIGN_H

#include "observations.h"

#include <gsl/gsl_matrix.h>

struct parent_contrast {
    int start, size; /* its columns; size 0: the variety was compared with none */
    int place;       /* the variety's own column from start; == size: -1 in all of them */
};

struct parent_design {
    int columns, seasons, varieties;
    int seasons_fitted;                /* the first of the columns */
    int *season_column;                /* [seasons]; -1 without an estimate */
    struct parent_contrast *contrast;  /* [varieties] */
    int groups;                        /* of varieties that were compared with one another */
    int *season_group, *variety_group; /* whose number is that of one of its varieties */
    gsl_matrix *rows;                  /* [cells × columns], of full rank */
};

void parent_design_init(struct parent_design *design, const struct parent_cells *cells);
void parent_design_done(struct parent_design *design);

/* Adds what a season's level, or a variety's deviation, is made of to `row` [columns]. */
void parent_design_season(const struct parent_design *design, int season, double *row);
void parent_design_variety(const struct parent_design *design, int variety, double *row);

/* The mean of all seasons that have a level and are linked with the variety; PARENT_UNKNOWN = any.
 */
void parent_design_typical(const struct parent_design *design, int variety, double *row);

#endif
