/* The ledger file: opening, upgrading, transactions. One connection, hardened, WAL, synchronous
 * EXTRA; nobody else calls sqlite3_open. */
#ifndef SENBETSU_STORE_LEDGER_H
#define SENBETSU_STORE_LEDGER_H

#include "senbetsu/base/date.h"
#include "senbetsu/base/err.h"
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct ledger;

struct ledger_setup {
    const char *path;
    bool only_read; /* nothing will be written: a ledger that cannot be is good enough */
    bool create;    /* make a new ledger where there is no file; its folder must exist */
    struct clock clock;
    const char *station; /* a name for this machine, for people */
    uint8_t seed[16]; /* random: the identity of this ledger's station, should a new one be due */
};

/* Opens, and upgrades an older ledger after copying it to "PATH.before-vN". `*ret_new` says that
 * the file was made by this call. Fails with one sentence, the file untouched, when it is absent
 * (and not to be made), not a ledger, damaged, newer than this program, read-only or locked.
 *
 * A ledger that was copied to another place (other file than the one its station was born in)
 * becomes a station of its own, so that rows born in both can be joined later
 * (docs/decisions/stations.md). */
bool ledger_open(const struct ledger_setup *setup, struct ledger **ret, bool *ret_new,
                 struct err *err);
void ledger_close(struct ledger *ledger); /* NULL is legal; empties the WAL */

/* Closes a ledger that ledger_open has just made and takes its file away again; it stays where
 * somebody else has opened it meanwhile. */
void ledger_discard(struct ledger *ledger);

const struct clock *ledger_clock(const struct ledger *ledger);
const char *ledger_path(const struct ledger *ledger);

/* What should be known before anything is recorded, each one whole sentence: strokes that are
 * missing after a crash, a folder that other machines share, a clock that was set back. Whoever
 * finds it out adds it; the screens begin with all of them, commands say them on standard error. */
void ledger_notice(struct ledger *ledger, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
size_t ledger_notices(const struct ledger *ledger, char *const **ret);
/* Somebody has seen them all: what was lost is not said again at the next opening. */
void ledger_notices_seen(struct ledger *ledger);

/* One BEGIN IMMEDIATE … COMMIT around several writes; every writing function below opens its own
 * where none is open. `transaction_rollback` is legal at any time. */
bool transaction_begin(struct ledger *ledger, struct err *err);
bool transaction_commit(struct ledger *ledger, struct err *err);
void transaction_rollback(struct ledger *ledger);

/* After a commit that failed with ERR_UNCERTAIN: finds out whether its change is in the ledger, and
 * makes that certain. Fails while the disk does, and can be tried again; where nothing is in doubt
 * it does nothing. Outside transactions only. Without it the next transaction_begin settles this,
 * and fails once where the change is in. */
bool transaction_settle(struct ledger *ledger, bool *ret_recorded, struct err *err);

/* All that is read between these two is of one moment, that of the first read: what others write
 * meanwhile is not seen. Around every report, so that it agrees with itself. They nest. Inside a
 * transaction they add nothing; a transaction that begins inside them ends that moment, since only
 * what is up to date may be written upon, and what is read after it is of a later one. Nobody waits
 * for a reader, but what others write meanwhile stays in the WAL: the end comes before a key or
 * anything else is waited for. */
void ledger_read_begin(struct ledger *ledger);
void ledger_read_end(struct ledger *ledger);

/* A ledger that cannot be written here is read without locks: before what was read is told, was it
 * left alone meanwhile? True of every other. */
bool ledger_held_still(const struct ledger *ledger, struct err *err);

/* Does the ledger still lie where it was opened? Else nothing more is recorded, and this fails with
 * ERR_GONE and a sentence that says where the work is, as every commit does. Of one that was
 * deleted a copy is made the first time. Costs little where all is well. Outside transactions only.
 */
bool ledger_check_place(struct ledger *ledger, struct err *err);

/* Was anything written to the ledger since `*seen` was set, by this program or another? Sets it
 * anew; begin with 0, for which everything is new. Costs next to nothing. */
bool ledger_changed(struct ledger *ledger, int64_t *seen, bool *ret_changed, struct err *err);

/* The same of other programs alone; and how many transactions this one has committed. */
bool ledger_changed_elsewhere(struct ledger *ledger, int64_t *seen, bool *ret_changed,
                              struct err *err);
int64_t ledger_commits(const struct ledger *ledger);

/* What saving did. */
enum saved { SAVED_NEW, SAVED_CHANGED, SAVED_SAME };

#endif
