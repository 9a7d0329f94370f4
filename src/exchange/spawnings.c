/* Spawnings in and out.
 *
 * A row may state a date and nothing else. It is therefore merged with what the ledger knows before
 * it is checked, because the rules (season and date, sires and siring) hold for the whole
 * record. */
#include "senbetsu/store/spawnings.h"
#include "row_names.h"
#include "senbetsu/store/parents.h"

#include <stdlib.h>

/* That dam and sires are in the ledger and of their sex. */
static bool check_parents(const struct row *row, const struct spawning *said)
{
    char sire[CODE_SIZE];
    struct err why = {0};
    if (said->dam[0] != '\0' && !parent_serves(row->ledger, said->dam, true, &why))
        return row_refuse_as(row, SPAWNING_COLUMN_DAM, &why);
    for (const char *list = said->sires; code_next(&list, sire);)
        if (!parent_serves(row->ledger, sire, false, &why))
            return row_refuse_as(row, SPAWNING_COLUMN_SIRES, &why);
    return true;
}

/* The whole spawning, of which the row says perhaps but a part, so that what is wrong of it is told
 * by its column. */
static bool complete(const struct row *row, struct spawning *spawning)
{
    struct spawning known = {0};
    struct err why = {0};
    int column;
    columns_init(spawning_columns, SPAWNING_COLUMN_COUNT, &known);
    if (!spawning_get(row->ledger, spawning->code, &known, &why) && why.code != ERR_ABSENT)
        return row_refuse_as(row, SPAWNING_COLUMN_CODE, &why);
    spawning_merge(&known, spawning);
    return spawning_check(spawning, &column, &why) || row_refuse_as(row, column, &why);
}

static bool import_row(const struct row_names *names, int index, struct err *err)
{
    const struct rows *rows = names->rows;
    struct row row = rows_at(rows, (size_t)index, err);
    struct spawning spawning = {0};
    struct err why = {0};
    enum saved saved;
    if (!row_read(&row, &spawning))
        return false;
    if (spawning.season == 0 && spawning.date[0] == '\0')
        return row_refuse(&row,
                          rows->where[SPAWNING_COLUMN_SEASON] >= 0 ? SPAWNING_COLUMN_SEASON
                                                                   : SPAWNING_COLUMN_DATE,
                          "enter the season or the date of the spawning.");
    if (!row_settle_variety(&row, SPAWNING_COLUMN_VARIETY, spawning.variety) ||
        !check_parents(&row, &spawning) || !complete(&row, &spawning) ||
        !row_names_check(names, &row, index))
        return false;
    if (!spawning_save(row.ledger, &spawning, rows->import->judge, "import", &saved, &why))
        return row_refuse_as(&row, SPAWNING_COLUMN_CODE, &why);
    rows_count(rows, saved);
    return true;
}

bool import_spawnings(struct import *import, struct err *err)
{
    struct rows rows;
    if (!rows_read(import, spawning_columns, SPAWNING_COLUMN_COUNT, false, &rows, err))
        return false;
    struct row_names names;
    bool done = true;
    row_names_init(&names, &rows, SPAWNING_COLUMN_CODE);
    for (int i = 0; done && i < names.count; i++)
        done = import_row(&names, i, err);
    row_names_done(&names);
    rows_done(&rows);
    return done;
}

bool export_spawnings(struct ledger *ledger, struct text *out, struct err *err)
{
    struct spawning *spawnings;
    size_t count;
    if (!spawning_list(ledger, &spawnings, &count, err))
        return false;
    export_names(spawning_columns, SPAWNING_COLUMN_COUNT, out);
    csv_end_row(out);
    for (size_t i = 0; i < count; i++) {
        export_fields(spawning_columns, SPAWNING_COLUMN_COUNT, &spawnings[i], out);
        csv_end_row(out);
    }
    free(spawnings);
    return true;
}
