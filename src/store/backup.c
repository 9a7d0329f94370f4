/* Backup: a copy where the user wants one (copy.c). */
#include "senbetsu/store/backup.h"

#include "copy.h"

bool ledger_backup(struct ledger *ledger, const char *path, struct err *err)
{
    return copy_ledger(ledger, path, err);
}
