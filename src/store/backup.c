/* Backup: a copy where the user wants one (copy.c). */
#include "senbetsu/store/backup.h"

#include "copy.h"

bool ledger_backup(struct ledger *ledger, const char *path, struct err *err)
{
    return copy_ledger(ledger, path, err);
}

bool ledger_copy_before_join(struct ledger *ledger, char *ret_path, size_t size, struct err *err)
{
    char stamp[STAMP_SIZE];
    stamp_now(&ledger->clock, stamp);
    return copy_beside(ledger, BESIDE_BEFORE_JOIN, stamp, ret_path, size, err);
}
