/* What the parent model found: for a breeder as keep rates, in CSV as the model has it, on the
 * logit scale (docs/pairs.md). */
#ifndef SENBETSU_PRINT_EFFECTS_H
#define SENBETSU_PRINT_EFFECTS_H

#include "senbetsu/print/page.h"
#include "senbetsu/report/parents_fit.h"

void effects_print(const struct parents_fit *fit, struct page_setup setup, struct text *out);

/* kind,level,estimate,se: on the logit scale. A season or variety of which no fish or all fish were
 * kept has no numbers, one that says nothing has no row. */
void effects_csv(const struct parents_fit *fit, struct text *out);

/* A sentence each: what is to be known before the numbers are believed. */
void fit_notes_add(const struct fit_notes *notes, struct page *page);

#endif
