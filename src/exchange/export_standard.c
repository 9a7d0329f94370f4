#include "senbetsu/exchange/export.h"
#include "senbetsu/store/standards.h"

bool export_standard(struct ledger *ledger, const char *name, struct text *out, struct err *err)
{
    struct standard_version version;
    if (!standard_named(ledger, name, &version, err))
        return false;
    standard_write(&version.standard, out);
    return true;
}
