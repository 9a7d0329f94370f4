/* A number for each level of each random term of a parent model. */
#ifndef STATS_PARENT_VECTOR_H
#define STATS_PARENT_VECTOR_H

#include "observations.h"

/* The levels of spawning are the cells. */
struct parent_vector {
    double *of[PARENT_TERMS];
    int size; /* of all, which lie one after the other from of[0] */
};

/* How many numbers a term has. */
static inline int parent_vector_size(const struct parent_cells *cells, int term)
{
    return term == PARENT_SPAWNING ? cells->count : cells->levels[term];
}

void parent_vector_init(struct parent_vector *vector, const struct parent_cells *cells);
void parent_vector_done(struct parent_vector *vector);
void parent_vector_copy(struct parent_vector *to, const struct parent_vector *from);
double parent_vector_dot(const struct parent_vector *a, const struct parent_vector *b);

/* The vector's place of a cell's level. */
static inline int parent_place(const struct parent_cells *cells, int cell, int term)
{
    return term == PARENT_SPAWNING ? cell : cells->cell[cell].level[term];
}

#endif
