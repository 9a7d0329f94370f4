/* What somebody does with a ledger, step by step; after each step that succeeded they were told so.
 */
#ifndef SENBETSU_TESTS_FAULTS_SCENARIO_H
#define SENBETSU_TESTS_FAULTS_SCENARIO_H

#include "subject.h"

struct scenario {
    const char *name;
    enum ground ground;
    bool closed;     /* the ledger is not open when the first step begins */
    bool in_parts;   /* what a refused step has done of its parts may stand: opening, upgrading */
    int later_steps; /* of migrations: it is opened by a later program */
    int steps;

    /* Before anything can fail, with the ledger open; may be NULL. */
    bool (*prepare)(struct subject *subject, struct err *err);

    /* False where it was refused: nothing has changed then. */
    bool (*step)(struct subject *subject, int step, struct err *err);
};

extern const struct scenario scenarios[];
extern const int scenario_count;

#endif
