/* A ledger that was deleted while it was open ends with the program that has it open. Until then
 * all of it can still be read, so a copy is made beside the place where it was. */
#include "copy.h"
#include "private.h"
#include "senbetsu/base/alloc.h"

static bool rescue(struct ledger *ledger, struct err *err)
{
    char stamp[STAMP_SIZE];
    char path[4096];
    struct err cause;
    stamp_now(&ledger->clock, stamp);
    if (!copy_beside(ledger, BESIDE_RESCUED, stamp, path, sizeof path, &cause))
        return err_set(err, ERR_GONE,
                       "The ledger was deleted while it was open, and no copy could be made: %s",
                       cause.text);
    ledger->rescued = alloc_text(path);
    return true;
}

bool ledger_check_place(struct ledger *ledger, struct err *err)
{
    if (in_place(ledger))
        return true;
    if (ledger->rescued == NULL && in_place_deleted(ledger) && !rescue(ledger, err))
        return false;
    return in_place_fail(ledger, err);
}
