/* The parent model fitted to what the ledger knows, with the names of its levels. */
#ifndef SENBETSU_REPORT_PARENTS_FIT_H
#define SENBETSU_REPORT_PARENTS_FIT_H

#include "senbetsu/base/text.h"
#include "senbetsu/core/terms.h"
#include "senbetsu/report/families.h"
#include "senbetsu/stats/glmm/model.h"
#include "senbetsu/stats/rate.h"

/* The kinds of levels: the random terms of the model, then its fixed ones. */
enum { KIND_SEASON = PARENT_TERMS, KIND_VARIETY, KIND_COUNT };

struct level_names {
    char **list; /* in the model's order */
    int count;
};

/* What is to be said of the counts behind a fit. */
struct fit_notes {
    size_t spawnings;      /* in the fit */
    size_t estimated;      /* of those, how many have a number that is an estimate */
    size_t errors_unknown; /* … of which nobody knows the error */
    double largest_cv;
    const char *recovered; /* spawnings left out because more fish were kept than went in; "" */
};

struct parents_fit {
    enum stage first, last;     /* from what went into the one to what the other kept */
    char variety[CODE_SIZE];    /* "" = all */
    struct parent_model *model; /* NULL where nothing can be fitted … */
    struct err no_model;        /* … and this says why, "" where there is a model */
    struct level_names names[KIND_COUNT];
    struct fit_notes notes;
    struct families families;
    struct text recovered; /* what the notes say of it */
};

/* Compares spawnings by one stage, or, with `stage` -1, from what went into a cull to what a later
 * one kept: up to the latest that at least half of them have come to, from the earliest at which
 * most of those were counted; black fry, which begin with other fish, only where there is nothing
 * else. `of` NULL = all spawnings. Rows with more fish kept than went in are left out. False where
 * the ledger cannot be read. */
bool parents_fit_make(struct ledger *ledger, int stage, const struct selection *of,
                      struct parents_fit *ret, struct err *err);
void parents_fit_done(struct parents_fit *fit);

/* Has the family both numbers, and is it of the variety asked for? */
bool parents_fit_counts(const struct parents_fit *fit, const struct family *family);

/* What of the family is compared. */
struct cull parents_fit_cull(const struct parents_fit *fit, const struct family *family);

/* The place of a level among those of its kind, -1 where it is not there. */
int level_find(const struct level_names *names, const char *name);

/* "DAM+SIRE", "DAM+SIRE;SIRE": how a pair is called. */
void pair_level(const char *dam, const char *sires, struct text *out);

#endif
