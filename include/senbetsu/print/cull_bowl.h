/* A cull list's bowls, one after another, each with its fish, its counts and its gaps. */
#ifndef SENBETSU_PRINT_CULL_BOWL_H
#define SENBETSU_PRINT_CULL_BOWL_H

#include "senbetsu/print/cull_list.h"

/* "13–20, 25" */
void cull_unseen_text(const struct bowl_fish *bowl, struct text *out);

/* "take out 12, look again 2, keep 5, not judged 1: 20 in all" */
void cull_count_text(const struct cull_count *count, struct text *out);

#endif
