/* A fitted parent model, as its own files see it. */
#ifndef STATS_PARENT_INSIDE_H
#define STATS_PARENT_INSIDE_H

#include "quadrature.h"

struct parent_model {
    struct parent_cells cells;
    struct parent_design design;
    struct parent_laplace laplace;
    struct parent_optimum optimum;
    struct parent_nodes nodes;
    struct parent_effects effects;
    int levels[PARENT_TERMS]; /* that the caller knows of */
};

#endif
