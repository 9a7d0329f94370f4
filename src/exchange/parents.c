/* Parents in and out. Rows may stand in any order: a dam or sire that the file brings itself is
 * saved before its young, however the file is sorted. */
#include "senbetsu/store/parents.h"
#include "row_names.h"
#include "senbetsu/base/alloc.h"

#include <stdlib.h>

/* What a row waits for: a dam or sire that stands in the same file must be saved first. */
struct entry_row {
    int dam, sire; /* rows, NO_ROW = not in this file */
    bool saved;
};

struct reading {
    struct rows rows;
    struct row_names names;
    struct entry_row *entries;
    int count;
};

/* The sex as the file has it, else as the ledger has it. */
static enum sex sex_of(const struct reading *reading, int at, const struct parent *known)
{
    if (at == NO_ROW)
        return known->sex;
    struct row row = rows_at(&reading->rows, (size_t)at, NULL);
    int sex = term_find(sex_terms, SEX_COUNT, row_field(&row, PARENT_COLUMN_SEX));
    return sex <= (int)SEX_UNKNOWN ? known->sex : (enum sex)sex;
}

/* A dam or sire is in the file or the ledger, and of the right sex. */
static bool check_forebear(const struct reading *reading, const struct row *row, int column,
                           const char *code, int *ret_row)
{
    struct parent known = {0};
    struct err why = {0};
    *ret_row = code[0] != '\0' ? row_named(&reading->names, code) : NO_ROW;
    if (code[0] == '\0')
        return true;
    bool in_ledger = parent_get(row->ledger, code, &known, &why);
    if (!in_ledger && why.code != ERR_ABSENT)
        return row_refuse_as(row, column, &why);
    if (!in_ledger && *ret_row == NO_ROW)
        return row_refuse(row, column, "there is no parent %s in this file or in the ledger.",
                          code);
    return parent_check_role(code, sex_of(reading, *ret_row, &known), column == PARENT_COLUMN_DAM,
                             &why) ||
           row_refuse_as(row, column, &why);
}

static bool read_parent(const struct row *row, struct parent *ret)
{
    return row_read(row, ret) && row_settle_variety(row, PARENT_COLUMN_VARIETY, ret->variety);
}

static bool read_row(const struct reading *reading, int index, struct err *err)
{
    struct row row = rows_at(&reading->rows, (size_t)index, err);
    struct entry_row *entry = &reading->entries[index];
    struct parent parent;
    return read_parent(&row, &parent) && row_names_check(&reading->names, &row, index) &&
           check_forebear(reading, &row, PARENT_COLUMN_DAM, parent.dam, &entry->dam) &&
           check_forebear(reading, &row, PARENT_COLUMN_SIRE, parent.sire, &entry->sire);
}

/* The row that must be saved before this one, or NO_ROW. */
static int waits_for(const struct reading *reading, int index)
{
    const struct entry_row *entry = &reading->entries[index];
    if (entry->dam != NO_ROW && !reading->entries[entry->dam].saved)
        return entry->dam;
    if (entry->sire != NO_ROW && !reading->entries[entry->sire].saved)
        return entry->sire;
    return NO_ROW;
}

static bool save_row(const struct reading *reading, int index, struct err *err)
{
    struct row row = rows_at(&reading->rows, (size_t)index, err);
    struct entry_row *entry = &reading->entries[index];
    struct parent parent;
    struct err why = {0};
    enum saved saved;
    if (!read_parent(&row, &parent))
        return false;
    if (!parent_save(row.ledger, &parent, reading->rows.import->judge, "import", &saved, &why))
        return row_refuse_as(&row, PARENT_COLUMN_CODE, &why);
    rows_count(&reading->rows, saved);
    entry->saved = true;
    return true;
}

/* Rows that wait for each other: the first of them in the file is named. */
static bool refuse_circle(const struct reading *reading, int waiting, struct err *err)
{
    for (int steps = 0; steps < reading->count; steps++)
        waiting = waits_for(reading, waiting);
    int first = waiting;
    for (int at = waits_for(reading, waiting); at != waiting; at = waits_for(reading, at))
        first = at < first ? at : first;
    struct row row = rows_at(&reading->rows, (size_t)first, err);
    const struct entry_row *entry = &reading->entries[first];
    int column = entry->dam == waits_for(reading, first) ? PARENT_COLUMN_DAM : PARENT_COLUMN_SIRE;
    return row_refuse(&row, column, "%s would be its own ancestor; correct its dam or sire.",
                      row_field(&row, PARENT_COLUMN_CODE));
}

/* Saves the row, and before it those it waits for, one after another. `path` has room for as many
 * rows as there are: a longer one leads in a circle. */
static bool save_with_forebears(const struct reading *reading, int index, int *path,
                                struct err *err)
{
    int length = 0;
    for (int at = index;;) {
        int before = waits_for(reading, at);
        if (before != NO_ROW && length == reading->count)
            return refuse_circle(reading, at, err);
        if (before != NO_ROW) {
            path[length++] = at;
            at = before;
            continue;
        }
        if (!reading->entries[at].saved && !save_row(reading, at, err))
            return false;
        if (length == 0)
            return true;
        at = path[--length];
    }
}

static bool save_rows(const struct reading *reading, struct err *err)
{
    int *path = alloc_zeroed((size_t)reading->count, sizeof *path);
    bool done = true;
    for (int i = 0; done && i < reading->count; i++)
        done = save_with_forebears(reading, i, path, err);
    free(path);
    return done;
}

bool import_parents(struct import *import, struct err *err)
{
    struct reading reading = {0};
    if (!rows_read(import, parent_columns, PARENT_COLUMN_COUNT, false, &reading.rows, err))
        return false;
    reading.count = (int)reading.rows.csv.row_count;
    reading.entries = alloc_zeroed((size_t)reading.count, sizeof *reading.entries);
    row_names_init(&reading.names, &reading.rows, PARENT_COLUMN_CODE);
    bool done = true;
    for (int i = 0; done && i < reading.count; i++)
        done = read_row(&reading, i, err);
    done = done && save_rows(&reading, err);
    free(reading.entries);
    row_names_done(&reading.names);
    rows_done(&reading.rows);
    return done;
}

bool export_parents(struct ledger *ledger, struct text *out, struct err *err)
{
    struct parent *parents;
    size_t count;
    if (!parent_list(ledger, &parents, &count, err))
        return false;
    export_names(parent_columns, PARENT_COLUMN_COUNT, out);
    csv_end_row(out);
    for (size_t i = 0; i < count; i++) {
        export_fields(parent_columns, PARENT_COLUMN_COUNT, &parents[i], out);
        csv_end_row(out);
    }
    free(parents);
    return true;
}
