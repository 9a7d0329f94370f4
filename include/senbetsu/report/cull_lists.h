/* Makes the evening's list out of the ledger; print lays it out, the reader screen shows it. */
#ifndef SENBETSU_REPORT_CULL_LISTS_H
#define SENBETSU_REPORT_CULL_LISTS_H

#include "senbetsu/core/tally.h"
#include "senbetsu/print/cull_list.h"
#include "senbetsu/report/pass_run.h"
#include "senbetsu/store/rounds.h"

/* `list` is what print takes; `parts` owns what it points to. */
struct cull_list_made {
    struct cull_list list;
    struct cull_round *rounds;
    struct cull_list_part *parts;
};

/* Each round is listed by its latest recorded pass; a fish that has been judged or corrected since,
 * so that it would be decided otherwise now, shows how it stands now and is marked. A round without
 * a pass shows the verdicts as they stand, and its basis says so. */
bool cull_list_of_round(struct ledger *ledger, const struct round *round,
                        struct cull_list_made *ret, struct err *err);

/* All rounds at work on a day ("2026-11-05"). ERR_ABSENT where there is none. */
bool cull_list_of_day(struct ledger *ledger, const char *day, struct cull_list_made *ret,
                      struct err *err);

/* The fish of a pass's round that are expected and that nobody has looked at, as the list counts
 * them. */
bool cull_list_unseen(struct ledger *ledger, const struct pass_run *run, int *ret, struct err *err);

void cull_list_done(struct cull_list_made *made);

/* Why the tallied fish of a round were rejected: labels of its standard, codes where there is none
 * that serves the cull. The caller frees them. */
bool reject_reasons_make(struct ledger *ledger, const struct round *round,
                         const struct tally_totals *totals, struct reject_reason **ret,
                         size_t *ret_count, struct err *err);

#endif
