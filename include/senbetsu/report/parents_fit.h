/* The parent model of what the ledger knows, with the names of its levels. */
#ifndef SENBETSU_REPORT_PARENTS_FIT_H
#define SENBETSU_REPORT_PARENTS_FIT_H

#include "senbetsu/print/effects_table.h"
#include "senbetsu/report/families.h"
#include "senbetsu/stats/rate.h"

struct parents_fit {
    struct effects_table table; /* its model is NULL where nothing can be fitted … */
    struct err trouble;         /* … and this says why, "" where there is a model */
    struct families families;
    struct parent_model *model;
    struct level_names names[KIND_COUNT];
    struct text recovered;
    char variety[CODE_SIZE]; /* "" = all */
};

/* Compares spawnings by one stage, or, with `stage` -1, from what went into a cull to what a later
 * one kept: up to the latest that at least half of them have come to, from the earliest at which
 * most of those were counted; black fry, which begin with other fish, only where there is nothing
 * else. `variety` NULL = all. Rows with more fish kept than went in are left out. False where the
 * ledger cannot be read. */
bool parents_fit_make(struct ledger *ledger, int stage, const char *variety,
                      struct parents_fit *ret, struct err *err);
void parents_fit_done(struct parents_fit *fit);

/* Has the brood both numbers, and is it of the variety asked for? */
bool parents_fit_counts(const struct parents_fit *fit, const struct family *family);

/* What of the brood is compared. */
struct cull parents_fit_cull(const struct parents_fit *fit, const struct family *family);

/* The place of a level among those of its kind, -1 where it is not there. */
int level_find(const struct level_names *names, const char *name);

/* "DAM+SIRE", "DAM+SIRE;SIRE": how a pair is called. */
void pair_level(const char *dam, const char *sires, struct text *out);

#endif
