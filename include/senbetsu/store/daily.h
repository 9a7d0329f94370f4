/* The copy that is made of a ledger once a day, as "PATH.copies/2026-06-14.db". The seven latest
 * are kept, and of each of the twelve latest months that have one the last.
 *
 * Its pages are copied in slices of a few milliseconds, and another process looks through it, so
 * that whoever works on the ledger need not wait. Where the file system cannot keep a WAL it is
 * made only when nobody works. */
#ifndef SENBETSU_STORE_DAILY_H
#define SENBETSU_STORE_DAILY_H

#include "senbetsu/store/ledger.h"

struct daily;

enum daily_when {
    DAILY_MEANWHILE, /* keys may come: only where there is no copy of today yet */
    DAILY_LEAVING,   /* nobody waits: also where today's copy is older than the ledger */
};

/* To be freed before the ledger is closed. */
struct daily *daily_new(struct ledger *ledger, enum daily_when when);
/* NULL is legal. What has not been copied whole goes; what is being looked through is waited for.
 */
void daily_free(struct daily *daily);

enum daily_step {
    DAILY_GOES_ON, /* there is more to copy: another slice when there is time */
    DAILY_WAITS,   /* for the process that looks through it: ask again now and then */
    DAILY_DONE,    /* or there was nothing to do */
    DAILY_FAILED,
};

enum daily_step daily_step(struct daily *daily, struct err *err);

/* All of it at once. */
bool daily_copy(struct ledger *ledger, struct err *err);

#endif
