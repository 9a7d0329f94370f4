/* What the parent model found, as CSV and for a breeder (docs/pairs.md). */
#ifndef SENBETSU_PRINT_EFFECTS_TABLE_H
#define SENBETSU_PRINT_EFFECTS_TABLE_H

#include "senbetsu/core/terms.h"
#include "senbetsu/print/page.h"
#include "senbetsu/stats/glmm/model.h"

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

struct effects_table {
    enum stage first, last; /* from what went into the one to what the other kept */
    const char *variety;    /* "" = all */
    const struct parent_model *model;
    const struct level_names *names; /* [KIND_COUNT] */
    struct fit_notes notes;
};

void effects_print(const struct effects_table *table, struct page_setup setup, struct text *out);

/* kind,level,estimate,se: on the logit scale. A season or variety of which no fish or all fish were
 * kept has no numbers, one that says nothing has no row. */
void effects_csv(const struct effects_table *table, struct text *out);

/* A sentence each: what is to be known before the numbers are believed. */
void fit_notes_add(const struct fit_notes *notes, struct page *page);

#endif
