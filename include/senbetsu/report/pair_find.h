/* Which pair is meant. */
#ifndef SENBETSU_REPORT_PAIR_FIND_H
#define SENBETSU_REPORT_PAIR_FIND_H

#include "senbetsu/report/rate_keys.h"

/* The place of "DAM+SIRE" or "DAM+SIRE;SIRE" among the pairs; males in any order. ERR_USAGE where
 * it is not written so, ERR_ABSENT where no such pair spawned: the sentence names the nearest. */
bool pair_find(const struct rate_keys *pairs, const char *text, int *ret, struct err *err);

#endif
