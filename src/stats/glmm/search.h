/* A search for the lowest deviance of a parent model, in coordinates in which it curves alike in
 * all directions: point = centre + scale · coordinates. */
#ifndef STATS_PARENT_SEARCH_H
#define STATS_PARENT_SEARCH_H

#include "laplace.h"

struct parent_search {
    struct parent_laplace *laplace;
    double *centre;        /* [size] */
    int free;              /* coordinates: fixed effects, and standard deviations that may move */
    int *place;            /* [free] in the point */
    gsl_matrix *scale;     /* [free × free] */
    double *point, *slope; /* [size] of what was looked at last */
    gsl_vector *at;        /* [free] its coordinates, where laplace is if is_there */
    bool is_there;
};

/* Begins with the standard deviations `sd`, of which those at zero stay there, and with the fixed
 * effects that are likeliest with them. False where there are none to be found. parent_search_done
 * either way. */
bool parent_search_init(struct parent_search *search, struct parent_laplace *laplace,
                        const double *sd);
void parent_search_done(struct parent_search *search);

/* The deviance at `point` [size], INFINITY where there is none. */
double parent_search_value(struct parent_search *search, const double *point);

/* Goes downhill until the slope is under `level`, and makes that the centre. Returns the deviance
 * there. */
double parent_search_descend(struct parent_search *search, double level);

/* Takes in the curvature at the centre and goes to the bottom by Newton's steps. True where that is
 * a minimum: the covariance of what is free is then twice scale · its transpose. */
bool parent_search_settle(struct parent_search *search);

#endif
