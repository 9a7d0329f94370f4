/* Who a spawning's parents are, in one line. */
#ifndef SENBETSU_REPORT_PAIR_TEXT_H
#define SENBETSU_REPORT_PAIR_TEXT_H

#include "senbetsu/store/rounds.h"

/* "K7 × P2; P3 (pooled)"; "?" stands for a parent that is not known, "" for both. */
const char *pair_text(const struct spawning *spawning, char *buffer, size_t size);

/* The code of the round's spawning; "mixed" where its fish are of several. */
const char *round_whose(const struct round *round);

#endif
