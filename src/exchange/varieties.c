/* Varieties in and out, and what the other imports do with a variety that the list does not have.
 *
 * A file may bring a new variety, but not a slip of the pen: that would count the same fish twice
 * over in every rate. So a name that is next to one in the list is refused, and can be added by
 * itself first, on the screen of varieties or by a file of them. */
#include "senbetsu/store/varieties.h"
#include "rows.h"

#include <stdlib.h>

/* `*ret_nearest` stays as it is where the name is no slip. */
static bool find_typo(struct ledger *ledger, const char *name, struct variety *ret_nearest,
                      struct err *err)
{
    struct variety *varieties;
    size_t count;
    bool typo;
    if (!variety_list(ledger, &varieties, &count, err))
        return false;
    const struct variety *nearest = variety_nearest(varieties, count, name, &typo);
    if (nearest != NULL && typo)
        *ret_nearest = *nearest;
    free(varieties);
    return true;
}

bool import_variety(struct import *import, char name[CODE_SIZE], struct err *err)
{
    struct variety variety = {.id = 0}, nearest = {.id = 0};
    struct err none = {0};
    enum saved saved;
    if (variety_settle(import->ledger, name, &none))
        return true;
    if (none.code != ERR_ABSENT)
        return err_set(err, none.code, "%s", none.text);
    if (!find_typo(import->ledger, name, &nearest, err))
        return false;
    if (nearest.id != 0)
        return err_set(err, ERR_INPUT,
                       "there is no variety \"%s\"; if %s is not what was meant, add it first, on "
                       "the screen of varieties or by import varieties.",
                       name, nearest.name);
    text_copy(variety.name, sizeof variety.name, name);
    return variety_save(import->ledger, &variety, import->judge, "import", &saved, err);
}

bool row_settle_variety(const struct row *row, int column, char name[CODE_SIZE])
{
    struct err why = {0};
    return import_variety(row->rows->import, name, &why) || row_refuse_as(row, column, &why);
}

bool import_varieties(struct import *import, struct err *err)
{
    struct rows rows;
    if (!rows_read(import, variety_columns, VARIETY_COLUMN_COUNT, false, &rows, err))
        return false;
    bool done = true;
    for (size_t i = 0; done && i < rows.csv.row_count; i++) {
        struct row row = rows_at(&rows, i, err);
        struct variety variety = {.id = 0};
        struct err why = {0};
        enum saved saved;
        done = row_read(&row, &variety) &&
               (variety_save(import->ledger, &variety, import->judge, "import", &saved, &why) ||
                row_refuse_as(&row, VARIETY_COLUMN_NAME, &why));
        if (done)
            rows_count(&rows, saved);
    }
    rows_done(&rows);
    return done;
}

bool export_varieties(struct ledger *ledger, struct text *out, struct err *err)
{
    struct variety *varieties;
    size_t count;
    if (!variety_list(ledger, &varieties, &count, err))
        return false;
    export_names(variety_columns, VARIETY_COLUMN_COUNT, out);
    csv_end_row(out);
    for (size_t i = 0; i < count; i++) {
        export_fields(variety_columns, VARIETY_COLUMN_COUNT, &varieties[i], out);
        csv_end_row(out);
    }
    free(varieties);
    return true;
}
