/* The steps of migrations/, embedded at build time, and bringing a ledger to the layout this
 * program works with. The steps are an argument, so that tests play older and newer programs. */
#ifndef STORE_MIGRATIONS_H
#define STORE_MIGRATIONS_H

#include "senbetsu/base/err.h"

#include <stdbool.h>

struct ledger;

struct migration {
    int version; /* of the ledger after this step: 1, 2, … */
    const char *name;
    const char *sql;
    const char *checksum; /* SHA-256 of `sql`, hexadecimal */
};

extern const struct migration migrations[];
extern const int migration_count;

/* The layout a ledger has: 0 = nothing in it yet. */
bool migrate_version(struct ledger *ledger, int *ret, struct err *err);

/* Takes all steps that are still to take, in one transaction, each with its audit row. */
bool migrate(struct ledger *ledger, const struct migration *steps, int count, struct err *err);

/* Do the steps that made this ledger have the checksums of this program's? */
bool migrate_check(struct ledger *ledger, const struct migration *steps, int count,
                   struct err *err);

#endif
