/* Standard deviations are not known for certain: a few dozen points around their estimates stand
 * for what they may be instead, each with the model as it would be there. */
#ifndef STATS_PARENT_NODES_H
#define STATS_PARENT_NODES_H

#include "optimum.h"

struct parent_node {
    double weight;                 /* all add up to 1 */
    double *point;                 /* fixed effects are at their joint mode with the random ones */
    struct parent_laplace laplace; /* at point */
    gsl_matrix *fixed_root;        /* [columns × columns] Cholesky's factor of their information */
};

struct parent_nodes {
    int count; /* at least 1 */
    struct parent_node *node;
};

/* Points are weighted by their restricted likelihood: that of the standard deviations alone, fixed
 * effects integrated out as random ones are. Beforehand all deviations are as likely. `laplace` is
 * at the optimum. */
void parent_nodes_init(struct parent_nodes *nodes, const struct parent_laplace *laplace,
                       const struct parent_optimum *optimum, const enum parent_fit *fit);
void parent_nodes_done(struct parent_nodes *nodes);

#endif
