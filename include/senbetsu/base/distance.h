/* How far apart two texts are. */
#ifndef SENBETSU_BASE_DISTANCE_H
#define SENBETSU_BASE_DISTANCE_H

#include <stddef.h>

/* The least number of bytes to put in, take out or change that makes one of the other (Levenshtein
 * 1966, Soviet Physics Doklady 10:707–710). */
size_t text_distance(const char *a, const char *b);

#endif
