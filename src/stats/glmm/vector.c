#include "vector.h"
#include "senbetsu/base/alloc.h"

#include <stdlib.h>
#include <string.h>

void parent_vector_init(struct parent_vector *vector, const struct parent_cells *cells)
{
    vector->size = 0;
    for (int term = 0; term < PARENT_TERMS; term++)
        vector->size += parent_vector_size(cells, term);
    double *place = alloc_zeroed((size_t)vector->size, sizeof *place);
    for (int term = 0; term < PARENT_TERMS; term++) {
        vector->of[term] = place;
        place += parent_vector_size(cells, term);
    }
}

void parent_vector_done(struct parent_vector *vector)
{
    free(vector->of[0]);
}

void parent_vector_copy(struct parent_vector *to, const struct parent_vector *from)
{
    memcpy(to->of[0], from->of[0], (size_t)from->size * sizeof *from->of[0]);
}

double parent_vector_dot(const struct parent_vector *a, const struct parent_vector *b)
{
    double dot = 0;
    for (int i = 0; i < a->size; i++)
        dot += a->of[0][i] * b->of[0][i];
    return dot;
}
