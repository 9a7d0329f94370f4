/* Finds the culls that come next: docs/rates.md. */
#ifndef SENBETSU_REPORT_DUES_H
#define SENBETSU_REPORT_DUES_H

#include "senbetsu/print/due_list.h"
#include "senbetsu/store/ledger.h"

/* Of each lot that has fish by the book and a spawning whose date is known (of several the oldest)
 * the first cull after its last one, where its usual time begins within `days` days after `day`. A
 * cull stays late for as long as its usual time lasts; then the next one is looked at. Lots whose
 * fish went into a mixed lot without a word are gone once that has been through a later cull. Free
 * `ret->dues` with free(). */
bool due_list_make(struct ledger *ledger, const char *day, int days, struct due_list *ret,
                   struct err *err);

#endif
