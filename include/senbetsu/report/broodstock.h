/* The parents with what came of them: how often each was set, and its young among the parents. */
#ifndef SENBETSU_REPORT_BROODSTOCK_H
#define SENBETSU_REPORT_BROODSTOCK_H

#include "senbetsu/report/crosses.h"

struct brood_fish {
    const struct parent *parent;
    int spawnings;   /* that it is the dam or one of the sires of */
    int last_season; /* of those; 0 = none */
    int young;       /* parents that it is the dam or sire of */
    struct availability available;
};

struct broodstock {
    struct brood_fish *fish; /* by code, as the pedigree has them */
    struct pedigree pedigree;
    struct spawning *spawnings; /* the latest season first */
    size_t spawning_count;
};

bool broodstock_read(struct ledger *ledger, struct broodstock *ret, struct err *err);
void broodstock_done(struct broodstock *stock);

/* Is this fish the dam or a sire of the spawning? */
bool spawning_has_parent(const struct spawning *spawning, const char *code);

/* The inbreeding of the fish at this place of the pedigree, from all its ancestors. */
bool broodstock_inbreeding(const struct broodstock *stock, int place, double *ret, struct err *err);

#endif
