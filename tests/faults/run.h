/* Running a scenario: once without faults to see what it does, then with one fault at a time, then
 * with the power cut at every moment. */
#ifndef SENBETSU_TESTS_FAULTS_RUN_H
#define SENBETSU_TESTS_FAULTS_RUN_H

#include "oracle.h"

/* What was done to a scenario. */
struct run_counts {
    int points[FAULT_KIND_COUNT];   /* calls that a fault of this kind could strike */
    int injected[FAULT_KIND_COUNT]; /* faults that did strike */
    int cuts;                       /* crash states that were rebuilt and looked at */
    int findings;
};

/* How thoroughly: of the points of every kind at most so many, of the moments of a run at most so
 * many, each with so many seeds of every kind of cut. 0 = all. */
struct run_depth {
    int points;
    int moments;
    int seeds;
};

/* `base`: where folders may be made. */
void run_scenario(const struct scenario *scenario, const struct run_depth *depth, const char *base,
                  struct run_counts *ret);

#endif
