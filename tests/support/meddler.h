/* Somebody else at the same ledger, who writes at a bad moment: between two statements of whoever
 * is watched. All codes of spawnings, lots and parents and all stated numbers change with it in one
 * transaction, and change back the next time, so that whatever is read half before and half after
 * it contradicts itself. */
#ifndef SENBETSU_TESTS_SUPPORT_MEDDLER_H
#define SENBETSU_TESTS_SUPPORT_MEDDLER_H

#include <stdbool.h>

/* Every connection that is opened from now on is watched, until meddler_stop. */
void meddler_watch(void);
void meddler_stop(void);

/* Lets him write into the ledger at `path` once, when `statements` more have been carried out by a
 * connection that is watched and is not writing itself. */
void meddler_await(const char *path, int statements);

/* Has he written since? He does not any more. */
bool meddler_wrote(void);

/* He writes now. */
void meddler_write(const char *path);

#endif
