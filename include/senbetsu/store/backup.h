/* Copies of the ledger and its health. */
#ifndef SENBETSU_STORE_BACKUP_H
#define SENBETSU_STORE_BACKUP_H

#include "senbetsu/store/ledger.h"

/* Writes a whole, checked copy to `path`, with the rights of the ledger. Refuses a path that
 * exists.
 */
bool ledger_backup(struct ledger *ledger, const char *path, struct err *err);

#endif
