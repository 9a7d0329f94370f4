/* Which spawnings a report is about. */
#ifndef SENBETSU_REPORT_SELECTION_H
#define SENBETSU_REPORT_SELECTION_H

#include "senbetsu/core/spawning.h"
#include "senbetsu/store/lot_origins.h"

struct selection {
    char variety[CODE_SIZE];  /* "" = all */
    int season;               /* 0 = all */
    char spawning[CODE_SIZE]; /* "" = all */
};

/* Is the lot of such a spawning? A mixed lot is where all its fish are. A selection of NULL takes
 * all. */
bool selection_takes(const struct selection *selection, const struct lot_origin *lot);
bool selection_takes_spawning(const struct selection *selection, const struct spawning *spawning);

#endif
