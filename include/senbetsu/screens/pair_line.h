/* A pair's row in the words and marks of its chart. */
#ifndef SENBETSU_SCREENS_PAIR_LINE_H
#define SENBETSU_SCREENS_PAIR_LINE_H

#include "senbetsu/print/pairs.h"
#include "senbetsu/screens/pairs_view.h"

/* The texts of the row must outlive the line. `most`: the end of its scale, as a share. */
struct pairs_line pair_line(const struct pair_row *row, double most);

/* In millionths, as charts have it; no more than the whole. */
int chart_share(double share);

#endif
