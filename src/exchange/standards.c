/* Standards in and out as INI, and those that a new ledger begins with.
 *
 * A standard that differs from the ledger's becomes its next version and overwrites nothing, so
 * that old passes can still be read by the version they were made with. */
#include "senbetsu/store/standards.h"
#include "rows.h"
#include "senbetsu/exchange/exchange.h"
#include "senbetsu/store/rounds.h"

#include <stdlib.h>
#include <string.h>

/* Is there a round that was judged by the standard of this name? */
static bool is_in_use(struct ledger *ledger, const char *name, bool *ret_used, struct err *err)
{
    struct round *rounds;
    size_t count;
    if (!round_list(ledger, NULL, &rounds, &count, err))
        return false;
    *ret_used = false;
    for (size_t i = 0; i < count; i++)
        *ret_used = *ret_used || strcmp(rounds[i].standard, name) == 0;
    free(rounds);
    return true;
}

/* Scores keep their meaning only while their standard keeps its scale. */
static bool check_scale(struct import *import, const struct standard *standard, struct err *err)
{
    struct standard_version known;
    struct err why = {0};
    bool used;
    if (!standard_named(import->ledger, standard->name, &known, &why))
        return why.code == ERR_ABSENT || err_set(err, why.code, "%s", why.text);
    if (known.standard.lowest == standard->lowest && known.standard.highest == standard->highest)
        return true;
    if (!is_in_use(import->ledger, standard->name, &used, err))
        return false;
    return !used ||
           err_set(err, ERR_INPUT,
                   "%s: fish were judged by %s on the scale %d-%d; a standard on another "
                   "scale needs another name.",
                   import->file, standard->name, known.standard.lowest, known.standard.highest);
}

/* A standard names its varieties as the list has them. */
static bool settle_varieties(struct import *import, struct standard *standard, struct err *err)
{
    char names[STANDARD_VARIETIES], name[CODE_SIZE];
    text_copy(names, sizeof names, standard->varieties);
    standard->varieties[0] = '\0';
    for (const char *list = names; standard_next_variety(&list, name);) {
        if (!import_variety(import, name, err))
            return err_at(err, "%s", import->file);
        if (!standard_add_variety(standard, name))
            return err_set(err, ERR_INPUT, "%s: variety has too many names.", import->file);
    }
    return true;
}

bool import_standard(struct import *import, struct err *err)
{
    struct standard standard;
    struct standard_version version;
    enum saved saved;
    if (!standard_parse(import->bytes->data, import->bytes->length, import->file, &standard, err) ||
        !check_scale(import, &standard, err) || !settle_varieties(import, &standard, err) ||
        !standard_save(import->ledger, &standard, ORIGIN_IMPORTED, &version, &saved, err))
        return false;
    import->added += saved == SAVED_NEW;
    import->changed += saved == SAVED_CHANGED;
    import->same += saved == SAVED_SAME;
    return true;
}

bool export_standard(struct ledger *ledger, const char *name, struct text *out, struct err *err)
{
    struct standard_version version;
    if (!standard_named(ledger, name, &version, err))
        return false;
    standard_write(&version.standard, out);
    return true;
}

static bool save_starting_standards(struct ledger *ledger, struct err *err)
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
    if (!transaction_begin(ledger, err))
        return false;
    if (save_starting_standards(ledger, err) && transaction_commit(ledger, err))
        return true;
    transaction_rollback(ledger);
    return false;
}
