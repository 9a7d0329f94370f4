#include "senbetsu/exchange/starting_standards.h"
#include "senbetsu/store/standards.h"

static bool save_all(struct ledger *ledger, struct err *err)
{
    for (int i = 0; i < starting_standard_count; i++) {
        const struct starting_standard *source = &starting_standards[i];
        struct standard standard;
        struct standard_version version;
        enum saved saved;
        if (!standard_parse(source->text, source->length, source->file, &standard, err) ||
            !standard_save(ledger, &standard, ORIGIN_SHIPPED, &version, &saved, err))
            return false;
    }
    return true;
}

bool starting_standards_save(struct ledger *ledger, struct err *err)
{
    if (!ledger_begin(ledger, err))
        return false;
    if (save_all(ledger, err) && ledger_commit(ledger, err))
        return true;
    ledger_rollback(ledger);
    return false;
}
