/* The health of a ledger. The check finds and changes nothing; what is derived can be worked out
 * anew by the same rules. */
#ifndef SENBETSU_STORE_CHECK_H
#define SENBETSU_STORE_CHECK_H

#include "senbetsu/store/ledger.h"

#include <stddef.h>

/* What one rule found. */
struct finding {
    bool remark;       /* unlikely, and worth a look; else it is wrong */
    bool repaired;     /* it was wrong, and has been worked out anew */
    size_t count;      /* of the places where it was found */
    const char *lines; /* a sentence for each of the first few, each ended with '\n' */
    const char *means; /* a sentence or two: what follows from it, and what to do */
    const char *says;  /* what SQLite says of it, "" = nothing */
};

/* Who hears of the findings, and of the steps: `step` (may be NULL) is called between rules and
 * many times within a long one. */
struct check_listener {
    void (*found)(void *context, const struct finding *finding);
    void (*step)(void *context, int done, int of);
    void *context;
};

/* What was looked at, and how many places were found wrong or worth a look. */
struct check_result {
    size_t wrong, remarks, repaired;
    int64_t fish, bowls, rounds, lots, parents;
};

/* Looks through the whole ledger: SQLite's own checks, records that belong to none, whether
 * everything derived agrees with what was recorded, histories that cannot be, and clocks. False
 * only where the check itself cannot run. */
bool ledger_check(struct ledger *ledger, const struct check_listener *listener,
                  struct check_result *ret, struct err *err);

/* Works out anew whatever is derived, in one transaction, and nothing else; the findings are what
 * was wrong. ERR_DAMAGE where the file itself is damaged: it is not written to. */
bool ledger_repair(struct ledger *ledger, const struct check_listener *listener,
                   struct check_result *ret, struct err *err);

#endif
