/* What two fish are to each other, in words. */
#ifndef SENBETSU_STATS_KINSHIP_NAME_H
#define SENBETSU_STATS_KINSHIP_NAME_H

#include "senbetsu/stats/kinship.h"

/* From the nearest on. */
enum kinship_name {
    RELATION_SAME,
    RELATION_PARENT,
    RELATION_FULL_SIBS,
    RELATION_HALF_SIBS,
    RELATION_GRANDPARENT,
    RELATION_UNCLE,
    RELATION_DOUBLE_COUSINS,
    RELATION_GREAT_GRANDPARENT,
    RELATION_HALF_UNCLE,
    RELATION_COUSINS,
    RELATION_HALF_COUSINS,
    RELATION_DISTANT,
    RELATION_NONE,
    RELATION_COUNT
};

struct kinship_name_row {
    const char *words;
    double kinship; /* where nothing else connects the two: Falconer and Mackay 1996, chapter 5 */
};

extern const struct kinship_name_row relations[RELATION_COUNT];

/* The nearest relation of the list that holds between two fish of the table, whichever way about.
 * They may be related in other ways besides: then their kinship is above the row's. */
enum kinship_name kinship_name_of(const struct kinship *kinship, int a, int b);

#endif
