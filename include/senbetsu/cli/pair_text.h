/* Who a spawning's parents are, in one line. */
#ifndef SENBETSU_CLI_PAIR_TEXT_H
#define SENBETSU_CLI_PAIR_TEXT_H

#include "senbetsu/store/spawnings.h"

/* "K7 × P2; P3 (pooled)"; "?" stands for a parent that is not known, "" for both. */
const char *pair_text(const struct spawning *spawning, char *buffer, size_t size);

#endif
