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
    const char *schema;   /* all that is in sqlite_schema after this step; NULL = not known */
};

extern const struct migration migrations[];
extern const int migration_count;

/* The layout a ledger has: 0 = nothing in it yet. Fails where it is none that can be. */
bool migrate_version(struct ledger *ledger, int *ret, struct err *err);

/* Takes all steps that are still to take, in one transaction, each with its audit row. */
bool migrate(struct ledger *ledger, const struct migration *steps, int count, struct err *err);

/* Before anything of a ledger of layout `version` is trusted: was it made by these very steps, and
 * are its tables, indexes and views still what they made? */
bool migrate_check(struct ledger *ledger, const struct migration *steps, int version,
                   struct err *err);

#endif
