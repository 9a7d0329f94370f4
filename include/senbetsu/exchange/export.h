/* Writing what the ledger holds in the forms that import reads: a file written from one ledger and
 * read into another, then written again, is the same byte for byte. */
#ifndef SENBETSU_EXCHANGE_EXPORT_H
#define SENBETSU_EXCHANGE_EXPORT_H

#include "senbetsu/base/text.h"
#include "senbetsu/core/terms.h"
#include "senbetsu/store/ledger.h"

/* Which fish: NULL and -1 = all. */
struct export_filter {
    const char *spawning;
    const char *lot;
    int stage; /* enum stage */
};

bool export_parents(struct ledger *ledger, struct text *out, struct err *err);
bool export_spawnings(struct ledger *ledger, struct text *out, struct err *err);

/* The numbers that were stated of every round. A round whose fish were judged one by one has none
 * of its own: its fish say how many they were. */
bool export_rounds(struct ledger *ledger, struct text *out, struct err *err);

/* The events of all lots in order, but for those taken back. */
bool export_lots(struct ledger *ledger, struct text *out, struct err *err);

/* A row for what decides each fish, then one for every check of it by another judge. Verdicts by
 * hand, notes and earlier looks are not part of the form; only a backup has them. */
bool export_fish(struct ledger *ledger, const struct export_filter *filter, struct text *out,
                 struct err *err);

bool export_standard(struct ledger *ledger, const char *name, struct text *out, struct err *err);

#endif
